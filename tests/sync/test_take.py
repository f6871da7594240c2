"""Bundles from other laptops: taken whole and checked, or not at all."""

import hashlib
from collections.abc import Collection
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipebox.box import create
from recipebox.history import History, open_history
from recipebox.sync.bundle import bundle, read_head
from recipebox.sync.checking import NewerRuleError, RefusedError
from recipebox.sync.entries import DamagedError
from recipebox.sync.take import NotYetError, count_cards, take

CARD = "Leek Pie\n\n2 cups leeks\n3 eggs\n"


@pytest.fixture(scope="module")
def sender(tmp_path_factory: pytest.TempPathFactory) -> History:
    """A laptop with two recorded edits."""
    history = open_history(create(tmp_path_factory.mktemp("sender") / "box", "kitchen"))
    (history.box.root / "a.txt").write_text(CARD)
    history.snapshot("One")
    (history.box.root / "pies").mkdir()
    (history.box.root / "pies/b.txt").write_text(CARD)
    history.snapshot("Two")
    return history


@pytest.fixture
def receiver(tmp_path: Path) -> History:
    """A laptop that knows nothing yet."""
    return open_history(create(tmp_path / "receiver", "study"))


def own_ref(history: History) -> str:
    return f"refs/laptops/{history.box.laptop_id}/own"


def write_bundle(history: History, refs: dict[str, str], without: Collection[str] = ()) -> bytes:
    with bundle(history, refs, without) as data:
        return bytes(data)


def full(history: History) -> bytes:
    return write_bundle(history, {own_ref(history): history.own, "HEAD": history.head})  # type: ignore[dict-item]


def hostile(history: History, tree: str, message: dict[str, Any] | None = None, parents: tuple[str, ...] = ()) -> bytes:
    """A bundle of one commit with any tree."""
    made = history.store.put_commit(tree, parents, "Hostile", message or {"rule": 1}, "x", "x", 1)
    return write_bundle(history, {"refs/laptops/aaaa1111/own": made})


def test_a_full_bundle_brings_all_and_says_whose(sender: History, receiver: History) -> None:
    """Taking a full bundle makes the sender's edits known under the sender's id, and tells how many cards there are."""
    data = full(sender)
    take(receiver, data)
    assert dict(receiver.laptops()) == {sender.box.laptop_id: sender.own}
    assert receiver.tree(sender.own)["pies/b.txt"].read() == CARD.encode()
    assert count_cards(data) == 2
    assert receiver.head is None


def test_an_increment_waits_for_what_it_builds_on(sender: History, receiver: History) -> None:
    """Without the earlier edits a bundle is not taken; after them it is."""
    assert sender.own is not None
    first = sender.commit(sender.own).parents[0]
    later = write_bundle(sender, {own_ref(sender): sender.own}, [first])
    with pytest.raises(NotYetError):
        take(receiver, later)
    assert receiver.laptops() == []
    take(receiver, write_bundle(sender, {own_ref(sender): first}))
    take(receiver, later)
    assert receiver.heads() == {sender.own}


def test_many_objects_are_kept_as_one_pack(sender: History, receiver: History, tmp_path: Path) -> None:
    """A box of many cards is one file in the receiver's store, and every card reads right."""
    other = open_history(create(tmp_path / "many", "attic"))
    for number in range(80):
        (other.box.root / f"{number}.txt").write_text(f"Soup {number}\n\n{number} onions\n1 cup water\n")
    other.snapshot("Many")
    take(receiver, full(other))
    assert len(list((receiver.store.folder / "objects/pack").glob("*.pack"))) == 1
    assert {path: blob.read() for path, blob in receiver.tree(other.own).items()} == {
        path: blob.read() for path, blob in other.tree(other.head).items()
    }


