"""Laptops that meet: what comes, what goes, what is asked, and that nothing is lost."""

import itertools
import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from recipebox.box import create
from recipebox.history import CannotUndoError
from recipebox.history.store import MAIN
from recipebox.merge import settle
from recipebox.sync import PlaceError, SeveralBoxesError, boxes_in, outcome_data, take_box

SCHEMA = Path(__file__).parents[2] / "schema" / "sync.schema.json"


def test_an_empty_folder_becomes_the_box(family: Any, same: Any) -> None:
    """A new laptop that syncs from an empty folder holds the box that lies at the place."""
    first = family.start()
    assert first.sync(family.place).went == ("pies/leek.txt",)
    second = family.join("study")
    same(first, second)
    assert second.box.box_id == first.box.box_id
    assert second.box.laptop_id != first.box.laptop_id


def test_edits_of_one_card_come_together(family: Any, same: Any) -> None:
    """Different lines of one card, changed on two laptops, both stand on both."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "1 cup milk", "1 1/2 cups milk")
    second.change("pies/leek.txt", "3 eggs", "4 eggs")
    family.all_meet()
    same(*family.laptops)
    assert "1 1/2 cups milk" in first.read("pies/leek.txt")
    assert "4 eggs" in first.read("pies/leek.txt")
    assert "Undecided" not in first.read("pies/leek.txt")


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
def test_any_order_of_meeting_gives_the_same_bytes(family: Any, same: Any, order: tuple[int, ...]) -> None:
    """Three laptops that change the same and other lines agree byte for byte, whoever comes first."""
    laptops = family.three()
    for at, (amount, eggs) in enumerate((("2", "3"), ("3", "4"), ("1 1/2", "3"))):
        laptops[at].change("pies/leek.txt", "1 cup milk", f"{amount} cups milk")
        laptops[at].change("pies/leek.txt", "3 eggs", f"{eggs} eggs")
        laptops[at].write(f"soups/{at}.txt", f"Soup {at}\n\n{at + 2} onions\n1 cup water\n\nBoil the onions.\n")
    for _ in range(3):
        for at in order:
            laptops[at].sync(family.place)
    same(*laptops)
    text = laptops[0].read("pies/leek.txt")
    assert text.count("cups milk") == 4  # the body and the three wordings
    assert "4 eggs" in text
    assert len({laptop.history.head for laptop in laptops}) == 1
    assert all(laptop.sync(family.place).came == () for laptop in laptops)


def test_one_quarrel_is_one_question_and_one_answer(family: Any, same: Any) -> None:
    """Both change one line: both laptops show the same question, exit 3 once, and settling on one settles both."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    second.change("pies/leek.txt", "1 cup milk", "3 cups milk")
    first.sync()
    outcome = second.sync()
    assert (outcome.undecided, outcome.exit_code) == ((("pies/leek.txt", "milk"),), 3)
    assert first.sync().undecided == (("pies/leek.txt", "milk"),)
    same(first, second)
    again = first.sync()
    assert (again.undecided, again.open, again.exit_code) == ((), 1, 0)
    file = first.root / "pies/leek.txt"
    file.write_bytes(settle(file.read_bytes(), "pies/leek.txt", "milk", "3 cups milk"))
    family.all_meet()
    same(*family.laptops)
    assert "chosen: 3 cups milk" in second.read("pies/leek.txt")
    assert second.sync().open == 0


def test_work_travels_over_two_places(family: Any, same: Any, tmp_path: Path) -> None:
    """A laptop relays: what the first left at the stick reaches the third, which only meets at the share."""
    first, second, third = family.three()
    share = tmp_path / "share"
    share.mkdir()
    first.write("plum.txt", "Plum Cake\n\n2 cups plums\n3 eggs\n\nBake the plums.\n")
    first.sync(family.place)
    second.sync(family.place)
    second.sync(share)
    assert third.sync(share).came == ("plum.txt",)
    same(first, second, third)


def test_crossing_edits_close(family: Any, same: Any, tmp_path: Path) -> None:
    """Edits made upon each other's older states through two lagging places end in one state for all."""
    share = tmp_path / "share"
    share.mkdir()
    first, second, third = family.three()
    for laptop in (first, second, third):
        laptop.sync(share)
    for turn in range(3):
        first.change("pies/leek.txt", "2. Beat", f"{turn + 2}. Whisk, then beat") if turn == 0 else None
        first.write("a.txt", f"Jam {turn}\n\n2 cups plums\n1 cup sugar\n\nBoil the plums with the sugar {turn}.\n")
        first.sync(family.place)
        second.write("b.txt", f"Tart {turn}\n\n2 cups pears\n1 cup flour\n\nBake the pears {turn}.\n")
        second.sync(share)
        third.sync(family.place if turn % 2 else share)
        third.write(f"c{turn}.txt", "Broth\n\n2 onions\n1 cup water\n\nBoil the onions.\n")
        third.sync(share if turn % 2 else family.place)
    for _ in range(3):
        for laptop, place in itertools.product((first, second, third), (family.place, share)):
            laptop.sync(place)
    same(first, second, third)
    assert {"a.txt", "b.txt", "c0.txt", "c1.txt", "c2.txt"} < set(first.files())
    assert "Jam 2" in third.read("a.txt")


