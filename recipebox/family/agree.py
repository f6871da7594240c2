"""Make or renew the family recipe of a dish in a box."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from recipebox.box import Box, lock, read_file
from recipebox.cards.model import Card
from recipebox.cards.names import named_apart
from recipebox.cards.things import thing
from recipebox.family.choosing import with_choices
from recipebox.family.meaning import as_meant
from recipebox.family.model import Choices, FamilyError, Proposal, proposal_data
from recipebox.family.propose import propose_new
from recipebox.family.renew import renew
from recipebox.family.which import FoundDish, LastTime, card_in, find_dish, last_time

if TYPE_CHECKING:
    from recipebox.history import History
    from recipebox.index import Index


@dataclass(frozen=True)
class Outcome:
    """What merging a dish gives: `data` in the shape of `merge --json`, the whole card as proposed, and as it was.

    `asks` is True where a person is still needed: nothing is written yet, or something is undecided.
    """

    data: dict[str, Any]
    text: bytes
    was: bytes | None
    changed: bool
    asks: bool
    written: bool


@dataclass(frozen=True)
class _Now:
    """A dish as it stands: its versions as written and as meant, their bytes by path, which of them are gone."""

    cards: list[Card]
    meant: list[Card]
    texts: dict[str, bytes]
    gone: frozenset[str]


def merge_dish(
    box: Box,
    index: "Index",
    history: "History",
    words: str,
    *,
    start_from: str | None = None,
    take: Sequence[str] = (),
    leave_out: Sequence[str] = (),
    swap: Sequence[str] = (),
    why: str | None = None,
    write: bool = False,
) -> Outcome:
    """Propose the family recipe of a dish, and write it as a new edition where `write` is True.

    `take` and `swap` hold "ITEM=NAME", `leave_out` items. Nobody's version is changed. With nothing new the card stays
    as it is, byte for byte. Raises FamilyError for a dish or choice that is not there, BoxError where the box cannot be
    read or written.
    """
    with lock(box):
        index.refresh()
        dish = find_dish(index, words)
        if write:
            history.snapshot("Edited by hand")
            index.refresh()
            dish = find_dish(index, words)
        path = dish.families[0].path if dish.families else _free_path(box, index, dish.name)
        was, current = _as_it_stands(box, dish)
        last = last_time(history, path) if dish.families else None
        now = _versions_now(box, history, dish)
        old = _moved(dish, last) if last else {}
        before = _carried(last, old)
        choices = with_choices(before, now.meant, start_from=start_from, take=take, leave_out=leave_out, swap=swap)
        chosen = [thing(words.rpartition("=")[0] or words) for words in (*take, *leave_out, *swap)]
        proposal = propose_new(
            (last.dish if last else "") or dish.name,
            now.cards,
            path=path,
            texts=now.texts,
            choices=choices,
            asked=chosen,
            gone=now.gone,
            why=why,
        )
        if current is not None:
            earlier = _earlier(history, dish, last, now, old, before, path, proposal)
            proposal = renew(earlier, proposal, current, path, chosen)
        changed = was is None or proposal.text != was
        written = bool(write and changed)
        if written:
            said = why or f"{'Renewed' if was is not None else 'Made'} the family recipe for {proposal.card.title}"
            facts = {"command": "merge", "merge": _facts(proposal, path, now)}
            _write(history, path, proposal.text, [other.path for other in dish.families[1:]], said, facts)
            index.refresh()
        data = {
            "dish": proposal.card.title,
            "path": path,
            "edition": _edition(history, path, was, changed, written),
            "written": written,
            **{key: value for key, value in proposal_data(proposal, now.meant).items() if key != "dish"},
            "why": why,
        }
    return Outcome(data, proposal.text, was, changed, (changed and not written) or bool(proposal.undecided), written)


def _write(
    history: "History", path: str, text: bytes, others: Sequence[str], why: str, facts: Mapping[str, Any]
) -> None:
    """Record the edition, then put it in place: a process killed at any point leaves the old edition or the new."""
    torn = next((one for one in history.torn if one[0] == path), None)
    if torn is not None:
        raise FamilyError(f"{path}: {torn[1]}; mend it, or type: recipebox history {path} --bring-back N")
    files = history.files(history.head)
    files[path] = history.store.put_blob(text)
    for other in others:
        files.pop(other, None)
    made = history.record_tree(files, why, facts)
    history.put(made)
    history.note_own(made)


def _as_it_stands(box: Box, dish: FoundDish) -> tuple[bytes | None, bytes | None]:
    """The family recipe's bytes; and those to renew: with a second recipe of the same dish, both made one."""
    from recipebox.merge import UnmergeableError, merge_card

    if not dish.families:
        return None, None
    texts = [read_file(box, card.path) for card in dish.families]
    if len(texts) == 1:
        return texts[0], texts[0]
    try:
        return texts[0], merge_card(None, texts, dish.families[0].path)
    except UnmergeableError as error:
        listed = " and ".join(card.path for card in dish.families)
        raise FamilyError(f"{listed}: two family recipes of one dish cannot be made one: {error.why}") from error


