"""Which dish or card a person means, and what belongs to it: versions, the family recipe, its last renewal."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import chain
from typing import TYPE_CHECKING, Any

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.cards.text import NotTextError
from recipebox.family.model import Choices, FamilyError

if TYPE_CHECKING:
    from recipebox.history import History
    from recipebox.index import Index


@dataclass(frozen=True)
class FoundDish:
    """A dish by name: what its versions are called, and its family recipes in order of path (usually none or one)."""

    name: str
    versions: tuple[str, ...]
    families: tuple[Card, ...]


@dataclass(frozen=True)
class LastTime:
    """What a family recipe was brought together from the last time, as its snapshot tells."""

    id: str
    dish: str
    base: str
    choices: Choices
    names: Mapping[str, str]
    facts: Mapping[str, Any] = field(default_factory=dict)


def find_dish(index: "Index", words: str) -> FoundDish:
    """The dish a name, a card's path or title words mean. A card in no dish is a dish of one.

    Raises FamilyError, with the list, where nothing or more than one dish fits.
    """
    from recipebox.index import AmbiguousError, NotFoundError

    families = sorted((card for card in index.open_cards() if card.kind == "family"), key=lambda card: card.path)
    dishes = {dish.name: tuple(member.called for member in dish.cards) for dish in index.dishes().dishes}
    try:
        dish = index.dish(words)
        if dish is not None:
            return _dish(dish.name, dishes, dishes[dish.name], families)
        name, versions = _alone(index.one(words), dishes, families)
    except NotFoundError:
        raise FamilyError(f"{words}: no dish or card is called that; see them with: recipebox same") from None
    except AmbiguousError as error:
        meant = {_alone(index.card(called), dishes, families) for called in error.fits}
        if len(meant) > 1:
            listed = ", ".join(sorted(error.fits))
            raise FamilyError(f"{words}: more than one dish fits; name one of {listed}") from None
        name, versions = meant.pop()
    return _dish(name, dishes, versions, families)


def find_card(index: "Index", words: str) -> Card:
    """The one card a path, title words, NAME or dish mean; of a dish, its family recipe. Raises FamilyError."""
    hits = list(index.resolve(words))
    exact = [card for card in hits if card.called == words.strip()]
    if len(exact or hits) == 1:
        return (exact or hits)[0]
    titled = [card for card in hits if card.title.casefold() == words.strip().casefold() and card.kind == "family"]
    if len(titled) == 1:
        return titled[0]
    if len(hits) > 1:
        listed = ", ".join(sorted(card.called for card in hits))
        raise FamilyError(f"{words}: more than one card fits; name one of {listed}")
    dish = find_dish(index, words)
    if dish.families:
        return dish.families[0]
    raise FamilyError(f"{words}: this dish has no family recipe yet; make one with: recipebox merge")


def last_time(history: "History", path: str) -> LastTime | None:
    """The last time a family recipe was made or renewed from its versions, and not taken back since; None if never."""
    entries = history.log(path)
    undone = {entry.data.get("undo") for entry in entries}
    for entry in entries:
        facts = entry.data.get("merge")
        if entry.data.get("command") != "merge" or not isinstance(facts, dict) or entry.id in undone:
            continue
        choices = _choices(facts.get("choices"))
        names = facts.get("versions")
        if isinstance(names, dict) and isinstance(facts.get("base"), str):
            names = {str(called): str(name) for called, name in names.items()}
            return LastTime(entry.id, str(facts.get("dish", "")), facts["base"], choices, names, facts)
    return None


def card_in(data: bytes | None, called: str) -> Card | None:
    """The card of a file's bytes by what it is called ("letter.txt#2"); None where it is none or not there."""
    if data is None:
        return None
    path, _, part = called.partition("#")
    try:
        cards = read_cards(data, path)
    except (NotACardError, NotTextError):
        return None
    at = int(part) - 1 if part.isdigit() else 0
    return cards[at] if at < len(cards) else None


def _choices(data: object) -> Choices:
    if not isinstance(data, dict):
        return Choices()
    take, swap, left = data.get("take"), data.get("swap"), data.get("leave_out")
    return Choices(
        start_from=data.get("start_from") if isinstance(data.get("start_from"), str) else None,
        take={str(k): str(v) for k, v in take.items()} if isinstance(take, dict) else {},
        leave_out=tuple(str(one) for one in left) if isinstance(left, list) else (),
        swap={str(k): str(v) for k, v in swap.items()} if isinstance(swap, dict) else {},
    )


def _dish(
    name: str, dishes: Mapping[str, tuple[str, ...]], versions: tuple[str, ...], families: list[Card]
) -> FoundDish:
    elsewhere = {called for called in chain.from_iterable(dishes.values()) if called not in versions}
    mine = tuple(card for card in families if {line.path for line in card.versions} & set(versions))
    if not mine:
        # All its versions were thrown away, or an edition from before these was brought back: its title tells.
        mine = tuple(
            card
            for card in families
            if card.title.casefold() == name.casefold() and not {line.path for line in card.versions} & elsewhere
        )
    return FoundDish(mine[0].title if mine else name, versions, mine)


def _alone(card: Card, dishes: Mapping[str, tuple[str, ...]], families: list[Card]) -> tuple[str, tuple[str, ...]]:
    """The name and versions of a card that no dish holds: a family recipe's own, or those of the one that lists it."""
    family = card if card.kind == "family" else None
    mine = family or next((one for one in families if any(line.path == card.called for line in one.versions)), None)
    if mine is None:
        return card.title, (card.called,)
    listed = tuple(sorted(line.path for line in mine.versions))
    held = [(name, versions) for name, versions in dishes.items() if set(listed) & set(versions)]
    return max(held, key=lambda one: (len(set(listed) & set(one[1])), one[0]), default=(mine.title, listed))
