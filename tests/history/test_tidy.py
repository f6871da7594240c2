"""Folding the store's many files into one pack."""

from recipebox.history import History, open_history
from recipebox.history.tidy import tidy


def test_nothing_is_lost_when_objects_are_folded(history: History, card: str) -> None:
    """After tidying every recorded state reads as before, from far fewer files, and recording goes on."""
    for number in range(12):
        (history.box.root / f"{number % 3}.txt").write_text(card.replace("3 eggs", f"{number} eggs"))
        history.snapshot("Edited by hand")
    before = {commit: history.files(commit) for commit in history.graph.ancestors([history.head or ""])}
    objects = history.store.folder / "objects"
    many = len(list(objects.glob("??/*")))
    assert not tidy(history.store)
    assert tidy(history.store, loose=0)
    assert len(list(objects.glob("??/*"))) == 0 < many
    again = open_history(history.box)
    assert {commit: again.files(commit) for commit in before} == before
    assert all(again.store.blob(blob) for files in before.values() for blob in files.values())
    (history.box.root / "new.txt").write_text(card)
    made = again.snapshot("Edited by hand")
    assert made is not None
    assert tidy(again.store, packs=0, loose=10**9)
    assert len(list((objects / "pack").glob("*.pack"))) == 1
    assert open_history(history.box).text_at(made.id, "new.txt") == card.encode()
