"""What history is kept in: a bare git repository in the hidden folder, used as a store and nothing else.

No index file, no checkout, no configuration but our own. Commit and blob ids are 40 hex digits throughout.
"""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from recipebox.history.commits import read_state
from recipebox.history.message import Message, read_message, write_message
from recipebox.history.objects import COMMIT, HistoryError, TooBigError, written
from recipebox.history.trees import Trees, parse_tree

if TYPE_CHECKING:
    import pygit2

FOLDER = "history"
MAIN = "refs/heads/main"
_MOST_MESSAGES = 16 << 20  # bytes of messages that are kept at hand
_LATEST = 1 << 33  # later than any clock says; what another laptop claims must still be a date


@dataclass(frozen=True, slots=True)
class Commit:
    """One recorded state. `when` is the recording laptop's own clock, for display only; `step` orders for git."""

    id: str
    parents: tuple[str, ...]
    tree: str
    message: Message
    author: str
    when: int
    step: int


class Store(Trees):
    """Reads and writes objects, recorded states and refs. Open with `open_store`."""

    def __init__(self, repository: "pygit2.Repository", folder: Path) -> None:
        super().__init__(repository, folder)
        self._commits: dict[str, Commit] = {}
        self._lines: dict[str, tuple[tuple[str, ...], int]] = {}
        self._messages = 0

    def commit(self, commit_id: str) -> Commit:
        """A commit by its id. Raises HistoryError if it is not here or damaged."""
        known = self._commits.get(commit_id)
        if known is None:
            known = self._read_commit(commit_id)
            self._commits[commit_id] = known
        return known

    def parents(self, commit_id: str) -> tuple[str, ...]:
        """The parents of a commit. Raises HistoryError."""
        return self._line(commit_id)[0]

    def step(self, commit_id: str) -> int:
        """The step that a commit counts. Raises HistoryError."""
        return self._line(commit_id)[1]

    def _line(self, commit_id: str) -> tuple[tuple[str, ...], int]:
        """What the order of commits is told by; kept for all, as messages, which may be long, are not."""
        known = self._lines.get(commit_id)
        if known is None:
            commit = self.commit(commit_id)
            known = self._lines[commit_id] = commit.parents, commit.step
        return known

    def put_commit(
        self,
        tree: str,
        parents: tuple[str, ...],
        why: str,
        facts: Mapping[str, Any],
        author: str,
        email: str,
        when: int,
    ) -> str:
        """Record a commit and give its id. The time git orders by is one more than the latest parent's."""
        import pygit2

        step = 1 + max((self.step(parent) for parent in parents), default=0)
        by = pygit2.Signature(_name(author), _name(email), when, 0)
        ordered = pygit2.Signature("recipebox", "recipebox", step, 0)
        oids = [pygit2.Oid(hex=parent) for parent in parents]
        text = write_message(why, facts)
        with written(self.folder):
            return str(self.repository.create_commit(None, by, ordered, text, pygit2.Oid(hex=tree), oids))

    def ref(self, name: str) -> str | None:
        """The commit that a ref names, or None."""
        found = self.repository.references.get(name)
        return None if found is None else str(found.target)

    def set_ref(self, name: str, commit_id: str | None) -> None:
        """Let a ref name a commit; None removes it."""
        import pygit2

        with written(self.folder):
            if commit_id is None:
                with suppress(KeyError):
                    self.repository.references.delete(name)
            else:
                self.repository.references.create(name, pygit2.Oid(hex=commit_id), force=True)

    def refs(self, prefix: str) -> dict[str, str]:
        """All refs that begin with a prefix."""
        names = [name for name in self.repository.references if name.startswith(prefix)]
        return {name: target for name in names if (target := self.ref(name)) is not None}

    def sweep(self) -> None:
        """Remove what a killed process left half written. Only under the box's lock."""
        for pattern in (
            "objects/**/tmp_obj*",
            "objects/pack/*.tmp",
            "objects/pack/tmp_*",
            "refs/**/*.lock",
            "*.lock",
            "leaving-*.tmp/*",
        ):
            _remove(self.folder.glob(pattern))
        for folder in list(self.folder.glob("leaving-*.tmp")):
            with suppress(OSError):
                folder.rmdir()
        _remove(self.folder.parent.glob(".recipebox-*.tmp"))

    def _read_commit(self, commit_id: str) -> Commit:
        state = read_state(self.read(commit_id, COMMIT))
        when = min(max(state.when, 0), _LATEST)
        message = read_message(state.message)
        self._messages += len(state.message)
        if self._messages > _MOST_MESSAGES:
            self._commits.clear()
            self._messages = len(state.message)
        self._lines[commit_id] = state.parents, state.step
        return Commit(commit_id, state.parents, state.tree, message, state.author, when, state.step)


def open_store(hidden: Path) -> Store:
    """Open the store in a hidden folder, making it if need be. Raises HistoryError."""
    import pygit2

    _own_settings()
    folder = hidden / FOLDER
    try:
        if (folder / "HEAD").is_file() and (folder / "objects").is_dir():
            return Store(pygit2.Repository(str(folder), pygit2.enums.RepositoryOpenFlag.NO_SEARCH), folder)
        made = pygit2.init_repository(str(folder), bare=True, initial_head="main")
        return Store(made, folder)
    except (pygit2.GitError, OSError) as error:
        raise HistoryError(f"history cannot be opened ({error})", str(folder)) from error


def own_ref(laptop_id: str) -> str:
    """The ref under which a laptop's last edit is known."""
    return f"refs/laptops/{laptop_id}/own"


def _remove(files: Iterable[Path]) -> None:
    for left in list(files):
        with suppress(OSError):
            left.unlink()


def _own_settings() -> None:
    import pygit2

    # The user's own git configuration may be unreadable or change what we store; libgit2 would read it.
    levels = pygit2.enums.ConfigLevel
    for level in (levels.PROGRAMDATA, levels.SYSTEM, levels.XDG, levels.GLOBAL):
        pygit2.settings.search_path[level] = ""
    pygit2.settings.enable_fsync_gitdir(True)
    pygit2.settings.owner_validation = False  # the hidden folder is ours, also on a stick that names another owner
    pygit2.settings.server_timeout = 30_000
    pygit2.settings.server_connect_timeout = 15_000


def _name(words: str) -> str:
    kept = "".join(c for c in words if c.isprintable() and c not in "<>").strip(" .,:;\"'")
    return kept or "laptop"


__all__ = ["FOLDER", "MAIN", "Commit", "HistoryError", "Store", "TooBigError", "open_store", "own_ref", "parse_tree"]
