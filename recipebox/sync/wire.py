"""What is said to a git server: packet lines, refs, asking for a pack and sending one.

Protocol: git's documentation, gitprotocol-pack and gitprotocol-common, version 0. Everything that comes is bounded.
"""

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from recipebox.box.errors import one_line
from recipebox.sync.address import PlaceError
from recipebox.sync.entries import Bytes

Read = Callable[[int], bytes]
"""Gives that many bytes, fewer only at the end."""

NOTHING = "0" * 40
_ID = re.compile(r"[0-9a-f]{40}")
_MOST_REFS = 20_000
_MOST_WORDS, _MOST_ASIDE = 4 << 20, 1 << 20  # bytes of refs and reports, and of anything else but packs
_AGENT = "agent=recipebox"


class BrokenOffError(PlaceError):
    """The server stopped in the middle, or says what no git server says."""

    def __init__(self) -> None:
        super().__init__("the server broke off in the middle")


class SaysNoError(PlaceError):
    """The server says itself that it cannot or will not do what was asked."""

    def __init__(self, said: bytes) -> None:
        super().__init__(
            "the server says: " + one_line(" ".join(said.decode("utf-8", "replace").strip("\0 ").split())[:200])
        )


@dataclass(frozen=True, slots=True)
class Greeting:
    """What a server has: refs with the commits they name, and what it is able to do."""

    refs: Mapping[str, str]
    able: frozenset[str]


def read_greeting(read: Read) -> Greeting:
    """The server's first words. Raises PlaceError with what it says if it refuses."""
    refs: dict[str, str] = {}
    able: frozenset[str] = frozenset()
    size = 0
    while (line := _packet(read)) is not None:
        size += len(line) + 4
        if line.startswith(b"ERR "):
            raise SaysNoError(line[4:])
        words, _, abilities = line.partition(b"\0")
        if abilities:
            able = frozenset(abilities.decode("utf-8", "replace").split())
        object_id, _, name = words.decode("utf-8", "replace").strip().partition(" ")
        if name.startswith("refs/") and _ID.fullmatch(object_id) and not name.endswith("^{}"):
            refs[name] = object_id
        if len(refs) > _MOST_REFS or size > _MOST_WORDS:
            raise PlaceError("has more branches than any box has")
    if any(word.startswith("object-format=") and word != "object-format=sha1" for word in able):
        raise PlaceError("keeps a newer kind of git repository than is known here")
    return Greeting(refs, able)


def ask_for(wants: Collection[str], haves: Sequence[str], able: Collection[str]) -> bytes:
    """Asks for a pack of all that leads to `wants` and is not known from `haves`. Raises PlaceError."""
    if "side-band-64k" not in able:
        raise PlaceError("speaks an older git than is known here")
    said = [word for word in ("side-band-64k", "ofs-delta", "no-progress") if word in able]
    lines = [f"want {want}" for want in sorted(wants)]
    lines[0] += " " + " ".join([*said, _AGENT])
    asked = [_line(line) for line in lines] + [b"0000"]
    return b"".join([*asked, *(_line(f"have {have}") for have in haves), _line("done")])


def read_pack(read: Read, take: Callable[[bytes], None]) -> None:
    """Hands the pack that a server sends in answer to `take`, part by part. Raises PlaceError."""
    began = False
    besides = 0
    while (line := _packet(read)) is not None:
        if line[:1] == b"\1":
            began = True
            take(line[1:])
            continue
        besides += len(line) + 4
        if besides > _MOST_ASIDE:
            raise BrokenOffError
        if line.startswith(b"ERR "):
            raise SaysNoError(line[4:])
        if line[:1] == b"\3":
            raise SaysNoError(line[1:])
        if not began and not line.startswith((b"NAK", b"ACK ", b"\2")):
            raise BrokenOffError


def send(commands: Mapping[str, tuple[str | None, str]], pack: Bytes) -> bytes:
    """Asks to let refs name other commits (ref: old, new), with a pack of what is new."""
    lines = [f"{old or NOTHING} {new} {name}" for name, (old, new) in sorted(commands.items())]
    lines[0] += f"\0 report-status {_AGENT}"
    return b"".join([*map(_line, lines), b"0000", pack])


def read_report(read: Read) -> dict[str, str]:
    """The refs that a server did not change, with its reasons. Raises PlaceError if it took nothing."""
    refused: dict[str, str] = {}
    size = 0
    while (line := _packet(read)) is not None:
        size += len(line) + 4
        if size > _MOST_WORDS:
            raise BrokenOffError
        word, _, rest = line.decode("utf-8", "replace").strip().partition(" ")
        if word == "unpack" and rest != "ok":
            raise PlaceError(f"the server could not store the changes ({one_line(rest)[:200]})")
        if word == "ERR":
            raise SaysNoError(rest.encode())
        if word == "ng":
            name, _, why = rest.partition(" ")
            refused[name] = why
    return refused


def skip_service(read: Read) -> None:
    """Pass over the line that a server on the web begins with. Raises PlaceError if it is not there."""
    line = _packet(read)
    if line is None or not line.startswith(b"# service="):
        raise BrokenOffError
    _packet(read)


def _packet(read: Read) -> bytes | None:
    head = read(4)
    try:
        size = int(head, 16) if len(head) == 4 else -1
    except ValueError:
        size = -1
    if size in (0, 1, 2):
        return None
    if size < 4:
        raise BrokenOffError
    data = read(size - 4)
    if len(data) < size - 4:
        raise BrokenOffError
    return data


def _line(words: str) -> bytes:
    data = words.encode() + b"\n"
    return b"%04x" % (len(data) + 4) + data
