"""A git server on git's own port (git://): no names, no passwords, mostly for reading in a house's own network."""

import socket
from types import TracebackType
from typing import Self

from recipebox.sync.address import Address, NotThereError
from recipebox.sync.wire import BrokenOffError, Read

_PORT = 9418
_CONNECT, _WAIT = 15.0, 30.0


class PortChannel:
    """A talk over git's own port."""

    def __init__(self, address: Address, service: str) -> None:
        self._address = address
        self._service = service
        self._socket: socket.socket | None = None

    def begin(self) -> Read:
        """Connect. Raises NotThereError."""
        address = self._address
        host = f"[{address.host}]" if ":" in address.host else address.host
        named = host if address.port is None else f"{host}:{address.port}"
        try:
            self._socket = socket.create_connection((address.host, address.port or _PORT), _CONNECT)
            self._socket.settimeout(_WAIT)
        except OSError as error:
            why = error.strerror or ("nobody answers in time" if isinstance(error, TimeoutError) else str(error))
            raise NotThereError(f"cannot be reached ({why.lower()})", address.typed) from error
        request = f"{self._service} {address.path}\0host={named}\0".encode()
        return self.ask(b"%04x" % (len(request) + 4) + request)

    def ask(self, words: bytes) -> Read:
        """Send words. Raises PlaceError."""
        try:
            if self._socket is None:
                raise BrokenOffError
            self._socket.sendall(words)
        except OSError as error:
            raise BrokenOffError from error
        return self._read

    def _read(self, size: int) -> bytes:
        parts = []
        while size and self._socket is not None:
            try:
                part = self._socket.recv(min(size, 1 << 16))
            except TimeoutError as error:
                raise NotThereError("does not answer", self._address.typed) from error
            except OSError as error:
                raise BrokenOffError from error
            if not part:
                break
            parts.append(part)
            size -= len(part)
        return b"".join(parts)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        if self._socket is not None:
            self._socket.close()
