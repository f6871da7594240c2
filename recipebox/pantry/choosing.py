"""Which cards of a box are worth a closer look tonight: by their things alone, before any of them is read."""

from datetime import date

from recipebox.cards.model import Card
from recipebox.cards.onhand import OnHand
from recipebox.dishes import Dishes
from recipebox.index import Index
from recipebox.pantry.following import Titles
from recipebox.pantry.stock import Shelf


def worth_a_look(index: Index, on_hand: OnHand, today: date, dishes: Dishes) -> tuple[list[Card], Titles]:
    """The cards that ask for something on hand, with the other versions of their dishes; and all titles.

    `tonight` says the same of these as of the whole box. Family recipes, and cards that may name another card, are
    always among them.
    """
    shelf = Shelf(on_hand, today)
    wanted = index.called_asking(name for name in index.things() if shelf.of(name))
    for dish in dishes.dishes:
        called = {member.called for member in dish.cards}
        if called & wanted:
            wanted |= called
    return list(index.cards(wanted)), Titles(index.titles, index.card)
