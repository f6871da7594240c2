"""A peer that means harm, or is broken: whatever it leaves, nothing outside the box is touched, memory and time stay
bounded, one line says whose changes are not taken and why, the others are met, and its next good state is taken.

The peer is made with git plumbing of its own (`hostile.py`). All hostile peers and a good one meet one laptop at once;
that laptop syncs in a child process that may have so much memory and no more. With RECIPEBOX_LONG=1 the big ones come
in full size (a blob of 1 GB, 200,000 files).
"""

import contextlib
import json
import os
import random
import shutil
import socket
import socketserver
import subprocess
import sys
import threading
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.sync import hostile
from tests.sync.hostile import BLOB, CARD, FILE, FOLDER, LINK, MODULE, OFFSET_DELTA, REF_DELTA, TAG, TREE, Peer

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="limits of a child process are set as on Unix")

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
HUGE = 1 << 30 if LONG else 40 << 20
MANY_FILES = 200_000 if LONG else 100_001
MANY_OBJECTS = 600_000 if LONG else 60_000
MEMORY = 640 << 20  # of which Python with all rooms takes about 100
SECONDS = 900

CHILD = """
import json, resource, sys
root, place, out, memory, seconds = sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4]), int(sys.argv[5])
resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
from pathlib import Path
from recipebox.box import find
from recipebox.sync import meet, outcome_data
said = []
outcome = meet(find(Path(root)), place, say=said.append)
peak = resource.getrusage(resource.RUSAGE_SELF)
data = {**outcome_data(outcome), "exit": outcome.exit_code, "said": said, "seconds": peak.ru_utime + peak.ru_stime}
Path(out).write_text(json.dumps(data))
"""


@dataclass(frozen=True)
class Case:
    """A hostile peer: how it is made, and what must come of it: a word of the reason, or the files that are taken."""

    make: Callable[[Peer], str]
    refused: str | None = None
    taken: tuple[str, ...] = ()


CASES: dict[str, Case] = {}


def case(name: str, refused: str | None = None, taken: tuple[str, ...] = ()) -> Callable[[Any], Any]:
    def note(make: Callable[[Peer], str]) -> Callable[[Peer], str]:
        CASES[name] = Case(make, refused, taken)
        return make

    return note


def with_names(*names: bytes, mode: bytes = FILE) -> Callable[[Peer], str]:
    return lambda peer: peer.adds(*((mode, name, peer.blob(CARD + b"%d" % n)) for n, name in enumerate(names)))


def within(folder: bytes) -> Callable[[Peer], str]:
    """A folder of this name with a card, a note of the box and a hook in it."""

    def make(peer: Peer) -> str:
        inner = [(FILE, b"here.txt", peer.blob(b"box: x\n")), (FILE, b"jam.txt", peer.blob())]
        hooks = peer.tree([(b"100755", b"post-checkout", peer.blob(b"#!/bin/sh\ntouch /tmp/harm\n"))])
        return peer.adds((FOLDER, folder, peer.tree([*inner, (FOLDER, b"hooks", hooks)])))

    return make


# Names: what may not be carried is left out, what some laptop cannot hold gets a safe name; all else is taken.
case("0upwards", taken=("good 0.txt",))(
    with_names(b"../harm.txt", b"../../harm.txt", b"a/../../harm.txt", b"..", b".", b"good 0.txt")
)
case("0absolute", taken=("good 1.txt",))(with_names(b"/tmp/harm.txt", b"//tmp/harm.txt", b"good 1.txt"))
case("0backslash", taken=())(with_names(b"..\\harm.txt", b"C:\\harm.txt", b"\\\\server\\harm.txt"))
for number, folder in enumerate((b".recipebox", b".RecipeBox", b".git", b".GIT", b"git~1", b".g\xe2\x80\x8cit", b"..")):
    case(f"0folder{number}")(within(folder))
case("0links")(with_names(b"pies link.txt", b"family", mode=LINK))
case("0modules")(with_names(b"module", mode=MODULE))
case("0twins")(with_names(b"Twin Pie.txt", b"twin pie.txt", b"TWIN PIE.TXT"))
case("0forms")(with_names(*(unicodedata.normalize(form, "crème twin.txt").encode() for form in ("NFC", "NFD"))))
case("0devices")(with_names(b"CON.txt", b"nul", b"aux.md", b"COM1.txt", b"con .txt"))
case("0signs")(with_names(b"a:b.txt", b"a?.txt", b"a*.txt", b'a".txt', b"a|b.txt", b"a<b>.txt"))
case("0ends")(with_names(b"dots.txt...", b"blank.txt ", b" before.txt", b"...", b"   "))
case("0control")(with_names(b"bell\x07.txt", b"line\nbreak.txt", b"\x1b[2Jclear.txt", "\u202egnp.txt".encode()))
case("0notext")(with_names(b"\xff\xfe.txt", b"n" * 5_000 + b".txt"))
case("0hidden", taken=("good 2.txt",))(with_names(b".bashrc", b"~$x.txt", b"x.swp", b"good 2.txt"))