def test_a_move_here_and_an_edit_there_are_both_kept(family: Any, same: Any) -> None:
    """A card moved here and edited there stands under its new name with the edit, and dishes.txt follows."""
    first, second, _ = family.three()
    first.write("dishes.txt", "name: The Pie | pies/leek.txt\n")
    family.all_meet(2)
    (first.root / "suppers").mkdir()
    (first.root / "pies/leek.txt").rename(first.root / "suppers/leek pie.txt")
    second.change("pies/leek.txt", "3 eggs", "5 eggs")
    family.all_meet()
    same(*family.laptops)
    assert "5 eggs" in first.read("suppers/leek pie.txt")
    assert not (second.root / "pies").exists()
    assert first.read("dishes.txt") == "name: The Pie | suppers/leek pie.txt\n"


def test_what_is_deleted_here_and_edited_there_stays_with_a_question(family: Any, same: Any) -> None:
    """Nobody's edit disappears because somebody else deleted the card."""
    first, second, _ = family.three()
    first.write("plum.txt", "Plum Cake\n\n2 cups plums\n3 eggs\n\nBake the plums.\n")
    family.all_meet(2)
    (first.root / "pies/leek.txt").unlink()
    second.change("pies/leek.txt", "3 eggs", "5 eggs")
    family.all_meet()
    same(*family.laptops)
    assert "5 eggs" in first.read("pies/leek.txt")
    assert "this card" in first.read("pies/leek.txt")


def test_an_unplugged_stick_is_not_there(family: Any) -> None:
    """A remembered place without this box is told as not there, and nothing is made in the empty mount point."""
    first = family.start()
    first.sync(family.place)
    shutil.rmtree(family.place / "recipebox")
    outcome = first.sync()
    assert [place.state for place in outcome.places] == ["not there"]
    assert outcome.exit_code == 1
    assert list(family.place.iterdir()) == []


def test_without_a_place_edits_are_recorded_all_the_same(family: Any) -> None:
    """Sync with no place known exits 1 and has recorded the box."""
    first = family.start()
    assert first.sync().exit_code == 1
    assert first.history.files(first.history.head).keys() == {"pies/leek.txt"}


def test_another_box_is_refused_until_joined(family: Any, same: Any) -> None:
    """Another box's id: both are shown and nothing is touched; with join both are one, the same card once."""
    first = family.start()
    first.sync(family.place)
    other = family.start("garden", {"pies/leek.txt": first.read("pies/leek.txt"), "jam.txt": "Jam\n\n2 cups plums\n"})
    outcome = other.sync(family.place)
    assert (outcome.places[0].state, outcome.exit_code) == ("other box", 3)
    assert "1 card" in outcome.places[0].why
    assert "2 cards" in outcome.places[0].why
    assert len(list((family.place / "recipebox").iterdir())) == 1
    other.sync(family.place, join=True)
    family.all_meet()
    same(first, other)
    assert set(first.files()) == {"jam.txt", "pies/leek.txt"}


def test_several_boxes_are_listed(family: Any, tmp_path: Path) -> None:
    """A place with several boxes lists them with their cards instead of guessing."""
    family.start().sync(family.place)
    second = family.start("garden", {"jam.txt": "Jam\n\n2 cups plums\n1 cup sugar\n"})
    (family.place / "recipebox" / second.box.box_id).mkdir()
    second.sync(family.place)
    assert sorted(there.cards or 0 for there in boxes_in(str(family.place))) == [1, 1]
    with pytest.raises(SeveralBoxesError):
        take_box(tmp_path / "new", str(family.place))
    taken = take_box(tmp_path / "new", str(family.place / "recipebox" / second.box.box_id))
    assert taken.box_id == second.box.box_id


def test_places_inside_or_around_the_box_are_refused(family: Any) -> None:
    """A place within the box would be synced into itself."""
    first = family.start()
    for place in (first.root, first.root / "pies", first.root.parent):
        with pytest.raises(PlaceError):
            first.sync(place)