def _versions_now(box: Box, history: "History", dish: FoundDish) -> _Now:
    """The dish's versions from the disk; of one that is named but gone, its last recorded text."""
    from recipebox.box import MissingError

    cards: list[Card] = []
    texts: dict[str, bytes] = {}
    gone = set()
    listed = [line.path for family in dish.families for line in family.versions]
    for called in dict.fromkeys([*dish.versions, *listed]):
        path = called.partition("#")[0]
        try:
            data: bytes | None = read_file(box, path)
        except MissingError:
            data = _last_text(history, path)
            if data is None:
                continue
            gone.add(called)
        else:
            if called not in dish.versions:
                continue  # the family said that it is another dish
        card = card_in(data, called)
        if card is not None and card.kind != "family" and data is not None:
            cards.append(card)
            texts[path] = data
    if not cards:
        raise FamilyError(f"{dish.name}: none of its versions can be read")
    cards = named_apart(sorted(cards, key=lambda card: card.called))
    return _Now(cards, as_meant(cards), texts, frozenset(gone))


def _last_text(history: "History", path: str) -> bytes | None:
    for entry in history.log(path):
        if entry.text is not None:
            return history.text_at(entry.id, entry.path)
    return None


def _moved(dish: FoundDish, last: LastTime) -> dict[str, str]:
    """What versions were called the last time, to what they are called now: the Versions lines follow moves by name."""
    now = {line.name: line.path for family in dish.families for line in family.versions}
    return {called: now.get(name, called) for called, name in last.names.items()}


def _carried(last: LastTime | None, moved: Mapping[str, str]) -> Choices:
    """The choices of earlier editions, under the names of today; the base stays what it was."""
    if last is None:
        return Choices()
    choices = last.choices
    return replace(
        choices,
        start_from=moved.get(last.base, last.base),
        take={item: moved.get(called, called) for item, called in choices.take.items()},
        swap={item: moved.get(called, called) for item, called in choices.swap.items()},
    )


def _earlier(
    history: "History",
    dish: FoundDish,
    last: LastTime | None,
    now: _Now,
    moved: Mapping[str, str],
    before: Choices,
    path: str,
    proposal: Proposal,
) -> Proposal:
    """The proposal as it would have been the last time, made from the versions' texts of then."""
    cards: list[Card] = []
    texts: dict[str, bytes] = {}
    if last is None:
        listed = {line.path for family in dish.families for line in family.versions}
        cards = [card for card in now.cards if card.called in listed]
        texts = now.texts
    else:
        for called in last.names:
            data = history.text_at(last.id, called.partition("#")[0]) or _last_text(history, called.partition("#")[0])
            card = card_in(data, called)
            if card is not None and data is not None:
                at = moved.get(called, called).partition("#")[0]
                cards.append(replace(card, path=at))
                texts[at] = data
    if not cards:
        return proposal
    gone = {line.path for family in dish.families for line in family.versions if line.gone}
    return propose_new(
        last.dish if last and last.dish else proposal.dish, cards, path=path, texts=texts, choices=before, gone=gone
    )


def _facts(proposal: Proposal, path: str, now: _Now) -> dict[str, Any]:
    """What a snapshot's message keeps of a merge: choices, versions and where every line is from."""
    data = proposal_data(proposal, now.meant)
    return {
        "path": path,
        "dish": proposal.dish,
        "base": proposal.base,
        "choices": proposal.choices.data(),
        "versions": {card.called: card.name or card.called for card in now.meant},
        "lines": [
            {**line_data, "sources": [[s.path, s.line, s.text] for s in line.sources]}
            for line_data, line in zip(data["lines"], proposal.lines, strict=True)
        ],
        "not_taken": data["not_taken"],
        "why": proposal.why,
    }


def _edition(history: "History", path: str, was: bytes | None, changed: bool, written: bool) -> str:
    """The edition's number: the current one, or the one that writing would make; a hand edit that no snapshot has
    recorded yet is an edition of its own before it."""
    editions = history.editions(path)
    current = next((edition for edition in editions if edition.current), None)
    if current is None:
        return "1" if not editions else str(_number(editions[-1].number) + 1)
    if written:
        return current.number
    more = int(changed) + int(was is not None and current.text != was)
    return str(_number(current.number) + more) if more else current.number


def _number(edition: str) -> int:
    return int("".join(letter for letter in edition if letter.isdigit()) or 0)


def _free_path(box: Box, index: "Index", title: str) -> str:
    from recipebox.gather.bring import file_stem

    stem, number = file_stem(title), 1
    path = f"family/{stem}.txt"
    taken = {card.path.casefold() for card in index.cards()}
    while path.casefold() in taken or (box.root / path).exists():
        number += 1
        path = f"family/{stem}-{number}.txt"
    return path
