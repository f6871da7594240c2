"""Ways to a git server: ssh by the user's own ssh command, git's own port, and the web."""

from contextlib import AbstractContextManager
from typing import Protocol

from recipebox.sync.address import Address
from recipebox.sync.wire import Read

READING, WRITING = "git-upload-pack", "git-receive-pack"


class Channel(AbstractContextManager["Channel"], Protocol):
    """A talk with one service of a server."""

    def begin(self) -> Read:
        """Open the talk; what the server says first is read from the result. Raises PlaceError."""

    def ask(self, words: bytes) -> Read:
        """Say something, once; the answer is read from the result. Raises PlaceError."""


def open_channel(address: Address, service: str, at_terminal: bool) -> Channel:
    """A talk with a service, not begun yet. Off a terminal nothing is asked of the user."""
    if address.scheme == "ssh":
        from recipebox.sync.by_ssh import SshChannel

        return SshChannel(address, service, at_terminal)
    if address.scheme == "git":
        from recipebox.sync.by_port import PortChannel

        return PortChannel(address, service)
    from recipebox.sync.by_web import WebChannel

    return WebChannel(address, service, at_terminal)
