"""Bringing cards in, as people send them."""

from recipebox.gather.bring import add_files
from recipebox.gather.sent import GatherError, Sent, read_sent

__all__ = ["GatherError", "Sent", "add_files", "read_sent"]