@settings(max_examples=40, suppress_health_check=list(HealthCheck), deadline=None)
@given(at=st.integers(0, 5000), bit=st.integers(0, 7), cut=st.booleans())
def test_no_damage_moves_a_ref(
    sender: History, tmp_path_factory: pytest.TempPathFactory, at: int, bit: int, cut: bool
) -> None:
    """A bundle cut off or with a bit flipped anywhere either gives the very same edits or moves nothing."""
    receiver = open_history(create(tmp_path_factory.mktemp("damage") / "box", "study"))
    data = bytearray(full(sender))
    at %= len(data)
    if cut:
        del data[at:]
    else:
        data[at] ^= 1 << bit
    try:
        take(receiver, bytes(data))
    except (DamagedError, NotYetError):
        assert receiver.laptops() == []
        return
    for _, commit in receiver.laptops():
        assert {path: blob.read() for path, blob in receiver.tree(commit).items()}.keys() <= {"a.txt", "pies/b.txt"}


def test_missing_parts_are_noticed(sender: History, receiver: History) -> None:
    """A pack that lacks a file, a folder or a state its refs need is refused, whatever its check sums say."""
    blob = "1" * 40
    tree = sender.store.put_object(2, b"100644 a.txt\0" + bytes.fromhex(blob))
    made = sender.store.put_commit(tree, (), "x", {}, "x", "x", 1)
    import pygit2

    builder = pygit2.PackBuilder(sender.store.repository)
    builder.add(pygit2.Oid(hex=made))
    builder.add(pygit2.Oid(hex=tree))
    folder = receiver.box.hidden
    builder.write(str(folder))
    pack = next(folder.glob("*.pack")).read_bytes()
    head = f"# v2 git bundle\n{made} refs/laptops/aaaa1111/own\n\n".encode()
    with pytest.raises(RefusedError, match="file is missing"):
        take(receiver, head + pack)
    with pytest.raises(DamagedError, match="state is missing"):
        take(receiver, head.replace(made.encode(), b"2" * 40) + pack)
    assert receiver.laptops() == []


def test_links_and_escapes_are_never_files(sender: History, receiver: History) -> None:
    """A peer's links and names that lead out of the box arrive, and are in no view."""
    blob = sender.store.put_blob(CARD.encode())
    link = sender.store.put_blob(b"/etc")
    entries = [b"100644 good.txt\0", b"100644 .hidden\0", b"100644 ..\0", b"100644 .recipebox\0"]
    data = b"".join(entry + bytes.fromhex(blob) for entry in entries) + b"120000 link\0" + bytes.fromhex(link)
    take(receiver, hostile(sender, sender.store.put_object(2, data)))
    assert receiver.views.together(receiver.heads()).files.keys() == {"good.txt"}


def test_limits_are_kept(sender: History, receiver: History, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too deep, too many, or too large: the laptop's changes are refused whole, and the message says why."""
    deep = sender.store.put_tree({"a.txt": sender.store.put_blob(CARD.encode())})
    for _ in range(40):
        deep = sender.store.put_object(2, b"40000 d\0" + bytes.fromhex(deep))
    large = sender.store.put_tree({"a.txt": sender.store.put_blob(CARD.encode() * 40_000)})
    many = sender.store.put_tree({f"{n}.txt": sender.store.put_blob(CARD.encode()) for n in range(12)})
    monkeypatch.setattr("recipebox.sync.checking.MOST_FILES", 10)
    for tree, why in ((deep, "deep"), (large, "larger"), (many, "more than")):
        with pytest.raises(RefusedError, match=why):
            take(receiver, hostile(sender, tree))
    assert receiver.laptops() == []


def test_a_newer_rule_is_told_with_the_laptops_name(sender: History, receiver: History) -> None:
    """Edits made under a merge rule we do not know are not taken in."""
    tree = sender.store.put_tree({"a.txt": sender.store.put_blob(CARD.encode())})
    with pytest.raises(NewerRuleError) as raised:
        take(receiver, hostile(sender, tree, {"rule": 99, "laptop": {"id": "x", "name": "study"}}))
    assert raised.value.laptop == "study"
    assert receiver.laptops() == []


@given(data=st.binary(max_size=120))
def test_any_front_raises_only_damage(data: bytes) -> None:
    """Reading a bundle's front never fails in another way."""
    for whole in (
        data,
        b"# v2 git bundle\n" + data,
        b"# v2 git bundle\n" + hashlib.sha1(data).hexdigest().encode() + data,
    ):
        try:
            read_head(whole)
        except DamagedError:
            continue
