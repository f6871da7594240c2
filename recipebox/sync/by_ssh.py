"""A git server over ssh, by the user's own ssh command, as git itself does it: its keys, agent, config and known hosts.

`GIT_SSH_COMMAND` and `GIT_SSH` are heeded. The library that history is kept with could speak ssh too, but knows
neither the user's ssh config nor keys on a token. On a terminal ssh itself shows an unknown host's key and asks.
"""

import os
import re
import shlex
import subprocess
import tempfile
import threading
from contextlib import suppress
from types import TracebackType
from typing import IO, Self

from recipebox.sync.address import Address, NotThereError, PersonNeededError, PlaceError
from recipebox.sync.wire import BrokenOffError, Read

_WAIT = 60.0
_LIVELY = ["-o", "ConnectTimeout=15", "-o", "ServerAliveInterval=15", "-o", "ServerAliveCountMax=3"]
_ASKING = ["-o", "StrictHostKeyChecking=ask"]
_SILENT = ["-o", "StrictHostKeyChecking=yes", "-o", "BatchMode=yes"]
_KEY = re.compile(r"Server host key: (\S+ \S+)")


class SshChannel:
    """A talk over ssh."""

    def __init__(self, address: Address, service: str, at_terminal: bool) -> None:
        self._address = address
        self._service = service
        self._at_terminal = at_terminal
        self._process: subprocess.Popen[bytes] | None = None
        self._said: IO[bytes] | None = None

    def begin(self) -> Read:
        """Start ssh. Raises PlaceError."""
        self._said = tempfile.TemporaryFile()  # noqa: SIM115 - closed with the channel; a pipe could fill and block
        command = [*_ssh(), *_LIVELY, *(_ASKING if self._at_terminal else _SILENT), *self._where()]
        command.append(f"{self._service} {_quoted(self._address.path)}")
        try:
            self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=self._said)
        except OSError as error:
            raise PlaceError(
                "needs the ssh command, which is not on this computer", self._address.typed, "install OpenSSH's client"
            ) from error
        return self._read

    def ask(self, words: bytes) -> Read:
        """Send words. Raises PlaceError."""
        if self._process is None or self._process.stdin is None:
            raise BrokenOffError
        try:
            self._process.stdin.write(words)
            self._process.stdin.flush()
        except OSError as error:
            raise self._broken() from error
        return self._read

    def _read(self, size: int) -> bytes:
        process = self._process
        if process is None or process.stdout is None:
            raise BrokenOffError
        parts = []
        while size:
            # At a terminal ssh may be waiting for the user, who may take their time.
            timer = threading.Timer(_WAIT * (10 if self._at_terminal else 1), process.kill)
            timer.daemon = True
            timer.start()
            try:
                part = os.read(process.stdout.fileno(), min(size, 1 << 16))
            finally:
                timer.cancel()
            if not part:
                break
            parts.append(part)
            size -= len(part)
        if size:
            raise self._broken()
        return b"".join(parts)

    def _broken(self) -> PlaceError:
        """Why ssh ended, from what it said, for a person."""
        where = self._address.typed
        if self._process is not None:
            with suppress(subprocess.TimeoutExpired):
                self._process.wait(5)
        said = ""
        if self._said is not None:
            self._said.seek(0)
            said = self._said.read(20_000).decode("utf-8", "replace")
        if "IDENTIFICATION HAS CHANGED" in said:
            return PlaceError(
                "shows another key than before, as somebody in between would",
                where,
                "ask whoever runs the server before going on",
            )
        if "Host key verification failed" in said or "No host key is known" in said:
            return PersonNeededError(
                f"is not known to this computer yet; its key is {self._key()}",
                where,
                "ask whoever runs it whether that is right, then sync at a terminal and answer yes",
            )
        if "Permission denied" in said:
            return PlaceError("does not let you in", where, "give whoever runs it your public ssh key")
        if re.search(r"not resolve|refused|timed out|no route|unreachable|reset by", said, re.IGNORECASE):
            return NotThereError(f"cannot be reached ({_last(said)})", where)
        if re.search(r"not appear to be a git|no such|not found|not exist", said, re.IGNORECASE):
            return PlaceError("keeps no repository under that path", where, "make an empty one there: git init --bare")
        return PlaceError(f"ssh ended ({_last(said)})" if said.strip() else "the server broke off in the middle", where)

    def _key(self) -> str:
        """The host's key, as ssh itself tells it when asked to tell more."""
        with suppress(OSError, subprocess.TimeoutExpired):
            told = subprocess.run(
                [*_ssh(), "-v", *_LIVELY, *_SILENT, *self._where(), "true"],
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=30,
                check=False,
            ).stderr.decode("utf-8", "replace")
            if found := _KEY.search(told):
                return found[1]
        return "not told"

    def _where(self) -> list[str]:
        address = self._address
        port = [] if address.port is None else ["-p", str(address.port)]
        return [*port, f"{address.user}@{address.host}" if address.user else address.host]

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        process = self._process
        if process is not None:
            for pipe in (process.stdin, process.stdout):
                if pipe is not None:
                    with suppress(OSError):
                        pipe.close()
            try:
                process.wait(2)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        if self._said is not None:
            self._said.close()


def _ssh() -> list[str]:
    if command := os.environ.get("GIT_SSH_COMMAND"):
        return shlex.split(command)
    return [os.environ.get("GIT_SSH") or "ssh"]


def _quoted(path: str) -> str:
    """The path in quotes for the server's shell, as git writes it."""
    return "'" + path.replace("'", "'\\''").replace("!", "'\\!'") + "'"


def _last(said: str) -> str:
    lines = [" ".join(line.split()) for line in said.splitlines() if line.strip()]
    return lines[-1][:200] if lines else "it says nothing"
