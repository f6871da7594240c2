"""Git bundles: what one laptop leaves at a meeting place, in a format that stock git reads too.

Format: git's documentation, gitformat-bundle, version 2: prerequisites, refs, an empty line, a pack.
"""

import hashlib
import re
import tempfile
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

from recipebox.history import History, written
from recipebox.sync.pack import DamagedError

_SIGN = b"# v2 git bundle\n"
_ID = re.compile(r"[0-9a-f]{40}")
_LAPTOP_REF = re.compile(r"refs/laptops/([0-9a-z]{4,64})/(?:own|also/[0-9a-f]{12})")
_LONGEST_HEAD = 4 << 20


@dataclass(frozen=True, slots=True)
class Head:
    """The front of a bundle: states it builds on, states it names, and where its pack begins."""

    builds_on: tuple[str, ...]
    refs: Mapping[str, str]
    pack_at: int

    def laptops(self) -> list[tuple[str, str]]:
        """The edits that the bundle names: laptop id and commit id. Other refs are for people with stock git."""
        named = ((_LAPTOP_REF.fullmatch(ref), commit) for ref, commit in sorted(self.refs.items()))
        return [(match[1], commit) for match, commit in named if match]


def read_head(data: bytes) -> Head:
    """Read the front of a bundle. Raises DamagedError."""
    stop = data.find(b"\n\n", 0, _LONGEST_HEAD)
    if not data.startswith(_SIGN) or stop < 0:
        raise DamagedError("is no bundle of changes")
    builds_on, refs = [], {}
    for line in data[len(_SIGN) : stop].decode("utf-8", "replace").split("\n"):
        commit, _, name = line.lstrip("-").partition(" ")
        if not _ID.fullmatch(commit):
            raise DamagedError("is no bundle of changes")
        if line.startswith("-"):
            builds_on.append(commit)
        else:
            refs[name] = commit
    return Head(tuple(builds_on), refs, stop + 2)


def write_bundle(history: History, refs: Mapping[str, str], without: Collection[str] = ()) -> bytes:
    """A bundle of all that leads to the commits in `refs`, without what `without` and all before them hold."""
    lines = [f"-{commit} \n" for commit in sorted(without)]
    lines += [f"{commit} {name}\n" for name, commit in sorted(refs.items())]
    return b"".join([_SIGN, "".join(lines).encode(), b"\n", pack_of(history, list(refs.values()), without)])


def pack_of(history: History, tips: Collection[str], without: Collection[str]) -> bytes:
    """A pack of all that leads to `tips`, without what `without` and all before them hold."""
    import pygit2

    builder = pygit2.PackBuilder(history.store.repository)
    builder.set_threads(1)
    for object_id in _objects(history, tips, without):
        builder.add(pygit2.Oid(hex=object_id))
    if not len(builder):
        empty = b"PACK\0\0\0\2\0\0\0\0"
        return empty + hashlib.sha1(empty, usedforsecurity=False).digest()
    with written(history.store.folder), tempfile.TemporaryDirectory(dir=history.store.folder) as folder:
        builder.write(folder)
        return next(Path(folder).glob("*.pack")).read_bytes()


def _objects(history: History, tips: Collection[str], without: Collection[str]) -> list[str]:
    """Commits, folders and files that are new since `without`, each once."""
    new = history.graph.ancestors(tips) - history.graph.ancestors(without)
    found: dict[str, None] = {}
    for commit_id in history.graph.oldest_first(new):
        commit = history.commit(commit_id)
        found[commit_id] = None
        _new_in(history, commit.tree, [history.commit(parent).tree for parent in commit.parents], found)
    return list(found)


def _new_in(history: History, tree: str, known: Collection[str], found: dict[str, None]) -> None:
    if tree in found or tree in known:
        return
    found[tree] = None
    folders = [dict(history.store.folder_ids(other)) for other in known]
    for name, (is_folder, entry_id) in history.store.folder_ids(tree).items():
        there = [folder[name] for folder in folders if name in folder]
        if any(entry_id == other for _, other in there) or entry_id in found:
            continue
        if is_folder:
            _new_in(history, entry_id, [other for other_is_folder, other in there if other_is_folder], found)
        else:
            found[entry_id] = None
