"""What hostile peers leave: states with names, sizes and parts that no laptop makes, and packs that lie.

Each case is named; its first digit tells what is wrong: 0 names and notes (the rest is taken), 1 sizes, 2 states that
are none, 3 packs that are not what they say. With RECIPEBOX_LONG=1 the big ones come in full size.
"""

import os
import random
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tests.sync import hostile
from tests.sync.hostile import BLOB, CARD, FILE, FOLDER, LINK, MODULE, OFFSET_DELTA, REF_DELTA, TAG, TREE, Peer

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
HUGE = 1 << 30 if LONG else 40 << 20
MANY_FILES = 200_000 if LONG else 100_001
MANY_OBJECTS = 600_000 if LONG else 60_000


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
