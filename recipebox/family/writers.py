"""Who wrote which wording of an undecided entry: which laptops' own edits, as history has them."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from recipebox.cards.text import NotTextError, decode
from recipebox.family.sentences import said

if TYPE_CHECKING:
    from recipebox.history import History

_KEEP, _LEAVE_OUT = "keep", "leave out"
_BELOW = re.compile(r"^\W*(?:undecided|settled)\W*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Edit:
    """One laptop's own edit of a card: lines of its body that came and that went, or the card that went."""

    id: str
    laptop: str
    came: tuple[frozenset[str], ...]
    went: tuple[frozenset[str], ...]
    named: frozenset[str]
    gone: bool
    first: bool


def writers(history: "History", path: str, about: str, wordings: Sequence[str]) -> list[list[str]]:
    """For each wording the laptops that wrote it, by name; two of one name with the first letters of their ids.

    A laptop wrote a wording if an edit of its own, neither a merge nor a settling, brought a line with all the words in
    which this wording differs from the others. It chose "leave out" if it took such a line, or the card, away.
    """
    edits = list(_edits(history, path.partition("#")[0]))
    names = _names(history, edits)
    whole = [words for text in wordings if (words := _words(text)) and text not in (_KEEP, _LEAVE_OUT)]
    common = frozenset.intersection(*whole) if whole else frozenset()
    topic = _words(re.sub(r"\s*\([^()]*\)$", "", about.removeprefix("step: ")))
    found = []
    for text in wordings:
        if said(about) == "this card":
            mine: Iterable[_Edit] = _of_the_card(history, edits, text)
        elif text == _LEAVE_OUT:
            mine = [one for one in edits if _has(one.went, topic) and not _has(one.came, topic)]
        else:
            words = _words(text)
            mine = [one for one in edits if text in one.named or _wrote(one, words, words - common or words)]
        found.append(sorted({names[one.laptop] for one in mine}))
    return found


def _words(text: str) -> frozenset[str]:
    return frozenset(said(text).split())


def _has(lines: Iterable[frozenset[str]], words: frozenset[str]) -> bool:
    return any(words <= line for line in lines)


def _wrote(edit: _Edit, words: frozenset[str], telling: frozenset[str]) -> bool:
    return any(telling <= line and 2 * len(words & line) >= len(words) for line in edit.came)


def _of_the_card(history: "History", edits: Sequence[_Edit], text: str) -> list[_Edit]:
    """Who took the card away; or who changed it without knowing that it was gone."""
    gone = [one for one in edits if one.gone]
    if text == _LEAVE_OUT:
        return gone
    before = history.graph.ancestors([one.id for one in gone])
    return [one for one in edits if not one.gone and not one.first and one.id not in before]


def _edits(history: "History", path: str) -> Iterator[_Edit]:
    for entry in history.log(path):
        commit = history.commit(entry.id)
        if commit.message.facts.get("view") or entry.data.get("command") == "settle" or not commit.message.laptop_id:
            continue
        was_called = {new: old for old, new in commit.message.moves.items()}.get(entry.path, entry.path)
        was = history.text_at(commit.parents[0], was_called) if commit.parents else None
        now = None if entry.text is None else history.text_at(entry.id, entry.path)
        before, after = _body(was), _body(now)
        yield _Edit(
            entry.id,
            commit.message.laptop_id,
            tuple(map(_words, (after - before).elements())),
            tuple(map(_words, (before - after).elements())),
            frozenset(commit.message.moves.values()),
            entry.text is None,
            was is None,
        )


def _body(text: bytes | None) -> Counter[str]:
    """A card's lines above what is undecided and settled."""
    if text is None:
        return Counter()
    try:
        lines = [line.words.strip() for line in decode(text).lines]
    except NotTextError:
        return Counter()
    below = next((at for at, line in enumerate(lines) if _BELOW.match(line)), len(lines))
    return Counter(line for line in lines[:below] if line)


def _names(history: "History", edits: Sequence[_Edit]) -> dict[str, str]:
    """By the name that each laptop had at the newest of these edits, told apart from all that are known."""
    from recipebox.history import said_names, with_letters

    names = {one.laptop: history.commit(one.id).message.laptop or one.laptop[:4] for one in reversed(edits)}
    told = with_letters({**said_names(history), **names})
    return {laptop: told[laptop] for laptop in names}