@case("0kept-here", taken=("good 3.txt",))
def kept_here(peer: Peer) -> str:
    inner = peer.tree([(FILE, b"mail.txt", peer.blob(b"Dear all"))])
    return peer.adds((FOLDER, b"as-sent", inner), (FOLDER, b"As-Sent", inner), (FILE, b"good 3.txt", peer.blob()))


@case("0doubled")
def doubled(peer: Peer) -> str:
    """A file, a folder and a link of one name, out of order."""
    inner = peer.tree([(FILE, b"in.txt", peer.blob(CARD + b"in"))])
    one, two = peer.blob(CARD + b"1"), peer.blob(b"/etc")
    return peer.adds(
        (FILE, b"zz twin", one), (FOLDER, b"zz twin", inner), (LINK, b"zz twin", two), (FILE, b"aa last.txt", one)
    )


@case("0clock", taken=("good 4.txt",))
def clock(peer: Peer) -> str:
    return peer.adds((FILE, b"good 4.txt", peer.blob()), author="Ilse <ilse> 99999999999999999 +9999")


@case("0before-all", taken=("good 5.txt",))
def before_all(peer: Peer) -> str:
    return peer.adds((FILE, b"good 5.txt", peer.blob()), author="Ilse <ilse> -99999999999 -0000")


@case("0terminal", taken=("good 6.txt",))
def terminal(peer: Peer) -> str:
    """A name that would clear the terminal, or fill it."""
    named = {"id": peer.laptop, "name": "\x1b[2J\nkitchen " + "x" * 100_000}
    return peer.adds((FILE, b"good 6.txt", peer.blob()), facts={"laptop": named})


@case("0deep-note", taken=("good 7.txt",))
def deep_note(peer: Peer) -> str:
    facts = "[" * 100_000 + "]" * 100_000
    return peer.adds((FILE, b"good 7.txt", peer.blob()), message=f"Edited\n\n\nrecipebox:\n{facts}\n")


@case("0moves", taken=("good 8.txt",))
def moves(peer: Peer) -> str:
    """Moves that lead out of the box, in rings, and to one place."""
    said = [["pies/leek.txt", "../harm.txt"], ["a", "b"], ["b", "a"], ["a", "a"]]
    said += [[f"{n}", "good 8.txt"] for n in range(20_000)]
    return peer.adds((FILE, b"good 8.txt", peer.blob()), facts={"moves": said})


# Sizes.


@case("1deep", refused="32 deep")
def deep(peer: Peer) -> str:
    inner = peer.tree([(FILE, b"a.txt", peer.blob())])
    for _ in range(10_000):
        inner = peer.tree([(FOLDER, b"d", inner)])
    return peer.adds((FOLDER, b"deep", inner))


@case("1huge", refused="larger than may be carried")
def huge(peer: Peer) -> str:
    return peer.adds((FILE, b"huge.jpg", peer.blob(bytes(HUGE))))


@case("1large-card", refused="card.txt is larger than may be carried")
def large_card(peer: Peer) -> str:
    return peer.adds((FILE, b"card.txt", peer.blob(CARD * 20_000)))


@case("1many", refused="more than 100,000 files")
def many(peer: Peer) -> str:
    blob = peer.blob()
    return peer.adds((FOLDER, b"many", peer.tree([(FILE, b"%06d.txt" % n, blob) for n in range(MANY_FILES)])))


@case("1shared", refused="more than 100,000 files")
def shared(peer: Peer) -> str:
    """Ten folders in each of ten, ten times over: ten thousand million files out of eleven objects."""
    inner = peer.tree([(FILE, b"%d.txt" % n, peer.blob()) for n in range(10)])
    for _ in range(10):
        inner = peer.tree([(FOLDER, b"%d" % n, inner) for n in range(10)])
    return peer.adds((FOLDER, b"shared", inner))


@case("1long-note", refused="longer notes")
def long_note(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.blob()), facts={"why": "x" * (HUGE if HUGE < 30 << 20 else 20 << 20)})


# States that are none.


@case("2no-tree", refused="damaged")
def no_tree(peer: Peer) -> str:
    return peer.commit("", head=f"parent {peer.base}\nauthor x <x> 1 +0000\ncommitter x <x> 2 +0000")


