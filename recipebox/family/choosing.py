"""What people choose: "ITEM=NAME" and NAME, found among the versions and their rows."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

from recipebox.cards.model import Card
from recipebox.cards.names import named_apart
from recipebox.cards.things import thing
from recipebox.family.lineup import LineUp
from recipebox.family.model import Choices, FamilyError
from recipebox.family.rows import alike
from recipebox.index import fitting


def with_choices(
    before: Choices,
    cards: Sequence[Card],
    *,
    start_from: str | None = None,
    take: Iterable[str] = (),
    leave_out: Iterable[str] = (),
    swap: Iterable[str] = (),
) -> Choices:
    """Earlier choices with those just made; a new one about an item replaces the earlier one about it.

    Raises FamilyError for a NAME that is no version's, words that are not "ITEM=NAME", or choices against each other.
    """
    take, leave_out, swap = list(take), list(leave_out), list(swap)
    quarrel = contradiction(take, leave_out, swap)
    if quarrel:
        raise FamilyError(quarrel)
    taken, swapped, left = dict(before.take), dict(before.swap), set(before.leave_out)
    for words in take:
        item, called = _item_and_version(words, cards, "take")
        _forget(item, taken, swapped, left)
        taken[item] = called
    for words in swap:
        item, called = _item_and_version(words, cards, "swap")
        swapped[item] = called
    for words in leave_out:
        item = _item(words)
        _forget(item, taken, swapped, left)
        left.add(item)
    chosen = replace(before, take=taken, swap=swapped, leave_out=tuple(sorted(left)))
    if start_from is not None:
        chosen = replace(chosen, start_from=version_named(cards, start_from).called)
    return chosen


def contradiction(take: Iterable[str], leave_out: Iterable[str], swap: Iterable[str]) -> str | None:
    """What two choices made at once say against each other about one item, in a line; None if nothing."""
    out = {_item(words) for words in leave_out if words.strip()}
    taken: dict[str, str] = {}
    for option, words in [*(("take", one) for one in take), *(("swap", one) for one in swap)]:
        item, equals, name = words.rpartition("=")
        if not equals or not item.strip():
            continue
        if _item(item) in out:
            return f"{item.strip()}: --{option} and --leave-out say two things about it; give one of them"
        if option == "take" and taken.setdefault(_item(item), name.strip().casefold()) != name.strip().casefold():
            return f"{item.strip()}: --take says two things about it; give one of them"
    return None


def version_named(cards: Sequence[Card], name: str) -> Card:
    """The one version of this NAME or path, else the one whose title or NAME the words fit or begin; case aside.

    NAMEs are told apart first ("Brigid 2"). Raises FamilyError naming those there are.
    """
    cards = named_apart(cards)
    wanted = name.strip().casefold()
    for by_path in (True, False):
        found = [card for card in cards if (card.called if by_path else card.name).casefold() == wanted]
        if len(found) == 1:
            return found[0]
    fits = fitting([(card.called, card.title, card.name) for card in cards], name)
    fits = fits or [card.called for card in cards if wanted and card.name.casefold().startswith(wanted)]
    if len(fits) == 1:
        return next(card for card in cards if card.called == fits[0])
    if fits:
        raise FamilyError(f"{name}: more than one version has this name: {', '.join(fits)}")
    raise FamilyError(f"{name}: no version of this dish is {name}'s; there are {_listed(cards)}")


def rows_for(lineup: LineUp, item: str, called: str | None = None) -> list[int]:
    """The rows an ITEM means, best first: the thing itself, else one whose words hold all of the item's.

    With `called`, only rows this version has a line in. Raises FamilyError where there is none.
    """
    wanted = thing(item) or item.casefold()
    at = [
        number
        for number, row in enumerate(lineup.rows)
        if any(alike(cell.thing, wanted) for cell in row.cells.values())
    ]
    if not at:
        words = set(wanted.split())
        at = [
            number
            for number, row in enumerate(lineup.rows)
            if any(words <= set(thing(cell.ingredient.item).split()) for cell in row.cells.values())
        ]
    if not at:
        things = ", ".join(sorted({row.item for row in lineup.rows}))
        raise FamilyError(f"{item}: no version of this dish has it; there are {things}")
    base = lineup.base.called
    if called is not None:
        having = [number for number in at if called in lineup.rows[number].cells]
        if not having:
            raise FamilyError(f"{item}: {lineup.cards[called].name}'s card has nothing for it")
        at = having
    return sorted(at, key=lambda number: (base not in lineup.rows[number].cells, number))


def kept_choices(choices: Choices, cards: Mapping[str, Card]) -> Choices:
    """The choices without those for versions that are no longer among the cards."""
    return replace(
        choices,
        start_from=choices.start_from if choices.start_from in cards else None,
        take={item: called for item, called in choices.take.items() if called in cards},
        swap={item: called for item, called in choices.swap.items() if called in cards},
    )


def possible(lineup: LineUp, choices: Choices, asked: Collection[str]) -> Choices:
    """The choices without those of earlier editions about things that no version has any more.

    `asked` are the items chosen just now: for them FamilyError is raised.
    """

    def there(item: str, called: str | None = None) -> bool:
        try:
            rows_for(lineup, item, called)
        except FamilyError:
            if item in asked:
                raise
            return False
        return True

    return replace(
        choices,
        take={item: called for item, called in choices.take.items() if there(item, called)},
        leave_out=tuple(item for item in choices.leave_out if there(item)),
        swap={item: called for item, called in choices.swap.items() if there(item)},
    )


def _item_and_version(words: str, cards: Sequence[Card], option: str) -> tuple[str, str]:
    item, equals, name = words.rpartition("=")
    if not equals or not item.strip() or not name.strip():
        raise FamilyError(f'{words}: say --{option} "ITEM=NAME", for example --{option} "leeks=Brigid"')
    return _item(item), version_named(cards, name).called


def _item(words: str) -> str:
    item = thing(words) or words.strip().casefold()
    if not item:
        raise FamilyError("an item is needed, for example --leave-out nutmeg")
    return item


def _forget(item: str, taken: dict[str, str], swapped: dict[str, str], left: set[str]) -> None:
    taken.pop(item, None)
    swapped.pop(item, None)
    left.discard(item)


def _listed(cards: Iterable[Card]) -> str:
    return ", ".join(sorted(card.name or card.called for card in cards))
