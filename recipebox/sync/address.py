"""Addresses of git servers, as people type them."""

import re
from dataclasses import dataclass
from urllib.parse import unquote, urlsplit

from recipebox.box import BoxError

_SCHEMES = {"ssh": 22, "git+ssh": 22, "ssh+git": 22, "git": 9418, "http": 80, "https": 443}
_SHORT = re.compile(r"(?:(?P<user>[^/@:\s]+)@)(?P<host>\[[0-9a-fA-F:.]+\]|[^/@:\s]+):(?P<path>.+)", re.DOTALL)


class PlaceError(BoxError):
    """A meeting place could not be read or written."""


class NotThereError(PlaceError):
    """A meeting place cannot be reached now: no network, or nobody answers."""


class PersonNeededError(PlaceError):
    """A server asks something that only a person at a terminal can answer."""


@dataclass(frozen=True, slots=True)
class Address:
    """Where a server is, and the path of the box there. `typed` is how it is remembered; `port` None: the usual one."""

    typed: str
    scheme: str
    user: str | None
    host: str
    port: int | None
    path: str


def is_address(place: str) -> bool:
    """Whether a place is an address, by its form alone; everything else is a folder."""
    return "://" in place or _SHORT.fullmatch(place) is not None


def read_address(place: str) -> Address:
    """Take an address apart. Raises PlaceError for an unknown kind, or one that hides an option or a password."""
    if any(not c.isprintable() for c in place):
        raise PlaceError("is no address", place)
    short = None if "://" in place else _SHORT.fullmatch(place)
    if short:
        found = Address(place, "ssh", short["user"], short["host"].strip("[]"), None, short["path"])
    else:
        found = _from_url(place)
    if not found.host or not found.path.strip("/"):
        raise PlaceError(
            "is no address of a box on a server", place, "write ssh://name@server/path or https://server/path"
        )
    # What begins with a dash would be read as an option by the program it is handed to.
    if any(part.startswith("-") for part in (found.host, found.user or "", found.path)):
        raise PlaceError("is no address", place)
    return found


def _from_url(place: str) -> Address:
    try:
        parts = urlsplit(place)
        port = parts.port
    except ValueError:
        raise PlaceError("is no address", place) from None
    scheme = parts.scheme.lower()
    if scheme not in _SCHEMES:
        known = ", ".join(name for name in _SCHEMES if "+" not in name)
        raise PlaceError("is an address of a kind not known here", place, f"use one of {known}, or a folder")
    if parts.password is not None:
        raise PlaceError(
            "has a password in it",
            place.replace(parts.password, "..."),
            "leave it out: git's credential helper keeps it",
        )
    path = parts.path
    if scheme.endswith("ssh"):
        path = unquote(path)
        path = path[1:] if path.startswith("/~") else path
    elif scheme == "git":
        path = unquote(path)
    elif parts.query or parts.fragment:
        raise PlaceError("has a question or mark at its end", place, "write only the address")
    user = None if parts.username is None else unquote(parts.username)
    return Address(place, "ssh" if scheme.endswith("ssh") else scheme, user, parts.hostname or "", port, path)
