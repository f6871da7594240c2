"""The states a card has had: changes in order, and editions with numbers that are alike on every laptop."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from recipebox.history.store import Commit

if TYPE_CHECKING:
    from recipebox.history.history import History


@dataclass(frozen=True, slots=True)
class Entry:
    """One change of a card's text. `text` is None where the card was taken away; `path` what it was called then."""

    id: str
    path: str
    when: int
    laptop: str
    why: str
    data: Mapping[str, Any]
    text: str | None  # blob id


@dataclass(frozen=True, slots=True)
class Edition:
    """One text that a card has had. `number` is "2", or "2a" and "2b" for texts made apart on the same number."""

    number: str
    id: str
    text: bytes
    when: int
    laptop: str
    why: str
    data: Mapping[str, Any]
    current: bool


@dataclass(frozen=True, slots=True)
class _State:
    commit: Commit
    path: str
    text: str | None
    before: tuple[str | None, ...]  # the card's text in each parent
    number: int


def log(history: "History", path: str) -> list[Entry]:
    """Each recorded change of a card's text, newest first, followed along its moves. `path` is as it is called now."""
    entries = []
    for state in _states(history, path):
        if state.text not in state.before and (state.text is not None or any(state.before)):
            commit = state.commit
            message = commit.message
            laptop = message.laptop or commit.author
            entries.append(Entry(commit.id, state.path, commit.when, laptop, message.why, message.facts, state.text))
    return entries[::-1]


def editions(history: "History", path: str) -> list[Edition]:
    """The editions of a card, oldest first.

    A number is one more than the changes of text before it on the longest way back. Texts made apart on one number
    are told apart by letters in the order of their content's hash; one text is one edition however often it was made.
    """
    states = [state for state in _states(history, path) if state.text is not None]
    if not states:
        return []
    first: dict[tuple[int, str], _State] = {}
    for state in states:
        if state.text is not None:
            first.setdefault((state.number, state.text), state)
    now = states[-1] if states[-1].commit.id == history.head else None
    texts: dict[int, list[str]] = {}
    for number, text in sorted(first):
        texts.setdefault(number, []).append(text)
    found = []
    for (number, text), state in sorted(first.items()):
        rivals = texts[number]
        letter = _letter(rivals.index(text)) if len(rivals) > 1 else ""
        message = state.commit.message
        found.append(
            Edition(
                f"{number}{letter}",
                state.commit.id,
                history.store.blob(text),
                state.commit.when,
                message.laptop or state.commit.author,
                message.why,
                message.facts,
                now is not None and (now.number, now.text) == (number, text),
            )
        )
    return found


def _states(history: "History", path: str) -> Iterator[_State]:
    """The card in every recorded state, oldest first, the head last."""
    head = history.head
    if head is None:
        return
    order = history.graph.oldest_first(history.graph.ancestors([head]))
    names = {head: path}
    for commit_id in reversed(order):
        commit = history.commit(commit_id)
        if commit_id not in names:
            continue
        for parent in commit.parents:
            names.setdefault(parent, called_before(history, commit, names[commit_id], parent))
    numbers: dict[str, int] = {}
    texts: dict[str, str | None] = {}
    for commit_id in order:
        commit = history.commit(commit_id)
        name = names.get(commit_id, path)
        text = history.store.entry(commit.tree, name)
        before = tuple(texts[parent] for parent in commit.parents)
        number = 0 if commit.parents else int(text is not None)
        for parent in commit.parents:
            number = max(number, numbers[parent] + int(text is not None and text != texts[parent]))
        numbers[commit_id] = number
        texts[commit_id] = text
        yield _State(commit, name, text, before, number)


def called_before(history: "History", commit: Commit, path: str, parent: str) -> str:
    """What a card was called in a parent of the state in which it is called `path`."""
    came_from = [old for old, new in commit.message.moves.items() if new == path]
    tree = history.commit(parent).tree
    same = [path] if history.store.entry(tree, path) else []
    moved = [old for old in came_from if history.store.entry(tree, old)]
    # A merge's moves tell of several parents: in one of them the file may bear its new name already.
    ways = [*same, *moved] if len(commit.parents) > 1 else [*moved, *same]
    return ways[0] if ways else path


def _letter(number: int) -> str:
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters
