"""Swaps that the cards of a dish tell of in words, for a dish that has no family recipe yet."""

from collections.abc import Sequence

from recipebox.cards.model import Card, Swap
from recipebox.cards.things import same_thing
from recipebox.dishes import Dishes
from recipebox.family.told import told_swaps


class SaidSwaps:
    """What the versions of each dish say works in place of what; each dish is read once, when first asked for."""

    def __init__(self, cards: Sequence[Card], dishes: Dishes | None) -> None:
        self._cards = {card.called: card for card in cards if card.kind != "family"}
        groups = [tuple(member.called for member in dish.cards) for dish in dishes.dishes] if dishes else []
        self._group = {called: group for group in groups for called in group}
        self._said: dict[tuple[str, ...], list[Swap]] = {}

    def of(self, card: Card, item: str) -> list[Swap]:
        """Swaps for an item of a version, told in its own card first, then in the others of its dish."""
        if card.called not in self._cards:
            return []
        group = self._group.get(card.called, (card.called,))
        if group not in self._said:
            versions = [self._cards[called] for called in group if called in self._cards]
            listed = [line for version in versions for line in version.ingredients]
            self._said[group] = [told.swap for version in versions for told in told_swaps(version, listed)]
        fit = [swap for swap in self._said[group] if same_thing(swap.item, item)]
        return sorted(fit, key=lambda swap: swap.who != card.name)
