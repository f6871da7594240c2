"""Looking into the past of a whole box: words that were written once, and cards that are gone."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from recipebox.cards.text import NotTextError, decode
from recipebox.history.store import Commit

if TYPE_CHECKING:
    from recipebox.history.history import History


@dataclass(frozen=True, slots=True)
class Written:
    """A line that holds the words: where, in which recorded state it first stood, who recorded it."""

    path: str
    id: str
    when: int
    laptop: str
    line: int
    text: str


@dataclass(frozen=True, slots=True)
class Gone:
    """A file that was taken away: the last state that had it, and the edit that took it."""

    path: str
    had: str
    taken: str
    when: int
    laptop: str


def find_words(history: "History", words: str, path: str | None = None) -> list[Written]:
    """Lines that hold all the words, in any case, in any text ever recorded; oldest first, each text looked at once."""
    wanted = words.casefold().split()
    seen: set[str] = set()
    found = []
    for commit, name, text in _new_texts(history):
        if text in seen or (path is not None and name != path):
            continue
        seen.add(text)
        try:
            lines = decode(history.store.blob(text)).lines
        except NotTextError:
            continue
        for number, line in enumerate(lines, start=1):
            folded = line.words.casefold()
            if all(word in folded for word in wanted):
                laptop = commit.message.laptop or commit.author
                found.append(Written(name, commit.id, commit.when, laptop, number, line.words.strip()))
    return found


def gone(history: "History") -> list[Gone]:
    """Files that were recorded once and are not in the box now, by path; one that moved is not gone."""
    head = history.head
    if head is None:
        return []
    now = history.files(head)
    taken: dict[str, Gone] = {}
    for commit_id in history.graph.oldest_first(history.graph.ancestors([head])):
        commit = history.commit(commit_id)
        moved = commit.message.moves
        for parent in commit.parents:
            changes = history.store.changes(history.commit(parent).tree, commit.tree)
            for path, (before, after) in changes.items():
                if before and not after and path not in moved and path not in now:
                    laptop = commit.message.laptop or commit.author
                    taken[path] = Gone(path, parent, commit_id, commit.when, laptop)
    return [taken[path] for path in sorted(taken)]


def _new_texts(history: "History") -> Iterator[tuple[Commit, str, str]]:
    head = history.head
    for commit_id in history.graph.oldest_first(history.graph.ancestors([head] if head else [])):
        commit = history.commit(commit_id)
        for parent in commit.parents or ("",):
            before = history.commit(parent).tree if parent else None
            for path, (_, after) in history.store.changes(before, commit.tree).items():
                if after:
                    yield commit, path, after
