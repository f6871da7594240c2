"""Which files travel between laptops, and names every laptop can hold.

Windows: "Naming Files, Paths, and Namespaces" (learn.microsoft.com/windows/win32/fileio/naming-a-file): reserved
characters and device names, no dot or space at the end. A name of 255 bytes (Linux) or UTF-16 units (macOS, Windows).
"""

import hashlib
import re
from collections.abc import Iterable, Sequence
from itertools import count
from unicodedata import category, normalize

LONGEST_NAME = 200
"""Bytes of one name: under 255, with room for what tells copies apart."""
DEEPEST = 32
"""Folders below one another."""
_LEFTOVERS = re.compile(r"~\$.*|.*~|.*\.(?:tmp|part|swp)", re.IGNORECASE | re.DOTALL)
_DEVICE = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])", re.IGNORECASE)
_RESERVED = '<>:"|?*\\'
_KEPT_HERE = ("as-sent",)


_PLAIN_NAME = (
    r"(?!(?i:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:[./]|$))"
    r"[A-Za-z0-9(](?:[A-Za-z0-9 _,'&()+-]{0,110}[A-Za-z0-9)_'+-])?"
)
# Names as nearly all are: for them the answer is plain, and boxes have thousands of them.
_PLAIN = re.compile(rf"(?:{_PLAIN_NAME}/){{0,8}}{_PLAIN_NAME}\.(?:txt|md|jpg|jpeg|png|pdf)")


def carried(path: str) -> bool:
    """Whether a file of the box travels: not hidden, not as-sent/, no leftover of an editor, no way out of the box."""
    if _PLAIN.fullmatch(path):
        return path.partition("/")[0].lower() not in _KEPT_HERE
    names = path.split("/")
    if not path or path.startswith("/") or len(names) > DEEPEST:
        return False
    if any(name in ("", ".", "..") or name.startswith(".") for name in names) or "\0" in path:
        return False
    if folded(names[0]) in _KEPT_HERE or any(_is_git(name) for name in names):
        return False
    return not _LEFTOVERS.fullmatch(names[-1])


def safe_name(path: str) -> str:
    """The path under which every laptop holds a file: itself where Windows, macOS and Linux all can hold it.

    A character or name that one of them cannot hold is replaced, and a mark from the path's hash keeps two such files
    apart: "a:b.txt" -> "a_b (1f2e).txt". `safe_name(safe_name(p)) == safe_name(p)`.
    """
    if _PLAIN.fullmatch(path):
        return path
    names = path.split("/")
    safe = "/".join(_safe_part(name) for name in names)
    return safe if safe == path else marked(safe, hashlib.sha256(_bytes(path)).hexdigest()[:8])


def marked(path: str, mark: str) -> str:
    """The path with a mark before its ending: "pies/x.txt" -> "pies/x (1f2e).txt"."""
    folder, slash, name = path.rpartition("/")
    stem, dot, ending = name.rpartition(".")
    if not stem:
        stem, dot, ending = name, "", ""
    return f"{folder}{slash}{_cut(stem, LONGEST_NAME - len(_bytes(f' ({mark}){dot}{ending}')))} ({mark}){dot}{ending}"


def folded(path: str) -> str:
    """What tells two paths apart on a laptop that knows neither case nor Unicode forms: equal means twins."""
    if path.isascii():
        return path.lower()
    return normalize("NFC", normalize("NFC", path).casefold())


def twins(paths: Iterable[str]) -> list[list[str]]:
    """Groups of paths that a laptop could hold as one only: by case, by Unicode form, or a file named as a folder."""
    groups: dict[str, list[str]] = {}
    paths = sorted(set(paths), key=_bytes)
    for path in paths:
        groups.setdefault(folded(path), []).append(path)
    return [group for group in groups.values() if len(group) > 1]


def apart(paths: Iterable[str]) -> dict[str, str]:
    """Each path with the one under which the merged box holds it: safe, within the box, and no two of them twins.

    Of twins the first in byte order keeps its name; the others get a mark from their own path's hash. A folder keeps
    one spelling, the first in byte order, for all that lies in it; a file that is named as a folder moves aside.
    """
    given = sorted(set(paths), key=_bytes)
    if _all_plain(given):
        return {path: path for path in given}
    safe = {path: safe_name(path) for path in given}
    folders: dict[str, str] = {}
    for path in sorted(safe.values(), key=_bytes):
        names = path.split("/")[:-1]
        for depth in range(1, len(names) + 1):
            folders.setdefault(folded("/".join(names[:depth])), names[depth - 1])
    own = {folded(path): path for path in given}
    taken: dict[str, str] = {}
    for path in sorted(given, key=lambda path: (safe[path] != path, _bytes(path))):
        names = safe[path].split("/")
        spelled = [folders[folded("/".join(names[: at + 1]))] for at in range(len(names) - 1)]
        wanted = "/".join([*spelled, names[-1]])
        if folded(wanted) in folders or folded(wanted) in taken:
            # An earlier merge may have told the same two names apart: the name it gave may stand there already.
            digests = (hashlib.sha256(_bytes(path) + b"\0" * n).hexdigest()[:8] for n in count())
            marks = (marked(wanted, digest) for digest in digests)
            wanted = next(name for name in marks if folded(name) not in folders | taken | own)
        taken[folded(wanted)] = path
        safe[path] = wanted
    return safe


def _all_plain(paths: Sequence[str]) -> bool:
    """Whether all are plain names of which no two could meet on any laptop; nearly every box is like that."""
    if not all(map(_PLAIN.fullmatch, paths)):
        return False
    above = {path.rpartition("/")[0] for path in paths}
    folders = {folder for path in above for folder in _folders_of(path)}
    lower = {path.lower() for path in paths}
    low_folders = {folder.lower() for folder in folders}
    return len(lower) == len(paths) and len(low_folders) == len(folders) and lower.isdisjoint(low_folders)


def _folders_of(path: str) -> list[str]:
    names = path.split("/") if path else []
    return ["/".join(names[:depth]) for depth in range(1, len(names) + 1)]


def _safe_part(name: str) -> str:
    safe = "".join("_" if c in _RESERVED or category(c) in ("Cc", "Cs") else c for c in normalize("NFC", name))
    safe = safe.rstrip(". ") or "_"
    if safe.startswith(" "):
        safe = "_" + safe.lstrip(" ")
    stem = safe.split(".")[0].rstrip(" ")
    if _DEVICE.fullmatch(stem):
        safe = "_" + safe
    if len(_bytes(safe)) > LONGEST_NAME:
        stem, _, ending = safe.rpartition(".")
        ending = ending if stem and len(_bytes(ending)) <= 8 else ""
        stem = stem if ending else safe
        safe = _cut(stem, LONGEST_NAME - 20 - len(_bytes(ending))) + (f".{ending}" if ending else "")
    return safe


def _cut(words: str, size: int) -> str:
    return _bytes(words)[: max(size, 1)].decode("utf-8", "ignore").rstrip(". ") or "_"


def _is_git(name: str) -> bool:
    plain = "".join(c for c in folded(name) if category(c) != "Cf").rstrip(". ").split(":")[0]
    return plain in (".git", "git~1", ".recipebox")


def _bytes(path: str) -> bytes:
    return path.encode("utf-8", "surrogatepass")
