"""A git server on the web (https, http), with names and passwords from git's credential helpers only."""

import base64
import os
import shutil
import ssl
import subprocess
import urllib.error
import urllib.request
from contextlib import suppress
from http.client import HTTPException, HTTPMessage, HTTPResponse
from pathlib import Path
from types import TracebackType
from typing import IO, Self
from urllib.parse import urlsplit

from recipebox.sync.address import Address, NotThereError, PersonNeededError, PlaceError
from recipebox.sync.wire import BrokenOffError, Read, skip_service

_GREETED, _WAIT = 20.0, 60.0


class WebChannel:
    """A talk over the web: a request for the greeting, and one for each thing asked."""

    def __init__(self, address: Address, service: str, at_terminal: bool) -> None:
        self._address = address
        self._service = service
        self._at_terminal = at_terminal
        host = f"[{address.host}]" if ":" in address.host else address.host
        port = "" if address.port is None else f":{address.port}"
        self._base = f"{address.scheme}://{host}{port}{address.path.rstrip('/')}"
        self._login: dict[str, str] | None = None
        self._answer: HTTPResponse | None = None
        self._trusted: ssl.SSLContext | None = None

    def begin(self) -> Read:
        """Ask for the greeting. Raises PlaceError."""
        ending = f"/info/refs?service={self._service}"
        answer = self._request(self._base + ending, None)
        if answer.headers.get("Content-Type") != f"application/x-{self._service}-advertisement":
            raise PlaceError("is no git server", self._address.typed, "look at the address again")
        if answer.url.endswith(ending):  # where the server sent us on to
            self._base = answer.url[: -len(ending)]
        skip_service(self._read)
        return self._read

    def ask(self, words: bytes) -> Read:
        """Ask. Raises PlaceError."""
        self._request(f"{self._base}/{self._service}", words)
        return self._read

    def _request(self, url: str, words: bytes | None) -> HTTPResponse:
        self._close()
        try:
            answer = self._open(url, words)
        except urllib.error.HTTPError as error:
            if error.code != 401:
                raise self._refused(error) from error
            self._log_in(url)
            try:
                answer = self._open(url, words)
            except urllib.error.HTTPError as again:
                if again.code == 401:
                    self._tell_helper("reject")
                raise self._refused(again) from again
            self._tell_helper("approve")
        self._answer = answer
        return answer

    def _open(self, url: str, words: bytes | None) -> HTTPResponse:
        headers = {"User-Agent": "git/recipebox", "Accept": "*/*"}
        if words is not None:
            headers["Content-Type"] = f"application/x-{self._service}-request"
            headers["Accept"] = f"application/x-{self._service}-result"
        request = urllib.request.Request(url, data=words, headers=headers)
        if self._login:
            pair = f"{self._login['username']}:{self._login['password']}".encode()
            # Not sent on to another server that this one may point to.
            request.add_unredirected_header("Authorization", f"Basic {base64.b64encode(pair).decode()}")
        trusting = [] if self._trusted is None else [urllib.request.HTTPSHandler(context=self._trusted)]
        wait = _GREETED if words is None else _WAIT
        try:
            found = urllib.request.build_opener(_Careful, *trusting).open(request, timeout=wait)
        except urllib.error.HTTPError:
            raise
        except urllib.error.URLError as error:
            if isinstance(error.reason, ssl.SSLCertVerificationError) and self._trusted is None:
                self._trusted = _trusted_by_git(self._base)
                if self._trusted is not None:
                    return self._open(url, words)
            raise self._unreachable(error.reason) from error
        except (OSError, HTTPException) as error:
            raise self._unreachable(error) from error
        return found  # type: ignore[no-any-return]  # typeshed gives open() no type

    def _unreachable(self, why: object) -> PlaceError:
        where = self._address.typed
        if isinstance(why, ssl.SSLCertVerificationError):
            return PlaceError(
                f"its certificate cannot be trusted ({why.verify_message})",
                where,
                "if whoever runs it gave you its certificate: git config --global http.sslCAInfo FILE",
            )
        words = (why.strerror or str(why)) if isinstance(why, OSError) else str(why)
        return NotThereError(f"cannot be reached ({' '.join(words.split()).lower()})", where)

    def _refused(self, error: urllib.error.HTTPError) -> PlaceError:
        where = self._address.typed
        if error.code in (401, 403):
            return PlaceError("does not let you in", where, "look at the name and password that git keeps for it")
        if error.code == 404:
            return PlaceError("keeps no repository under that path", where, "make an empty one there first")
        if error.code == 413:
            return PlaceError("does not take so much at once", where, "ask whoever runs it to allow more")
        if error.code >= 500:
            return NotThereError(f"is in trouble itself ({error.code} {error.reason})", where)
        return PlaceError(f"does not answer as a git server does ({error.code} {error.reason})", where)

    def _log_in(self, url: str) -> None:
        """Ask git's credential helpers for name and password; at a terminal git itself asks the user."""
        parts = urlsplit(url)
        asked = {"protocol": parts.scheme, "host": parts.netloc, "path": urlsplit(self._base).path.lstrip("/")}
        if self._address.user:
            asked["username"] = self._address.user
        login = _git_credential("fill", asked, self._at_terminal)
        if not login.get("username") or "password" not in login:
            raise PersonNeededError(
                "wants a name and password, and git has none for it",
                self._address.typed,
                "sync at a terminal, or set up a git credential helper",
            )
        self._login = login

    def _tell_helper(self, word: str) -> None:
        if self._login:
            _git_credential(word, self._login, self._at_terminal)

    def _read(self, size: int) -> bytes:
        try:
            return b"" if self._answer is None else self._answer.read(size)
        except TimeoutError as error:
            raise NotThereError("does not answer", self._address.typed) from error
        except (OSError, HTTPException) as error:
            raise BrokenOffError from error

    def _close(self) -> None:
        if self._answer is not None:
            self._answer.close()
            self._answer = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._close()


