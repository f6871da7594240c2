"""Published tables as CSV with their sources, and the one loader that reads them."""

from recipebox.tables.load import TableError, rows

__all__ = ["TableError", "rows"]