@case("2no-author", refused="damaged")
def no_author(peer: Peer) -> str:
    return peer.commit("", head=f"tree {peer.tree(peer.base_entries)}\nparent {peer.base}\ncommitter x <x> 2 +0000")


@case("2odd-author", refused="damaged")
def odd_author(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.blob()), author="nobody at all")


@case("2step", refused="not numbered")
def step(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.blob()), step=9_999_999_999)


@case("2no-parent", refused="missing")
def no_parent(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.blob()), parents=["1" * 40])


@case("2parent-is-file", refused="missing")
def parent_is_file(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.blob()), parents=[peer.blob()])


@case("2tree-is-file", refused="missing")
def tree_is_file(peer: Peer) -> str:
    return peer.commit(peer.blob())


@case("2file-is-tree", refused="missing")
def file_is_tree(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", peer.tree([])))


@case("2no-file", refused="missing")
def no_file(peer: Peer) -> str:
    return peer.adds((FILE, b"a.txt", "2" * 40))


@case("2no-folder", refused="missing")
def no_folder(peer: Peer) -> str:
    return peer.adds((FOLDER, b"a", "2" * 40))


@case("2odd-folder", refused="damaged")
def odd_folder(peer: Peer) -> str:
    return peer.adds((FOLDER, b"a", peer.put(TREE, b"1 " * (1 << 20))))


@case("2nameless", refused="damaged")
def nameless(peer: Peer) -> str:
    return peer.adds((FILE, b"", peer.blob()))


@case("2tag", refused="missing")
def tag(peer: Peer) -> str:
    made = peer.adds((FILE, b"a.txt", peer.blob()))
    return peer.put(TAG, f"object {made}\ntype commit\ntag x\ntagger x <x> 1 +0000\n\nx\n".encode())


@case("2file", refused="missing")
def names_file(peer: Peer) -> str:
    return peer.blob()


# Packs that are not what they say; only a folder hands these on, a server makes its own.
BUNDLES: dict[str, tuple[Callable[[Peer], bytes], str]] = {}


def lying(name: str, refused: str) -> Callable[[Any], Any]:
    def note(make: Callable[[Peer], bytes]) -> Callable[[Peer], bytes]:
        BUNDLES[name] = make, refused
        return make

    return note


def good(peer: Peer, said: bytes = b"good") -> list[bytes]:
    """The entries of a good state's pack, the state last."""
    peer.adds((FILE, b"%s %s.txt" % (said, peer.laptop.encode()), peer.blob(CARD + peer.laptop.encode())))
    return [hostile.entry(kind, len(data), data) for kind, data in peer.objects]


def tip(peer: Peer) -> list[tuple[str, str]]:
    return [(peer.ref(), hostile.name_of(*peer.objects[-1]))]


@lying("3says-more", "breaks off")
def says_more(peer: Peer) -> bytes:
    entries = good(peer)
    return hostile.bundle(tip(peer), hostile.pack(entries, len(entries) + 1))


@lying("3says-millions", "more than any box has")
def says_millions(peer: Peer) -> bytes:
    return hostile.bundle(tip(peer) if good(peer) else [], hostile.pack(good(peer), 4_000_000_000))


@lying("3says-fewer", "damaged")
def says_fewer(peer: Peer) -> bytes:
    entries = good(peer)
    return hostile.bundle(tip(peer), hostile.pack(entries, len(entries) - 1))


@lying("3says-smaller", "larger than it says")
def says_smaller(peer: Peer) -> bytes:
    entries = good(peer)
    return hostile.bundle(tip(peer), hostile.pack([*entries, hostile.entry(BLOB, 100, bytes(HUGE))]))


@lying("3says-larger", "smaller than it says")
def says_larger(peer: Peer) -> bytes:
    entries = good(peer)
    return hostile.bundle(tip(peer), hostile.pack([*entries, hostile.entry(BLOB, 30 << 20, b"x")]))


@lying("3says-terabytes", "larger than may be carried")
def says_terabytes(peer: Peer) -> bytes:
    entries = good(peer)
    return hostile.bundle(tip(peer), hostile.pack([*entries, hostile.entry(BLOB, 1 << 62, b"x")]))


@lying("3delta-bomb", "larger than may be carried")
def delta_bomb(peer: Peer) -> bytes:
    base = bytes(1 << 20)
    delta = hostile.varint(len(base)) + hostile.varint(HUGE) + hostile.copy(1 << 20) * (HUGE >> 20)
    at = hostile.entry(BLOB, len(base), base)
    entries = [*good(peer), at, hostile.entry(OFFSET_DELTA, len(delta), delta, offset(len(at)))]
    return hostile.bundle(tip(peer), hostile.pack(entries))


@lying("3delta-lies", "more than it says")
def delta_lies(peer: Peer) -> bytes:
    base = bytes(1 << 20)
    delta = hostile.varint(len(base)) + hostile.varint(10) + hostile.copy(1 << 20) * 5_000
    at = hostile.entry(BLOB, len(base), base)
    entries = [*good(peer), at, hostile.entry(OFFSET_DELTA, len(delta), delta, offset(len(at)))]
    return hostile.bundle(tip(peer), hostile.pack(entries))


@lying("3delta-chain", "without end")
def delta_chain(peer: Peer) -> bytes:
    """Ten thousand changes, each of the one before."""
    text = bytes(1 << 16)
    entries = [*good(peer), hostile.entry(BLOB, len(text), text)]
    for _ in range(10_000):
        delta = hostile.varint(len(text)) + hostile.varint(len(text) + 1) + hostile.copy(len(text)) + b"\x01x"
        entries.append(hostile.entry(OFFSET_DELTA, len(delta), delta, offset(len(entries[-1]))))
        text += b"x"
    return hostile.bundle(tip(peer), hostile.pack(entries))


@lying("3delta-ring", "not there")
def delta_ring(peer: Peer) -> bytes:
    """Two changes, each of what the other would make."""
    ids = [bytes.fromhex(hostile.name_of(BLOB, text)) for text in (b"a", b"b")]
    delta = hostile.varint(1) + hostile.varint(1) + b"\x01a"
    entries = [*good(peer), *(hostile.entry(REF_DELTA, len(delta), delta, base) for base in ids)]
    return hostile.bundle(tip(peer), hostile.pack(entries))


@lying("3delta-front", "damaged")
def delta_front(peer: Peer) -> bytes:
    """A change of what would stand before the pack."""
    delta = hostile.varint(1) + hostile.varint(1) + b"\x01a"
    entries = [*good(peer), hostile.entry(OFFSET_DELTA, len(delta), delta, offset(1 << 40))]
    return hostile.bundle(tip(peer), hostile.pack(entries))


@lying("3truncated", "damaged")
def truncated(peer: Peer) -> bytes:
    return hostile.bundle(tip(peer) if good(peer) else [], hostile.pack(good(peer))[:-60])


@lying("3check-sum", "damaged")
def check_sum(peer: Peer) -> bytes:
    return hostile.bundle(tip(peer) if good(peer) else [], hostile.pack(good(peer))[:-1] + b"x")


@lying("3noise", "no bundle")
def noise(peer: Peer) -> bytes:
    return random.Random(1).randbytes(100_000)


@lying("3empty", "no bundle")
def empty(peer: Peer) -> bytes:
    return b""


@lying("3many-refs", "more states than any family has")
def many_refs(peer: Peer) -> bytes:
    entries = good(peer)
    commit = tip(peer)[0][1]
    refs = [(f"refs/laptops/{n:08x}/own", commit) for n in range(50_000)]
    return hostile.bundle(refs, hostile.pack(entries))


@lying("3endless-head", "no bundle")
def endless_head(peer: Peer) -> bytes:
    entries = good(peer)
    refs = [(f"refs/heads/{n:08d}", tip(peer)[0][1]) for n in range(100_000)]
    return hostile.bundle(refs, hostile.pack(entries))


@lying("3many-objects", "not there")
def many_objects(peer: Peer) -> bytes:
    """Very many tiny objects, and at the end one change of what is nowhere."""
    entries = good(peer)
    entries += [hostile.entry(BLOB, 8, b"%08d" % n) for n in range(MANY_OBJECTS)]
    delta = hostile.varint(1) + hostile.varint(1) + b"\x01a"
    return hostile.bundle(
        tip(peer), hostile.pack([*entries, hostile.entry(REF_DELTA, len(delta), delta, b"\x07" * 20)])
    )


def offset(back: int) -> bytes:
    """How far before it a change's base stands."""
    made = [back & 127]
    while back := back >> 7:
        back -= 1
        made.append(back & 127 | 128)
    return bytes(reversed(made))


class Harm:
    """Where one laptop meets very many hostile ones and a good one; `server`: at a git server, else in a folder."""

    def __init__(self, folder: Path, server: bool) -> None:
        import pygit2

        from recipebox.box import create
        from recipebox.history import open_history
        from recipebox.sync import meet

        self.folder, self.server = folder, server
        self.place = folder / "place"
        self.bare = folder / "served" / "box.git"
        self.box = create(folder / "home" / "box", "kitchen")
        (self.box.root / "pies").mkdir()
        (self.box.root / "pies" / "leek.txt").write_bytes(CARD.replace(b"Plum Jam", b"Leek Pie"))
        self.place.mkdir()
        meet(self.box, str(self.place))
        self.base = open_history(self.box).own or ""
        self.corners = self.place / "recipebox" / self.box.box_id
        own = pygit2.Repository(str(self.box.hidden / "history"))
        tree = own[self.base].peel(pygit2.Tree)
        self.entries = [
            (FOLDER if entry.filemode == 0o40000 else FILE, entry.raw_name, str(entry.id)) for entry in tree
        ]
        if server:
            self.git("init", "--bare", "-q", "-b", "main", str(self.bare))
            [full] = self.corners.rglob("*.bundle")
            self.git("fetch", "-q", str(full), "+refs/laptops/*:refs/keep/*")
            self.git("tag", f"box-{self.box.box_id}", self.base)
            self.git("update-ref", f"refs/heads/laptops/{self.box.laptop_id}/own", self.base)

    def git(self, *words: str, data: bytes | None = None) -> None:
        where = () if words[0] == "init" else ("-C", str(self.bare))
        settings = {**os.environ, "GIT_CONFIG_NOSYSTEM": "1", "GIT_CONFIG_GLOBAL": os.devnull}
        subprocess.run(["git", *where, *words], input=data, check=True, capture_output=True, env=settings)

    def peer(self, number: int, name: str) -> Peer:
        return Peer(f"{number:04x}aaaa", self.base, list(self.entries), name)

    def leave(self, peer: Peer, commit: str, number: int = 1) -> None:
        if not self.server:
            hostile.leave(self.corners, peer.laptop, hostile.bundle([(peer.ref(), commit)], peer.packed()), number)
            return
        self.git("unpack-objects", "-q", data=peer.packed()) if len(peer.objects) < 100 else self._index(peer)
        file = self.bare / "refs/heads/laptops" / peer.laptop / "own"  # git itself would not let a branch name a file
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(commit + "\n")

    def _index(self, peer: Peer) -> None:
        self.git("index-pack", "--stdin", data=peer.packed())

    def sync(self, address: str) -> dict[str, Any]:
        """The laptop's sync in a child process with so much memory; what it came to."""
        out = self.folder / "outcome.json"
        out.unlink(missing_ok=True)
        command = [sys.executable, "-c", CHILD, str(self.box.root), address, str(out), str(MEMORY), str(SECONDS)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert out.exists(), done.stderr[-2000:]
        assert done.stderr == ""
        return json.loads(out.read_text())  # type: ignore[no-any-return]

    def outside(self) -> dict[str, str]:
        """Everything that is not in the box, the laptop's own corner aside."""
        found = {}
        for file in sorted(self.folder.rglob("*")):
            path = file.relative_to(self.folder).as_posix()
            mine = (f"place/recipebox/{self.box.box_id}/{self.box.laptop_id}", "outcome.json", "served/", "home/box/")
            if not any(part in path for part in mine):
                found[path] = f"{file.lstat().st_mode:o} {file.lstat().st_size}"
        return found

    def inside(self) -> dict[str, Path]:
        return {
            file.relative_to(self.box.root).as_posix(): file
            for file in self.box.root.rglob("*")
            if not file.is_relative_to(self.box.hidden)
        }


@dataclass
class Came:
    """What two syncs came to, with all hostile states and then with good ones after them, and the box after each."""

    server: bool
    first: dict[str, Any]
    then: dict[str, Any]
    files: dict[str, Path]
    later: dict[str, Path]
    harmed: set[str]


def waits(data: dict[str, Any]) -> dict[str, str]:
    """Whose changes wait, with the reason."""
    [place] = data["places"]
    said = place["why"].split("; ") if place["why"] else []
    return {name: next((why for why in said if why.startswith(f"{name}: ")), "") for name in place["waits_for"]}


def why_of(data: dict[str, Any], number: int, name: str) -> str:
    """Why the changes of one laptop wait; it is named by the first letters of its id where its name cannot be read."""
    [why] = [why for who, why in waits(data).items() if who in (name, f"{number:04x}")]
    return why


def run(harm: Harm, address: str) -> Came:
    names = list(CASES) + ([] if harm.server else list(BUNDLES))
    for number, name in enumerate(names):
        peer = harm.peer(number, name)
        if name in CASES:
            harm.leave(peer, CASES[name].make(peer))
        else:
            hostile.leave(harm.corners, peer.laptop, BUNDLES[name][0](peer))
    friend = harm.peer(0xFFF, "friend")
    harm.leave(friend, friend.adds((FILE, b"friend.txt", friend.blob())))
    before = harm.outside()
    first = harm.sync(address)
    after = harm.outside()
    files = harm.inside()
    for number, name in enumerate(names):
        peer = harm.peer(number, name)
        harm.leave(peer, peer.adds((FILE, b"mended %d.txt" % number, peer.blob(CARD + b"%d" % number))), 2)
    between = harm.outside()
    then = harm.sync(address)
    harmed = {path for path, kind in (before.items() ^ after.items()) | (between.items() ^ harm.outside().items())}
    return Came(harm.server, first, then, files, harm.inside(), harmed)


@pytest.fixture(scope="module", params=["folder", "server"])
def came(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Came]:
    """The two syncs, done once for each kind of place."""
    folder = tmp_path_factory.mktemp(request.param)
    if request.param == "folder":
        harm = Harm(folder, server=False)
        yield run(harm, str(harm.place))
        return
    if shutil.which("git") is None:
        pytest.skip("no git command to serve with")
    from tests.sync.test_server import daemon

    harm = Harm(folder, server=True)
    with daemon(harm.bare.parent) as served:
        yield run(harm, f"{served}/{harm.bare.name}")


@pytest.mark.parametrize("name", [name for name, it in CASES.items() if it.refused])
def test_what_breaks_a_limit_is_refused_by_name(came: Came, name: str) -> None:
    """The hostile laptop is named with the reason, in one line, and nothing of it is in the box."""
    why = why_of(came.first, list(CASES).index(name), name)
    given = came.server and name.startswith("2") and "the server says" in why  # git itself could not read it
    assert (CASES[name].refused or "") in why or given
    assert why.isprintable()
    assert len(why) < 200


@pytest.mark.parametrize("name", BUNDLES)
def test_a_lying_pack_is_refused_by_name(came: Came, name: str) -> None:
    """A pack that is not what it says is refused before it does harm, and the line says whose it is."""
    if came.server:
        pytest.skip("a server makes its own packs")
    assert BUNDLES[name][1] in why_of(came.first, len(CASES) + list(BUNDLES).index(name), name)


def test_nothing_outside_the_box_is_touched(came: Came) -> None:
    """No file or folder beside the box, above it or at the place came, went or changed."""
    assert came.harmed == set()
    assert not Path("/tmp/harm.txt").exists()
    assert not Path("/tmp/harm").exists()


def test_the_box_holds_plain_files_under_names_that_every_system_can_hold(came: Came) -> None:
    """No link, nothing hidden, no name that Windows or a Mac could not hold, no two names that are one there."""
    for path, file in came.later.items():
        assert not file.is_symlink()
        assert file.is_file() or file.is_dir()
        for part in path.split("/"):
            assert part[0] not in ". "
            assert part[-1] not in ". "
            assert len(part.encode()) <= 255
            assert not set(part) & set('<>:"|?*\\') and all(ord(c) >= 32 and c != "\x7f" for c in part)
            assert part.split(".")[0].rstrip(" ").upper() not in {"CON", "PRN", "AUX", "NUL", "COM1"}
    folded = [unicodedata.normalize("NFC", path).casefold() for path in came.later]
    assert len(set(folded)) == len(folded)
    assert not any("as-sent" in path.casefold() for path in came.later)
    assert not any(path.endswith((".swp", "~")) or "/~$" in f"/{path}" for path in came.later)


@pytest.mark.parametrize("name", [name for name, it in CASES.items() if not it.refused])
def test_what_can_be_carried_of_a_hostile_tree_is_taken(came: Came, name: str) -> None:
    """Names that may not be carried are left out, the rest of that laptop's files stands in the box."""
    assert not {name, f"{list(CASES).index(name):04x}"} & waits(came.first).keys()
    assert set(CASES[name].taken) <= came.files.keys()


def test_twins_and_odd_names_lose_no_words(came: Came) -> None:
    """Every file of twins, devices and odd signs is there under some name."""
    texts = [file.read_bytes() for file in came.files.values() if file.is_file()]
    for name, many in (("0twins", 3), ("0forms", 2), ("0devices", 5), ("0signs", 6), ("0ends", 3), ("0backslash", 3)):
        assert CASES[name].refused is None
        assert all(CARD + b"%d" % n in texts for n in range(many))
    assert sum("twin pie" in path.casefold() for path in came.files) == 3
    assert sum("me twin" in path for path in came.files) == 2


def test_the_good_laptop_is_met_all_the_same(came: Came) -> None:
    """What a good laptop left among all these comes at the first sync, and our own card stays."""
    assert came.files["friend.txt"].read_bytes() == CARD
    assert "pies/leek.txt" in came.files
    assert came.first["exit"] == 0


def test_the_next_good_state_of_each_is_taken(came: Came) -> None:
    """Once a hostile laptop leaves a good state, it is taken, and nobody waits any more."""
    many = len(CASES) + (0 if came.server else len(BUNDLES))
    assert {f"mended {number}.txt" for number in range(many)} <= came.later.keys()
    assert [place["state"] for place in came.then["places"]] == ["met"]


def test_the_line_says_it_all_at_the_terminal(came: Came) -> None:
    """Nothing a laptop calls itself or its files gets to the terminal as a command to it."""
    for data in (came.first, came.then):
        for words in (*data["said"], *(place["why"] for place in data["places"])):
            assert words.isprintable()


@pytest.fixture
def harm(tmp_path: Path) -> Harm:
    """A laptop that has left its box in a folder."""
    return Harm(tmp_path, server=False)


def good_peer(harm: Harm, number: int) -> tuple[Peer, str]:
    peer = harm.peer(number, f"peer {number}")
    return peer, peer.adds((FILE, b"good %d.txt" % number, peer.blob(CARD + b"%d" % number)))


def test_half_files_and_states_that_nobody_has_are_waited_for(harm: Harm) -> None:
    """Half a bundle, a full-size one with other bytes, and one that builds on what is nowhere have not all arrived."""
    halves = [good_peer(harm, number) for number in range(3)]
    wholes = [hostile.bundle([(peer.ref(), commit)], peer.packed()) for peer, commit in halves]
    for (peer, _), whole, cut in zip(halves, wholes, (whole[: len(whole) // 2] for whole in wholes), strict=True):
        hostile.leave(harm.corners, peer.laptop, whole).write_bytes(cut)
    flipped, commit = good_peer(harm, 3)
    whole = hostile.bundle([(flipped.ref(), commit)], flipped.packed())
    hostile.leave(harm.corners, flipped.laptop, whole).write_bytes(whole[:-30] + b"!" + whole[-29:])
    waiting, commit = good_peer(harm, 4)
    packed = waiting.packed()
    hostile.leave(harm.corners, waiting.laptop, hostile.bundle([(waiting.ref(), commit)], packed, ["3" * 40]))
    first = harm.sync(str(harm.place))
    assert first["places"][0]["state"] == "incomplete"
    assert first["places"][0]["waits_for"] == [peer.laptop[:4] for peer, _ in (*halves, (flipped, 0), (waiting, 0))]
    assert (first["came"], first["exit"]) == ([], 0)
    for (peer, _), whole in zip(halves, wholes, strict=True):
        hostile.leave(harm.corners, peer.laptop, whole)
    assert harm.sync(str(harm.place))["came"] == ["good 0.txt", "good 1.txt", "good 2.txt"]


def test_copies_and_strangers_in_a_corner_do_no_harm(harm: Harm) -> None:
    """Conflicting copies count by what they hold; links, pipes, folders, packs and indexes named as bundles do not."""
    peer, commit = good_peer(harm, 1)
    whole = hostile.bundle([(peer.ref(), commit)], peer.packed())
    for number, named in enumerate(("{} (conflicted copy 2).bundle", "Copy of {}.bundle", "000001-{}.bundle~")):
        half = hostile.leave(harm.corners, peer.laptop, whole, number, named)
        half.write_bytes(whole[:100]) if number else None
    corner = harm.corners / peer.laptop
    sha = "a" * 64
    (corner / f"000004-{sha}.bundle").symlink_to("/etc/passwd")
    os.mkfifo(corner / f"000005-{'b' * 64}.bundle")
    (corner / f"000006-{'c' * 64}.bundle").mkdir()
    (corner / "pack-1.idx").write_bytes(b"\xfftOc\0\0\0\2" + b"\xff" * 2_000)
    (corner / "pack-1.pack").write_bytes(b"PACK")
    (harm.corners / "ffffaaaa").symlink_to(harm.folder)
    for number in range(2_000):
        (corner / f"{number} note.txt").touch()
    outcome = harm.sync(str(harm.place))
    assert outcome["came"] == ["good 1.txt"]
    assert outcome["places"][0]["state"] == "met"


def test_nobody_else_says_what_our_own_last_edit_is(harm: Harm) -> None:
    """A peer that leaves a state under our laptop's name moves our own edits nowhere; the state is kept beside them."""
    from recipebox.history import open_history

    peer, commit = good_peer(harm, 1)
    refs = [(peer.ref(), commit), (f"refs/laptops/{harm.box.laptop_id}/own", commit), ("refs/heads/main", commit)]
    hostile.leave(harm.corners, peer.laptop, hostile.bundle(refs, peer.packed()))
    assert harm.sync(str(harm.place))["came"] == ["good 1.txt"]
    assert open_history(harm.box).own == harm.base


def test_very_many_laptops_in_one_bundle_end_in_time(harm: Harm) -> None:
    """Two hundred laptops with a state each, all of one card, come together within the limits of time and memory."""
    peer = harm.peer(1, "many")
    refs = []
    for number in range(200):
        jam = CARD.replace(b"1 cup sugar", b"%d cups sugar" % (number % 5 + 2))
        commit = peer.adds((FILE, b"jam.txt", peer.blob(jam)), facts={"laptop": {"id": f"{number:08x}", "name": "x"}})
        refs.append((f"refs/laptops/{number:08x}/own", commit))
    hostile.leave(harm.corners, peer.laptop, hostile.bundle(refs, peer.packed()))
    outcome = harm.sync(str(harm.place))
    assert outcome["came"] == ["jam.txt"]
    assert outcome["seconds"] < 60


def test_many_large_bundles_are_not_read_again_and_again(harm: Harm) -> None:
    """A large bundle that was refused is not unpacked at each sync, and its laptop is named all the same."""
    peer = harm.peer(1, "large")
    noise = [peer.blob(random.Random(n).randbytes(1 << 20)) for n in range(10)]
    commit = peer.adds(*((FILE, b"%d.jpg" % n, blob) for n, blob in enumerate(noise)), step=77)
    file = hostile.leave(harm.corners, peer.laptop, hostile.bundle([(peer.ref(), commit)], peer.packed()))
    why = ["large: its edits are not numbered as edits are"]
    assert [place["why"] for place in harm.sync(str(harm.place))["places"]] == why
    file.write_bytes(bytes(file.stat().st_size))  # if it were read it would count as half arrived
    assert [place["why"] for place in harm.sync(str(harm.place))["places"]] == why


class Talker(socketserver.BaseRequestHandler):
    """A git server that says what it likes, for as long as anybody listens."""

    def handle(self) -> None:
        self.request.recv(1_000)
        with contextlib.suppress(OSError):
            for said in self.server.says():  # type: ignore[attr-defined]
                self.request.sendall(said)
            self.request.shutdown(socket.SHUT_WR)
            while self.request.recv(1 << 16):
                pass


def line(words: bytes) -> bytes:
    return b"%04x" % (len(words) + 4) + words


def greeting(box: str, commit: str) -> bytes:
    able = b"\0side-band-64k ofs-delta"
    refs = [
        line(f"{commit} refs/heads/laptops/0001aaaa/own".encode() + able),
        line(f"{commit} refs/tags/{box}".encode()),
    ]
    return b"".join([*refs, b"0000"])


def forever(*said: bytes) -> Iterator[bytes]:
    yield from said[:-1]
    while True:
        yield said[-1]


TALKS: dict[str, tuple[Callable[[str], Iterator[bytes]], str]] = {
    "refs": (lambda box: forever(line(b"2" * 40 + b" refs/heads/x" + b"y" * 60_000)), "more branches"),
    "words": (lambda box: forever(line(b"hello " * 1_000)), "more branches"),
    "progress": (lambda box: forever(greeting(box, "2" * 40), line(b"\2" + b"x" * 60_000)), "broke off"),
    "naks": (lambda box: forever(greeting(box, "2" * 40), line(b"NAK\n") * 5_000), "broke off"),
    "nonsense": (lambda box: iter([b"HTTP/1.1 200 OK\r\n\r\n"]), "broke off"),
    "silence": (lambda box: iter([]), "broke off"),
    "half": (lambda box: iter([greeting(box, "2" * 40)[:-30]]), "broke off"),
    "half-pack": (lambda box: iter([greeting(box, "2" * 40), line(b"NAK\n"), line(b"\1PACK\0\0\0\2")]), "broke off"),
    "noise": (
        lambda box: iter([greeting(box, "2" * 40), line(b"NAK\n"), line(b"\1" + b"x" * 60_000) * 900, b"0000"]),
        "holds no pack",
    ),
    "shouts": (lambda box: iter([line(b"ERR \x1b[2J" + b"go away " * 5_000)]), "go away"),
}


@pytest.mark.parametrize("name", TALKS)
def test_a_server_that_keeps_to_no_rule_is_one_clear_line(harm: Harm, name: str) -> None:
    """Endless refs, endless words, noise, silence: the sync ends, within its memory, with one line that says why."""
    says, why = TALKS[name]
    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Talker) as server:
        server.daemon_threads = True
        server.says = lambda: says(f"box-{harm.box.box_id}")  # type: ignore[attr-defined]
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        try:
            outcome = harm.sync(f"git://127.0.0.1:{server.server_address[1]}/box.git")
        finally:
            server.shutdown()
            thread.join()
    [place] = outcome["places"]
    assert place["state"] in ("refused", "not there")
    assert why in place["why"]
    assert place["why"].isprintable()
    assert len(place["why"]) < 300
    assert (outcome["came"], outcome["went"]) == ([], [])
