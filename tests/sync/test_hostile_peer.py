"""A peer that means harm, or is broken: whatever it leaves, nothing outside the box is touched, memory and time stay
bounded, one line says whose changes are not taken and why, the others are met, and its next good state is taken.

The peer is made with git plumbing of its own (`hostile.py`). All hostile peers and a good one meet one laptop at once;
that laptop syncs in a child process that may have so much memory and no more. With RECIPEBOX_LONG=1 the big ones come
in full size (a blob of 1 GB, 200,000 files).
"""

import os
import random
import shutil
import sys
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.sync import hostile
from tests.sync.hostile import CARD, FILE, Peer
from tests.sync.hostile_cases import BUNDLES, CASES
from tests.sync.hostile_place import Harm

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="limits of a child process are set as on Unix")


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
