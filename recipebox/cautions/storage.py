"""How long a dish keeps cold, by the published storage table."""

from recipebox.cards.model import Card
from recipebox.cautions.match import find
from recipebox.cautions.rules import Keeping, Rule, cold_storage

_ANY_DISH = "leftover dish"
_CASSEROLE = "casserole"
_FISH = "fish casserole"
_FISH_WORDS = ("fish", "salmon", "cod", "haddock", "tuna", "pollock", "trout", "halibut", "tilapia", "whitefish")


def keeping(words: str) -> Keeping | None:
    """The storage row for a food or dish by its name ("tuna noodle casserole"); None where no keyword is in it."""
    found = _row(words)
    return found[1] if found else None


def keeping_for(card: Card) -> Keeping:
    """The storage row for what a card makes, for a freezer label: by its title, its tags, else as any cooked dish."""
    return _for_card_or_leftovers(card)[1]


def keeping_or_leftovers(card: Card) -> tuple[Rule, str]:
    """As `keeping_rule`, and for a card that no row names the rule for leftovers."""
    found = _for_card_or_leftovers(card)
    return found[0], found[2]


def keeping_rule(card: Card) -> tuple[Rule, str] | None:
    """The rule of the storage row that the card's title or tags call for, with the words that match."""
    found = _for_card(card)
    return (found[0], found[2]) if found else None


def _for_card_or_leftovers(card: Card) -> tuple[Rule, Keeping, str]:
    found = _for_card(card) or _row(_ANY_DISH)
    if found is None:
        raise LookupError("cold_storage.csv has no row for leftovers")
    return found


def _for_card(card: Card) -> tuple[Rule, Keeping, str] | None:
    found = next((row for words in (card.title, *card.tags) if (row := _row(words))), None)
    last = card.title.lower().split()[-1:]
    if found is None and last == ["bake"] and (row := _row(_CASSEROLE)):
        found = (row[0], row[1], "bake")
    if found is not None and "casserole" in found[0].key.lower() and _has_fish(card) and (row := _row(_FISH)):
        # Fish keeps its quality in the freezer for less time than the casserole rows allow.
        return row[0], row[1], found[2]
    return found


def _has_fish(card: Card) -> bool:
    return any(word in _FISH_WORDS for line in card.ingredients for word in line.item.lower().split())


def _row(words: str) -> tuple[Rule, Keeping, str] | None:
    """The row with the longest keyword in the words, the first of equals."""
    best: tuple[int, Rule, Keeping, str] | None = None
    for rule, kept in cold_storage():
        found = find(words, rule.words)
        if found and (best is None or len(found.keyword) > best[0]):
            best = (len(found.keyword), rule, kept, found.keyword)
    return best[1:] if best else None