def test_a_dry_run_changes_nothing(family: Any) -> None:
    """--dry-run tells what would come and go, and neither box nor place changes."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    first.sync()
    second.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
    lying = sorted(family.place.rglob("*"))
    before = second.files()
    outcome = second.sync(dry_run=True)
    assert (outcome.came, outcome.went) == (("pies/leek.txt",), ("jam.txt",))
    assert second.files() == before
    assert sorted(family.place.rglob("*")) == lying
    assert second.sync().came == ("pies/leek.txt",)


def test_an_undone_sync_is_laid_aside_here_only(family: Any, same: Any) -> None:
    """Undoing a sync undoes nobody's work: the sender keeps it, this laptop is asked, and a yes takes it in."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    first.sync()
    second.sync()
    undone = second.history.undo()
    assert undone.laid_aside == ("pies/leek.txt",)
    assert "3 eggs" in second.read("pies/leek.txt")
    outcome = second.sync()
    assert (outcome.laid_aside, outcome.came, outcome.exit_code) == (("pies/leek.txt",), (), 3)
    first.change("pies/leek.txt", "4 eggs", "5 eggs")
    first.sync()
    assert second.sync().came == ()
    assert "5 eggs" in first.read("pies/leek.txt")
    assert second.sync(yes=True).came == ("pies/leek.txt",)
    family.all_meet()
    same(*family.laptops)


def test_a_sync_with_an_edit_after_it_cannot_be_laid_aside(family: Any) -> None:
    """Once this laptop edited after a sync, undo says so and points to bringing back single cards."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    first.sync()
    second.sync()
    second.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    assert [deed.what for deed in second.history.undoable()] == ["sync"]
    with pytest.raises(CannotUndoError, match="bring-back"):
        second.history.undo()
    assert second.history.undoable() == []
    assert "2 cups milk" in second.read("pies/leek.txt")


def test_a_big_removal_is_held_back_in_both_directions(family: Any, same: Any) -> None:
    """Taking away every dessert stops: it does not go out, and, once sent with yes, does not come in unasked."""
    cards = {f"sweet/{n}.txt": f"Tart {n}\ntags: dessert\n\n{n + 2} pears\n1 cup flour\n\nBake.\n" for n in range(12)}
    cards |= {f"soup/{n}.txt": f"Soup {n}\n\n{n + 2} onions\n1 cup water\n\nBoil the onions.\n" for n in range(50)}
    first = family.start("kitchen", cards)
    first.sync(family.place)
    second = family.join("study")
    shutil.rmtree(first.root / "sweet")
    outcome = first.sync()
    assert outcome.stopped is not None
    assert (outcome.stopped.cards, outcome.stopped.of, outcome.exit_code) == (12, 62, 3)
    assert "every dessert" in outcome.stopped.why
    assert second.sync().came == ()
    assert first.sync(yes=True).stopped is None
    held = second.sync()
    assert held.stopped is not None
    assert (second.root / "sweet/3.txt").exists()
    assert len(second.sync(yes=True).came) == 12
    family.all_meet()
    same(first, second)
    assert not (second.root / "sweet").exists()


def test_a_torn_card_stays_here_and_does_not_travel(family: Any) -> None:
    """A half-written card is set aside and named; --as-is records it."""
    first, second, _ = family.three()
    first.write("pies/leek.txt", first.read("pies/leek.txt")[:40])
    outcome = first.sync()
    assert [aside.path for aside in outcome.set_aside] == ["pies/leek.txt"]
    second.change("pies/leek.txt", "3 eggs", "4 eggs")
    second.sync()
    assert len(first.read("pies/leek.txt")) == 40
    first.sync()
    assert len(first.read("pies/leek.txt")) == 40
    assert "4 eggs" in second.read("pies/leek.txt")
    assert first.sync(as_is=["pies/leek.txt"]).set_aside == ()


def test_a_mended_torn_card_keeps_what_came_meanwhile(family: Any, same: Any) -> None:
    """An edit that arrived while the card was torn is not lost when its owner makes the card whole again."""
    first, second, _ = family.three()
    whole = first.read("pies/leek.txt")
    first.write("pies/leek.txt", "")
    first.sync()
    second.change("pies/leek.txt", "3 eggs", "4 eggs")
    second.sync()
    first.sync()
    first.write("pies/leek.txt", whole.replace("1 cup milk", "2 cups milk"))
    family.all_meet()
    same(*family.laptops)
    assert "4 eggs" in first.read("pies/leek.txt")
    assert "2 cups milk" in first.read("pies/leek.txt")


def test_a_cloned_disk_becomes_a_laptop_of_its_own(family: Any, same: Any, tmp_path: Path) -> None:
    """Two laptops that bear one id are noticed at the place, one takes a new id, and both edits are kept."""
    first, second, _ = family.three()
    hidden = tmp_path / "saved"
    shutil.copytree(second.box.hidden, hidden)
    second.change("pies/leek.txt", "3 eggs", "4 eggs")
    second.sync()
    was = second.box.laptop_id
    shutil.rmtree(second.box.hidden)
    shutil.copytree(hidden, second.root / ".recipebox")
    second.change("pies/leek.txt", "4 eggs", "3 eggs")
    second.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    second.sync()
    family.all_meet()
    assert second.box.laptop_id != was
    same(*family.laptops)
    assert "4 eggs" in first.read("pies/leek.txt")
    assert "2 cups milk" in first.read("pies/leek.txt")


def test_a_half_bundle_is_waited_for_and_healed(family: Any, same: Any) -> None:
    """A half file is named as changes that have not all arrived; the writer makes it again at its next sync."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    before = set(family.place.rglob("*.bundle"))
    first.sync()
    [new] = set(family.place.rglob("*.bundle")) - before
    new.write_bytes(new.read_bytes()[:100])
    outcome = second.sync()
    assert (outcome.places[0].state, outcome.places[0].waits_for) == ("incomplete", ("kitchen",))
    assert outcome.exit_code == 0
    first.sync()
    assert second.sync().came == ("pies/leek.txt",)
    same(first, second)


