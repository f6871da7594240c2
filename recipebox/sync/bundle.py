"""Git bundles: what one laptop leaves at a meeting place, in a format that stock git reads too.

Format: git's documentation, gitformat-bundle, version 2: prerequisites, refs, an empty line, a pack.
"""

import re
import tempfile
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from recipebox.history import History, pack_of_few, written
from recipebox.sync.entries import Bytes, DamagedError
from recipebox.sync.spool import Spool

_SIGN = b"# v2 git bundle\n"
_ID = re.compile(r"[0-9a-f]{40}")
_LAPTOP_REF = re.compile(r"refs/laptops/([0-9a-z]{4,64})/(?:own|also/[0-9a-f]{12})")
_LONGEST_HEAD, _MOST_REFS = 4 << 20, 2_000
_PIECE, _FEW = 1 << 20, 16


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


def read_head(data: Bytes) -> Head:
    """Read the front of a bundle. Raises DamagedError."""
    front = bytes(data[:_LONGEST_HEAD])
    stop = front.find(b"\n\n")
    if not front.startswith(_SIGN) or stop < 0:
        raise DamagedError("is no bundle of changes")
    builds_on, refs = [], {}
    for line in front[len(_SIGN) : stop].decode("utf-8", "replace").split("\n"):
        commit, _, name = line.lstrip("-").partition(" ")
        if not _ID.fullmatch(commit):
            raise DamagedError("is no bundle of changes")
        if line.startswith("-"):
            builds_on.append(commit)
        else:
            refs[name] = commit
    if len(refs) > _MOST_REFS:
        raise DamagedError("names more states than any family has")
    return Head(tuple(builds_on), refs, stop + 2)


@contextmanager
def bundle(history: History, refs: Mapping[str, str], without: Collection[str] = ()) -> Iterator[Bytes]:
    """A bundle of all that leads to the commits in `refs`, without what `without` and all before them hold."""
    lines = [f"-{commit} \n" for commit in sorted(without)]
    lines += [f"{commit} {name}\n" for name, commit in sorted(refs.items())]
    with Spool(history.store.folder) as spool:
        spool.write(b"".join([_SIGN, "".join(lines).encode(), b"\n"]))
        _write_pack(history, list(refs.values()), without, spool)
        yield spool.whole()


@contextmanager
def pack_of(history: History, tips: Collection[str], without: Collection[str]) -> Iterator[Bytes]:
    """A pack of all that leads to `tips`, without what `without` and all before them hold."""
    with Spool(history.store.folder) as spool:
        _write_pack(history, tips, without, spool)
        yield spool.whole()


def _write_pack(history: History, tips: Collection[str], without: Collection[str], spool: Spool) -> None:
    import pygit2

    objects = _objects(history, tips, without)
    if len(objects) <= _FEW:
        odb = history.store.repository.odb
        for part in pack_of_few(((int(kind), data) for kind, data in map(odb.read, objects)), len(objects)):
            spool.write(part)
        return
    builder = pygit2.PackBuilder(history.store.repository)
    builder.set_threads(1)
    for object_id in objects:
        builder.add(pygit2.Oid(hex=object_id))
    with written(history.store.folder), _folder_beside(history) as folder:
        builder.write(folder)
        with next(Path(folder).glob("*.pack")).open("rb") as pack:
            while part := pack.read(_PIECE):
                spool.write(part)


def _folder_beside(history: History) -> tempfile.TemporaryDirectory[str]:
    """A folder under a name that is swept after a kill."""
    return tempfile.TemporaryDirectory(prefix="leaving-", suffix=".tmp", dir=history.store.folder)


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
