"""The store of objects, with git's own command and libgit2 as witnesses."""

import os
import shutil
import subprocess
from pathlib import Path

import pygit2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.history import HistoryError, TooBigError
from recipebox.history.store import Store, open_store, parse_tree

names = st.text(st.sampled_from("abc .-0é"), min_size=1, max_size=4).filter(lambda name: name not in (".", ".."))
paths = st.lists(names, min_size=1, max_size=3).map("/".join)


def unclashing(files: dict[str, bytes]) -> dict[str, bytes]:
    return {path: data for path, data in files.items() if not any(other.startswith(path + "/") for other in files)}


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Store:
    """One store for all examples: objects never clash."""
    return open_store(tmp_path_factory.mktemp("hidden"))


@settings(max_examples=30)
@given(files=st.dictionaries(paths, st.binary(max_size=6), max_size=8).map(unclashing))
def test_a_tree_written_is_the_tree_read(store: Store, files: dict[str, bytes]) -> None:
    """Files put into a tree come back, and libgit2's own index makes the same tree of them."""
    ids = {path: store.put_blob(data) for path, data in files.items()}
    tree = store.put_tree(ids)
    assert store.files(tree) == ids
    index = pygit2.Index()
    for path, blob_id in ids.items():
        index.add(pygit2.IndexEntry(path, pygit2.Oid(hex=blob_id), pygit2.enums.FileMode.BLOB))
    assert str(index.write_tree(store.repository)) == tree
    assert all(store.entry(tree, path) == blob_id for path, blob_id in ids.items())


@settings(max_examples=30)
@given(
    before=st.dictionaries(paths, st.binary(max_size=2), max_size=6).map(unclashing),
    after=st.dictionaries(paths, st.binary(max_size=2), max_size=6).map(unclashing),
)
def test_changes_are_where_two_trees_differ(store: Store, before: dict[str, bytes], after: dict[str, bytes]) -> None:
    """Changes name exactly the paths whose content differs, with both ids."""
    old = {path: store.put_blob(data) for path, data in before.items()}
    new = {path: store.put_blob(data) for path, data in after.items()}
    expected = {p: (old.get(p), new.get(p)) for p in old.keys() | new.keys() if old.get(p) != new.get(p)}
    assert store.changes(store.put_tree(old), store.put_tree(new)) == expected


def test_links_and_unreadable_names_are_passed_over(store: Store) -> None:
    """A hostile tree's links, submodules, and names that are no text or lead out of the box are not there."""
    blob = bytes.fromhex(store.put_blob(b"x"))
    entries = [
        b"100644 ..\0" + blob,
        b"100644 a/b\0" + blob,
        b"100644 good\0" + blob,
        b"120000 link\0" + blob,
        b"160000 module\0" + blob,
        b"100644 \xff\xfe\0" + blob,
    ]
    assert store.files(store.put_object(2, b"".join(entries))) == {"good": blob.hex()}


def test_deep_and_broken_trees_are_named(store: Store) -> None:
    """Folders deeper than 32 raise TooBigError; bytes that are no tree, or a missing one, HistoryError."""
    tree = store.put_tree({"a": store.put_blob(b"x")})
    for _ in range(32):
        tree = store.put_object(2, b"40000 d\0" + bytes.fromhex(tree))
    with pytest.raises(TooBigError):
        store.files(tree)
    for damaged in (store.put_object(2, b"100644 a\0short"), "0" * 40):
        with pytest.raises(HistoryError):
            store.files(damaged)


@given(data=st.binary(max_size=60))
def test_any_bytes_as_a_tree_raise_only_history_errors(data: bytes) -> None:
    """Parsing a tree never fails in another way."""
    try:
        entries = list(parse_tree(data))
    except HistoryError:
        return
    assert all(len(entry_id) == 40 for _, _, entry_id in entries)


def test_half_written_objects_are_swept(store: Store) -> None:
    """What a killed process left in the store is removed; objects stay."""
    blob = store.put_blob(b"kept")
    left = [store.folder / "objects/ab/tmp_object_git2_x1", store.folder / "refs/heads/main.lock"]
    for file in left:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(b"half")
    store.sweep()
    assert not any(file.exists() for file in left)
    assert store.blob(blob) == b"kept"


def test_the_users_own_git_settings_are_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An unreadable git configuration in the user's home does not matter."""
    (tmp_path / ".gitconfig").write_text("[broken")
    monkeypatch.setenv("HOME", str(tmp_path))
    store = open_store(tmp_path)
    assert store.blob(store.put_blob(b"a\r\nb")) == b"a\r\nb"


@pytest.mark.skipif(shutil.which("git") is None, reason="no git command to be the witness")
def test_stock_git_finds_nothing_wrong(tmp_path: Path) -> None:
    """`git fsck` (git's own check) passes on commits, trees and blobs we wrote, with times that grow."""
    store = open_store(tmp_path)
    tree = store.put_tree({"pies/a.txt": store.put_blob(b"a"), "pies.txt": store.put_blob(b"b")})
    first = store.put_commit(tree, (), "One", {"rule": 1}, "Marit <3>", "id1", 1_700_000_000)
    second = store.put_commit(tree, (first,), "Two", {}, "\n", "", 1)
    store.set_ref("refs/heads/main", second)
    environment = {**os.environ, "GIT_CONFIG_NOSYSTEM": "1", "GIT_DIR": str(store.folder)}
    checked = subprocess.run(["git", "fsck", "--strict"], env=environment, capture_output=True, text=True)
    assert (checked.returncode, checked.stderr) == (0, "")
    assert store.commit(second).step == store.commit(first).step + 1


@settings(max_examples=60)
@given(
    before=st.dictionaries(paths, st.binary(max_size=2), max_size=6).map(unclashing),
    after=st.dictionaries(paths, st.binary(max_size=2), max_size=6).map(unclashing),
)
def test_a_tree_with_some_paths_changed_is_the_tree_of_all(
    store: Store, before: dict[str, bytes], after: dict[str, bytes]
) -> None:
    """Writing only the folders that differ gives the very tree that writing all of it does."""
    old = {path: store.put_blob(data) for path, data in before.items()}
    new = {path: store.put_blob(data) for path, data in after.items()}
    gone: dict[str, str | None] = {path: None for path in old if path not in new}
    tree = store.put_tree(old)
    assert store.tree_with(tree, {**gone, **new}) == store.put_tree(new)
    assert store.plain(store.put_tree(new))
    assert store.plain(store.put_tree(new), store.put_tree(old))


def test_a_tree_with_anything_but_files_and_folders_is_not_plain(store: Store) -> None:
    """Links, submodules, files of odd modes, twice the same name or another order than git's: not as we write trees."""
    blob = bytes.fromhex(store.put_blob(b"x"))
    a, b = b"100644 a\0" + blob, b"100644 b\0" + blob
    for odd in (b"120000 a\0" + blob, b"160000 a\0" + blob, b"100755 a\0" + blob, a + a, b + a):
        tree = store.put_object(2, odd)
        within = store.put_object(2, b"40000 d\0" + bytes.fromhex(tree))
        known = store.put_tree({"d/z": store.put_blob(b"z")})
        assert not store.plain(tree)
        assert not store.plain(within)
        assert not store.plain(within, known)
    assert store.plain(store.put_object(2, a + b))
