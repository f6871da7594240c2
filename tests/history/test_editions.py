"""Editions and their numbers."""

from pathlib import Path

from recipebox.history import History

PATH = "family/leek-pie.txt"


def edit(history: History, text: str, why: str = "Edited") -> str:
    file = history.box.root / PATH
    file.parent.mkdir(exist_ok=True)
    file.write_text(text)
    made = history.snapshot(why, as_is=[PATH])  # a card without its last section looks torn
    assert made is not None
    return made.id


def aside(history: History, parent: str, text: str, when: int = 5) -> str:
    """An edit of another laptop upon `parent`."""
    tree = history.store.put_tree({**history.files(parent), PATH: history.store.put_blob(text.encode())})
    facts = {"laptop": {"id": "a" * 16, "name": "attic"}, "rule": 1, "moves": []}
    return history.store.put_commit(tree, (parent,), "Elsewhere", facts, "attic", "a" * 16, when)


def numbers(history: History) -> list[tuple[str, str]]:
    return [(edition.number, edition.text.decode()) for edition in history.editions(PATH)]


def test_numbers_count_changes_of_text(history: History, card: str) -> None:
    """Each change of text is an edition; other cards' changes are not; going back to a text is a new one."""
    edit(history, card)
    (history.box.root / "other.txt").write_text(card)
    history.snapshot("Another card")
    edit(history, card + "\nNotes\n  good\n", "A hand edit needs no bookkeeping")
    edit(history, card)
    assert numbers(history) == [("1", card), ("2", card + "\nNotes\n  good\n"), ("3", card)]
    assert [edition.current for edition in history.editions(PATH)] == [False, False, True]
    assert history.editions(PATH)[1].why == "A hand edit needs no bookkeeping"


def test_two_made_apart_are_a_and_b_and_their_merge_is_the_next(history: History, card: str) -> None:
    """Editions made apart share a number and are told apart by their content; what they come to is one more."""
    first = edit(history, card)
    edit(history, card.replace("3 eggs", "4 eggs"))
    other = aside(history, first, card.replace("1 cup milk", "2 cups milk"))
    assert history.own is not None
    view = history.views.view([history.own, other])
    history.snapshot("Nothing new")
    history.put(view)
    found = dict(numbers(history))
    assert found.keys() == {"1", "2a", "2b", "3"}
    assert "4 eggs" in found["3"]
    assert "2 cups milk" in found["3"]
    by_hash = sorted([found["2a"], found["2b"]], key=lambda text: history.store.put_blob(text.encode()))
    assert by_hash == [found["2a"], found["2b"]]


def test_the_same_text_made_apart_is_one_edition(history: History, card: str) -> None:
    """Two laptops that make the same change have made one edition."""
    first = edit(history, card)
    edit(history, card.replace("3 eggs", "4 eggs"))
    other = aside(history, first, card.replace("3 eggs", "4 eggs"))
    assert history.own is not None
    history.put(history.views.view([history.own, other]))
    assert [number for number, _ in numbers(history)] == ["1", "2"]


def test_the_longest_way_counts(history: History, card: str) -> None:
    """After two changes here and one there, what they come to is edition 4 on every laptop."""
    first = edit(history, card)
    edit(history, card.replace("3 eggs", "4 eggs"))
    edit(history, card.replace("3 eggs", "5 eggs"))
    other = aside(history, first, card.replace("1 cup milk", "2 cups milk"))
    assert history.own is not None
    history.put(history.views.view([history.own, other]))
    assert [number for number, _ in numbers(history)] == ["1", "2a", "2b", "3", "4"]


def test_deleting_and_bringing_back_goes_on_counting(history: History, card: str) -> None:
    """Numbers never start anew."""
    first = edit(history, card)
    (history.box.root / PATH).unlink()
    history.snapshot("Deleted")
    assert [edition.current for edition in history.editions(PATH)] == [False]
    history.bring_back(PATH, first)
    assert [number for number, _ in numbers(history)] == ["1", "2"]
    assert [entry.text is None for entry in history.log(PATH)] == [False, True, False]


def test_editions_follow_a_move(history: History, card: str) -> None:
    """A renamed card keeps its editions."""
    edit(history, card)
    file = Path(history.box.root / PATH)
    file.rename(file.with_name("pie.txt"))
    history.snapshot("Renamed")
    assert [edition.number for edition in history.editions("family/pie.txt")] == ["1"]


def test_words_of_any_time_are_found(history: History, card: str) -> None:
    """A line that was once written is found with where and when it stood."""
    edit(history, card + "\nNotes\n  Brigid's own trick\n")
    edit(history, card)
    [found] = history.find("TRICK brigid's")
    assert (found.path, found.text, found.laptop) == (PATH, "Brigid's own trick", "kitchen")
    assert history.find("trick", path="else.txt") == []