def test_a_thrown_away_corner_is_filled_again(family: Any, same: Any) -> None:
    """Who empties a laptop's corner at the place loses nothing: it is written again, whole."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    first.sync()
    shutil.rmtree(family.place / "recipebox" / first.box.box_id / first.box.laptop_id)
    first.sync()
    assert second.sync().came == ("pies/leek.txt",)
    same(first, second)


def test_many_bundles_are_folded_into_one(family: Any, same: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """A corner does not grow without end, and who has read none of it still gets everything."""
    monkeypatch.setattr("recipebox.sync.plan.MOST_BUNDLES", 4)
    first, second, third = family.three()
    for turn in range(7):
        first.write("jam.txt", f"Jam\n\n{turn + 1} cups plums\n1 cup sugar\n\nBoil the plums with sugar.\n")
        first.sync()
        if turn == 4:
            second.sync()
    corner = family.place / "recipebox" / first.box.box_id / first.box.laptop_id
    assert len(list(corner.iterdir())) <= 4
    family.all_meet(2)
    same(first, second, third)


@pytest.mark.skipif(shutil.which("git") is None, reason="no git command to be the witness")
def test_stock_git_gives_the_box_back(family: Any, tmp_path: Path) -> None:
    """A plain `git clone` of a full bundle is the box, without us (git's own command is the witness)."""
    first = family.start()
    first.write("Grandmother's plums.txt", "Plums\n\n2 cups plums\n1 cup sugar\n")
    first.sync(family.place)
    [bundle] = family.place.rglob("*.bundle")
    environment = {**os.environ, "GIT_CONFIG_NOSYSTEM": "1", "HOME": str(tmp_path)}
    clone = tmp_path / "clone"
    subprocess.run(["git", "clone", "-q", str(bundle), str(clone)], check=True, env=environment)
    found = {file.relative_to(clone).as_posix(): file.read_bytes() for file in clone.rglob("*") if file.is_file()}
    assert {path: data for path, data in found.items() if not path.startswith(".git/")} == first.files()
    first.write("jam.txt", "Jam\n\n2 cups plums\n")
    first.sync()
    newest = max(family.place.rglob("*.bundle"))
    subprocess.run(["git", "bundle", "verify", "-q", str(newest)], check=True, env=environment, cwd=clone)


def test_the_outcome_has_the_promised_shape(family: Any) -> None:
    """`sync --json` prints what its schema says."""
    first, second, _ = family.three()
    first.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    second.change("pies/leek.txt", "1 cup milk", "3 cups milk")
    first.sync()
    data = json.loads(json.dumps(outcome_data(second.sync())))
    jsonschema.validate(data, json.loads(SCHEMA.read_text()))
    assert data["undecided"] == [{"path": "pies/leek.txt", "about": "milk"}]


def test_names_that_some_laptop_cannot_hold_become_safe_everywhere(family: Any, same: Any) -> None:
    """A name with a colon and two names that differ in case only stand under the same safe names on every laptop."""
    first, second, third = family.three()
    card = "Jam\n\n2 cups plums\n1 cup sugar\n\nBoil the plums with the sugar.\n"
    first.write("jam: plum.txt", card)
    second.write("Broth.txt", card.replace("Jam", "Broth"))
    third.write("broth.txt", card.replace("Jam", "Thin broth").replace("plums", "bones"))
    family.all_meet()
    same(*family.laptops)
    names = {name.casefold() for name in first.files()}
    assert len(names) == len(first.files()) == 4
    assert not any(":" in name for name in names)
    assert set(first.files().values()) >= {card.encode(), card.replace("Jam", "Broth").encode()}


def test_a_newer_rule_takes_nothing_in_and_goes_on_sending(
    family: Any, same: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A laptop that meets a newer recipebox says whose, keeps its box, still sends, and is well once renewed."""
    first, second, third = family.three()
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    with monkeypatch.context() as newer:
        for module in ("history.history", "history.view", "sync.checking"):
            newer.setattr(f"recipebox.{module}.RULE", 2)
        first.sync()
    third.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
    third.sync()
    second.write("soup.txt", "Soup\n\n2 onions\n1 cup water\n")
    outcome = second.sync()
    assert (outcome.places[0].state, outcome.places[0].waits_for) == ("newer rule", ("kitchen",))
    assert outcome.came == ()
    assert outcome.went == ("soup.txt",)
    assert "jam.txt" not in second.files()
    for module in ("history.history", "history.view", "sync.checking"):
        monkeypatch.setattr(f"recipebox.{module}.RULE", 2)
    family.all_meet()
    same(*family.laptops)
    assert set(first.files()) == {"pies/leek.txt", "jam.txt", "soup.txt"}


def test_two_laptops_of_one_name_are_told_apart(family: Any) -> None:
    """What waits for one of two laptops of the same name says which, by the first letters of its id."""
    first, _, third = family.three()
    third.box = create(third.root, "kitchen")
    third.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
    third.sync()
    first.sync()
    third.write("jam.txt", "Jam\n\n3 cups plums\n1 cup sugar\n")
    third.sync()
    newest = max(family.place.rglob(f"{third.box.laptop_id}/*.bundle"))
    newest.write_bytes(b"half")
    assert first.sync().places[0].waits_for == (f"kitchen ({third.box.laptop_id[:4]})",)


def test_a_hostile_laptop_is_refused_and_the_others_are_met(family: Any) -> None:
    """Changes that break the limits are named and wait whole; what others left is taken all the same."""
    first, second, third = family.three()
    store = second.history.store
    tree = store.put_tree({"big.txt": store.put_blob(b"Big\n\n2 cups plums\n" + b"note\n" * 300_000)})
    message = {"rule": 1, "laptop": {"id": second.box.laptop_id, "name": "study"}, "moves": []}
    made = store.put_commit(tree, (second.history.head,), "Big", message, "x", "x", 1)
    second.history.note_laptop(second.box.laptop_id, made)
    store.set_ref(MAIN, made)
    (second.root / "pies/leek.txt").unlink()
    second.sync(yes=True)
    third.write("jam.txt", "Jam\n\n2 cups plums\n1 cup sugar\n")
    third.sync()
    outcome = first.sync()
    assert outcome.places[0].state == "refused"
    assert outcome.places[0].waits_for == ("study",)
    assert outcome.came == ("jam.txt",)
    assert "pies/leek.txt" in first.files()


def test_a_stick_may_come_back_under_another_path(family: Any, same: Any, tmp_path: Path) -> None:
    """The same stick at another mount point is no other laptop's work, and what was left there is whole."""
    first, second, _ = family.three()
    was = first.box.laptop_id
    elsewhere = tmp_path / "elsewhere"
    family.place.rename(elsewhere)
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    outcome = first.sync(elsewhere)
    assert (outcome.places[0].state, first.box.laptop_id) == ("met", was)
    assert second.sync(elsewhere).came == ("pies/leek.txt",)
    same(first, second)
    assert first.sync().went == ()


def test_a_laptop_set_back_to_an_older_state_loses_nothing(family: Any, same: Any, tmp_path: Path) -> None:
    """A laptop restored from a backup finds its own later edits at the place, and goes on from both."""
    first, second, _ = family.three()
    backup = tmp_path / "backup"
    shutil.copytree(first.root, backup)
    first.change("pies/leek.txt", "3 eggs", "4 eggs")
    first.sync()
    second.sync()
    shutil.rmtree(first.root)
    shutil.copytree(backup, first.root)
    first.change("pies/leek.txt", "1 cup milk", "2 cups milk")
    family.all_meet()
    same(*family.laptops)
    assert "4 eggs" in first.read("pies/leek.txt")
    assert "2 cups milk" in first.read("pies/leek.txt")
