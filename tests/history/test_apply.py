"""Putting a state in place, also when it is broken off."""

from pathlib import Path

import pytest

from recipebox.box import ChangedUnderneathError, system
from recipebox.history import History, open_history


def two_states(history: History) -> tuple[str, str]:
    """The recorded state, and one that another laptop made of it: one card changed, one new, one gone."""
    for name in ("a", "b", "c"):
        (history.box.root / f"{name}.txt").write_text(f"Card {name}\n\n2 cups {name}\n1 egg\n")
    made = history.snapshot("Started")
    assert made is not None
    files = history.files(made.id)
    new = {"a.txt": history.store.put_blob(b"Card a\n\n3 cups a\n1 egg\n"), "new/d.txt": files["b.txt"]}
    tree = history.store.put_tree({**{path: files[path] for path in ("c.txt",)}, **new})
    facts = {"laptop": {"id": "b" * 8, "name": "attic"}, "rule": 1, "moves": []}
    return made.id, history.store.put_commit(tree, (made.id,), "Elsewhere", facts, "attic", "b" * 8, 1)


def on_disk(history: History) -> dict[str, str]:
    root = history.box.root
    files = [file for file in root.rglob("*") if file.is_file() and ".recipebox" not in file.parts]
    return {file.relative_to(root).as_posix(): file.read_text() for file in sorted(files)}


def test_a_state_is_put_in_place(history: History) -> None:
    """Changed, new and removed files are as the state says, and the head names it."""
    _, to = two_states(history)
    assert history.put(to) == ["a.txt", "b.txt", "new/d.txt"]
    assert on_disk(history).keys() == {"a.txt", "c.txt", "new/d.txt"}
    assert history.head == to
    assert history.snapshot("Nothing") is None


def test_a_file_that_changed_meanwhile_is_never_overwritten(history: History) -> None:
    """An edit between snapshot and replacing stops the whole, and all is as before."""
    before, to = two_states(history)
    (history.box.root / "a.txt").write_text("Card a\n\n9 cups a\n1 egg\n")
    with pytest.raises(ChangedUnderneathError):
        history.put(to)
    assert history.head == before
    assert on_disk(history)["a.txt"] == "Card a\n\n9 cups a\n1 egg\n"
    assert on_disk(history).keys() == {"a.txt", "b.txt", "c.txt"}
    made = history.snapshot("Edited")
    assert made is not None
    assert made.changed == ("a.txt",)


@pytest.mark.parametrize("step", ["recipebox.history.apply.replace", "recipebox.history.store.Store.set_ref"])
def test_a_kill_around_the_files_is_mended(history: History, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    """Killed before any file or after all of them: the next snapshot is no edit of anybody's."""

    class Killed(BaseException):
        """What cannot be caught as an error."""

    def die(*args: object, **more: object) -> None:
        raise Killed

    before, to = two_states(history)
    with monkeypatch.context() as patched:
        patched.setattr("recipebox.history.apply.keep", _keeping_the_note(patched))
        patched.setattr(step, die)
        with pytest.raises(Killed):
            history.put(to)
    again = open_history(history.box)
    assert again.snapshot("Edited by hand") is None
    assert again.head == before
    assert on_disk(history).keys() == {"a.txt", "b.txt", "c.txt"}
    assert again.put(to) == ["a.txt", "b.txt", "new/d.txt"]


def _keeping_the_note(patched: pytest.MonkeyPatch) -> object:
    """A killed process removes no note."""
    from recipebox.box import keep

    def kept(box: object, name: str, data: bytes | None) -> None:
        if data is not None:
            keep(box, name, data)  # type: ignore[arg-type]

    return kept


def test_an_edit_after_a_kill_stands_on_what_it_was_made_from(history: History, tmp_path: Path) -> None:
    """Half the files changed, killed, then edited by hand: the half is undone, the edit is kept and recorded."""
    import os

    before, to = two_states(history)
    child = os.fork()
    if not child:
        _die_at_a_new_file()
        history.put(to)
        os._exit(0)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 9
    assert "3 cups a" in on_disk(history)["a.txt"]
    (history.box.root / "c.txt").write_text("Card c\n\n5 cups c\n1 egg\n")
    again = open_history(history.box)
    made = again.snapshot("Edited by hand")
    assert made is not None
    assert made.changed == ("c.txt",)
    assert again.commit(made.id).parents == (before,)


def _die_at_a_new_file() -> None:
    import os

    really = system._rename_specially

    def rename(folder: int, name: str, other: str, how: int) -> bool:
        if how == system._FREE_ONLY:
            os._exit(9)
        return really(folder, name, other, how)

    system._rename_specially = rename


def test_files_and_folders_may_change_places(history: History) -> None:
    """A file that becomes a folder, a folder that becomes a file, and a name that changes in case only all go."""
    root = history.box.root
    (root / "pie.txt").write_text("Pie\n\n2 cups leeks\n1 egg\n")
    (root / "Jam").mkdir()
    (root / "Jam/plum.txt").write_text("Jam\n\n2 cups plums\n1 cup sugar\n")
    (root / "case.txt").write_text("Broth\n\n2 onions\n1 cup water\n")
    made = history.snapshot("Started")
    assert made is not None
    files = history.files(made.id)
    new = {"pie.txt/inner.txt": files["pie.txt"], "Jam": files["Jam/plum.txt"], "Case.txt": files["case.txt"]}
    to = history.store.put_commit(history.store.put_tree(new), (made.id,), "Moved", {"rule": 1}, "x", "x", 1)
    history.put(to)
    assert on_disk(history).keys() == new.keys()
    history.put(made.id) if history.snapshot("Nothing") is None else None
    assert on_disk(history).keys() == files.keys()


def test_one_edit_brings_all_files_back(history: History) -> None:
    """Of many files to be changed, one that somebody edited meanwhile brings all the others back."""
    root = history.box.root
    for number in range(60):
        (root / f"{number}.txt").write_text(f"Soup {number}\n\n2 onions\n1 cup water\n")
    made = history.snapshot("Started")
    assert made is not None
    new = {f"{n}.txt": history.store.put_blob(f"Soup {n}\n\n3 onions\n1 cup water\n".encode()) for n in range(60)}
    to = history.store.put_commit(history.store.put_tree(new), (made.id,), "All", {"rule": 1}, "x", "x", 1)
    before = on_disk(history)
    (root / "40.txt").write_text("Soup 40\n\n9 onions\n1 cup water\n")
    with pytest.raises(ChangedUnderneathError):
        history.put(to)
    assert on_disk(history) == {**before, "40.txt": "Soup 40\n\n9 onions\n1 cup water\n"}
    (root / "40.txt").write_text(before["40.txt"])
    history.snapshot("Nothing")
    assert len(history.put(to)) == 60