class _Careful(urllib.request.HTTPRedirectHandler):
    """Follows a server that points elsewhere only when first greeted, and never from https to http."""

    def redirect_request(
        self, req: urllib.request.Request, fp: IO[bytes], code: int, msg: str, headers: HTTPMessage, newurl: str
    ) -> urllib.request.Request | None:
        parts = urlsplit(newurl)
        if req.data is not None or parts.scheme not in ("https", urlsplit(req.full_url).scheme):
            return None
        return super().redirect_request(req, fp, code, msg, headers, newurl)


def _trusted_by_git(address: str) -> ssl.SSLContext | None:
    """The certificates that the user told git to trust there, beside the system's; None if there are none.

    Settings: git's documentation, git-config, http.sslCAInfo and GIT_SSL_CAINFO.
    """
    named = os.environ.get("GIT_SSL_CAINFO")
    git = shutil.which("git")
    if not named and git is not None:
        asked = [git, "config", "--type=path", "--get-urlmatch", "http.sslCAInfo", address]
        with suppress(OSError, RuntimeError, subprocess.TimeoutExpired):
            environment = {**os.environ, "GIT_DIR": os.devnull}
            done = subprocess.run(asked, capture_output=True, env=environment, cwd=Path.home(), timeout=20, check=False)
            named = os.fsdecode(done.stdout).strip()
    if not named:
        return None
    context = ssl.create_default_context()
    try:
        context.load_verify_locations(named)
    except OSError:  # no such file, or no certificate in it
        return None
    return context


def _git_credential(word: str, facts: dict[str, str], at_terminal: bool) -> dict[str, str]:
    git = shutil.which("git")
    if git is None:
        return {}
    environment = dict(os.environ)
    # In a folder that is no repository of anybody's, so that only the user's own settings count.
    environment["GIT_DIR"] = os.devnull
    if not at_terminal:
        environment.update(GIT_TERMINAL_PROMPT="0", GIT_ASKPASS="")
    told = "".join(f"{key}={value}\n" for key, value in facts.items() if "\n" not in value) + "\n"
    try:
        done = subprocess.run(
            [git, "credential", word],
            input=told.encode(),
            stdout=subprocess.PIPE,
            stderr=None if at_terminal else subprocess.DEVNULL,
            env=environment,
            cwd=Path.home(),
            timeout=None if at_terminal else 60,
            check=False,
        )
    except (OSError, RuntimeError, subprocess.TimeoutExpired):
        return {}
    lines = (line.partition("=") for line in done.stdout.decode("utf-8", "replace").splitlines())
    return {key: value for key, sign, value in lines if sign}
