"""The past of a card: editions, what changed, whose each line is, bringing a text back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

from recipebox.box import Box
from recipebox.cards.model import Card
from recipebox.cards.text import decode
from recipebox.compare import compare, comparison_data
from recipebox.family.headers import headers_of
from recipebox.family.model import FamilyError
from recipebox.family.sentences import said
from recipebox.family.which import card_in, find_card, last_time

if TYPE_CHECKING:
    from recipebox.history import Edition, History
    from recipebox.index import Index


@dataclass(frozen=True)
class Answer:
    """An answer in one of the shapes of `history --json`. `asks` says what a person must choose first, else None."""

    data: dict[str, Any]
    asks: str | None = None


def history_data(
    box: Box,
    index: "Index",
    history: "History",
    words: str | None,
    *,
    edition: str | None = None,
    compare: tuple[str, str] | None = None,
    whose: bool = False,
    bring_back: str | None = None,
    find: str | None = None,
    gone: bool = False,
) -> Answer:
    """Look into the past of a card or dish, or of the whole box (`find`, `gone`); `bring_back` brings an edition back.

    An edition made apart on two laptops ("2a", "2b") is asked for by its letter. Raises FamilyError for a card or an
    edition that is not there.
    """
    if gone:
        return Answer({"gone": [_gone(one) for one in history.gone()]})
    if find is not None:
        path = None if words is None else _path_of(index, history, words)
        return Answer({"found": [_written(one) for one in history.find(find, path)]})
    if words is None:
        raise FamilyError("name a card or a dish")
    path = _path_of(index, history, words)
    editions = history.editions(path)
    if bring_back is not None:
        chosen = _numbered(editions, bring_back, path)
        if len(chosen) > 1:
            return _which(path, chosen)
        then = {entry.id: entry.path for entry in history.log(path)}
        history.bring_back(path, chosen[0].id, then.get(chosen[0].id, path))
        index.refresh()
        editions = history.editions(path)
    if edition is not None:
        chosen = _numbered(editions, edition, path)
        if len(chosen) > 1:
            return _which(path, chosen)
        return Answer({"edition": chosen[0].number, "text": _text(chosen[0].text)})
    if compare is not None:
        return _compared(editions, compare, path)
    if whose:
        return Answer(_whose(history, path, editions))
    return Answer({"path": path, "entries": [_edition(one) for one in editions]})


def _path_of(index: "Index", history: "History", words: str) -> str:
    """The path of the card meant; a path that only history knows counts too."""
    try:
        return find_card(index, words).path
    except FamilyError:
        if history.log(words):
            return words
        raise


def _numbered(editions: Sequence["Edition"], number: str, path: str) -> list["Edition"]:
    wanted = number.strip().casefold()
    exact = [one for one in editions if one.number == wanted]
    apart = [one for one in editions if one.number.rstrip("abcdefghijklmnopqrstuvwxyz") == wanted]
    if not (exact or apart):
        there = ", ".join(one.number for one in editions) or "none yet"
        raise FamilyError(f"{path}: there is no edition {number}; there are {there}")
    return exact or apart


def _which(path: str, chosen: Sequence["Edition"]) -> Answer:
    names = " and ".join(one.number for one in chosen)
    asks = f"{path}: this edition was made apart on two laptops: say which, {names}"
    return Answer({"path": path, "entries": [_edition(one) for one in chosen]}, asks)


def _compared(editions: Sequence["Edition"], numbers: tuple[str, str], path: str) -> Answer:
    cards: list[Card] = []
    for number in numbers:
        chosen = _numbered(editions, number, path)
        if len(chosen) > 1:
            return _which(path, chosen)
        card = card_in(chosen[0].text, path)
        if card is None:
            raise FamilyError(f"{path}: edition {number} cannot be read as a card")
        cards.append(replace(card, path=f"{path} (edition {chosen[0].number})"))
    if cards[0].path == cards[1].path:
        raise FamilyError("name two different editions")
    return Answer(comparison_data(compare(cards)))


def _whose(history: "History", path: str, editions: Sequence["Edition"]) -> dict[str, Any]:
    """For each line of the recipe as it stands: whose versions say the same, since which edition, by which rule."""
    current = next((one for one in editions if one.current), None)
    card = card_in(current.text, path) if current else None
    if card is None:
        raise FamilyError(f"{path}: nothing is recorded of it as it stands; the next merge or sync records it")
    if card.kind != "family":
        return _one_persons(card, path, editions)
    last = last_time(history, path)
    facts = last.facts if last else {}
    left: list[Mapping[str, Any]] = [line for line in facts.get("lines", []) if isinstance(line, dict)]
    names = last.names if last else {}
    lines = []
    texts = [(one.number, _words(card_in(one.text, path))) for one in editions]
    for part, text in _lines_of(card):
        match = next(
            (line for line in left if line.get("part") == part and said(str(line["text"])) == said(text)), None
        )
        if match is not None:
            left.remove(match)
        lines.append(
            {
                "part": part,
                "text": text,
                "from": match["from"] if match else [],
                "who": [names.get(called, called) for called in match["from"]] if match else [],
                "since": _since(texts, said(text)),
                "rule": match["rule"] if match else _own_rule(texts, said(text)),
                "choice": match.get("choice") if match else None,
            }
        )
    not_taken = list(facts.get("not_taken", []))
    for line in left:
        not_taken += [
            {
                "path": source[0],
                "line": source[1],
                "text": source[2],
                "where": "version",
                "why": "the family has its own line in its place",
            }
            for source in line.get("sources", [])
            if line.get("part") in ("ingredient", "step")
        ]
    return {"path": path, "lines": lines, "not_taken": not_taken}


def _lines_of(card: Card) -> list[tuple[str, str]]:
    found = [("title", card.title), *(("header", f"{h.name}: {h.value}") for h in headers_of(card))]
    found += [("ingredient", line.text) for line in card.ingredients]
    return found + [("step", step.text) for step in card.steps]


def _words(card: Card | None) -> frozenset[str]:
    return frozenset(said(text) for _, text in _lines_of(card)) if card else frozenset()


def _one_persons(card: Card, path: str, editions: Sequence["Edition"]) -> dict[str, Any]:
    """A version's lines are its own cook's, all of them."""
    texts = [(one.number, _words(card_in(one.text, path))) for one in editions]
    who = card.name or card.called
    return {
        "path": path,
        "lines": [
            {
                "part": part,
                "text": text,
                "from": [card.called],
                "who": [who],
                "since": _since(texts, said(text)),
                "rule": f"{who}'s own card",
                "choice": None,
            }
            for part, text in _lines_of(card)
        ],
        "not_taken": [],
    }


def _own_rule(texts: Sequence[tuple[str, frozenset[str]]], words: str) -> str:
    """Why a line stands that is from no merge: written by hand, or brought back as an earlier edition had it."""
    having = [words in lines for _, lines in texts]
    if having and having[-1]:
        back = len(having)
        while back and having[back - 1]:
            back -= 1
        earlier = [number for (number, _), has in zip(texts[:back], having[:back], strict=True) if has]
        if earlier:
            return f"the family's own, brought back as edition {earlier[-1]} had it"
    return "the family's own, changed by hand"


def _since(texts: Sequence[tuple[str, frozenset[str]]], words: str) -> str | None:
    """The edition from which a line has stood without a break to the last."""
    since = None
    for number, lines in texts:
        since = (since or number) if words in lines else None
    return since


def _edition(one: "Edition") -> dict[str, Any]:
    return {
        "edition": one.number,
        "id": one.id,
        "when": _when(one.when),
        "laptop": one.laptop,
        "why": one.why,
        "current": one.current,
    }


def _written(one: Any) -> dict[str, Any]:
    return {
        "path": one.path,
        "id": one.id,
        "when": _when(one.when),
        "laptop": one.laptop,
        "line": one.line,
        "text": one.text,
    }


def _gone(one: Any) -> dict[str, Any]:
    return {"path": one.path, "id": one.had, "when": _when(one.when), "laptop": one.laptop}


def _when(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat()


def _text(data: bytes) -> str:
    return "".join(line.words + line.end for line in decode(data).lines)
