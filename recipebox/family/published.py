"""Published swaps: rows of tables/substitutions.csv that fit an ingredient."""

from collections.abc import Iterable
from functools import cache

from recipebox.cards.model import Card, Ingredient, Swap
from recipebox.cards.things import thing
from recipebox.tables import rows

_LEAVENED = ("baking powder", "baking soda", "yeast", "self-rising flour")
_SWEET = ("sugar", "honey", "syrup", "molasses", "egg")
_SAUCE = ("milk", "cream", "stock", "broth", "tomato sauce", "soup", "sour cream", "wine")


def published_swaps(item: str, uses: frozenset[str] = frozenset({"any", "baking", "sauce", "topping"})) -> list[Swap]:
    """Published swaps for an item, in the table's order; only rows that work in one of `uses` (the table's words)."""
    return [swap for works_in, swap in _by_thing().get(thing(item), ()) if works_in in uses or works_in == "any"]


def offers_for(card: Card, listed: Iterable[Ingredient]) -> list[Swap]:
    """Published swaps for the ingredients of a card, those that suit what kind of dish it is."""
    ingredients = list(listed)
    uses = uses_of(card)
    known = {(thing(swap.item), thing(swap.instead)) for swap in card.swaps}
    found: list[Swap] = []
    for ingredient in ingredients:
        for name in ingredient.items or (ingredient.item,):
            for swap in published_swaps(name, uses):
                key = (thing(swap.item), thing(swap.instead))
                if swap not in found and key not in known and swap.instead.casefold() != name.casefold():
                    found.append(swap)
    return found


def uses_of(card: Card) -> frozenset[str]:
    """Which of the table's uses a card's swaps may have. Common practice, no source.

    Baking where leavening is, or flour with egg or something sweet; sauce where a liquid is; topping where a group is
    named so, or crumbs are.
    """
    things = {thing(name) for ingredient in card.ingredients for name in ingredient.items or (ingredient.item,)}
    uses = {"any"}
    flour = any("flour" in name for name in things)
    sweet = any(word in name.split() for name in things for word in _SWEET)
    if any(word in name for name in things for word in _LEAVENED) or (flour and sweet):
        uses.add("baking")
    if any(word in name.split() for name in things for word in _SAUCE):
        uses.add("sauce")
    if any("top" in (ingredient.group or "").casefold() for ingredient in card.ingredients) or any(
        "crumb" in name for name in things
    ):
        uses.add("topping")
    return frozenset(uses)


@cache
def _by_thing() -> dict[str, tuple[tuple[str, Swap], ...]]:
    found: dict[str, list[tuple[str, Swap]]] = {}
    for row in rows("substitutions"):
        for name in dict.fromkeys(thing(name) for name in _listed_under(row["item"])):
            found.setdefault(name, []).append((row["works_in"] or "any", _swap(row)))
    return {name: tuple(swaps) for name, swaps in found.items()}


def _listed_under(item: str) -> list[str]:
    """The names of a row's item as cards have them: "corn syrup, light" is light corn syrup, "chicken or beef broth"
    is either broth."""
    first, comma, quality = item.partition(", ")
    names = [item, f"{quality} {first}"] if comma else [item]
    one, either, other = item.partition(" or ")
    if either:
        head = other.split()[-1] if " " in other else ""
        names += [one if one.endswith(head) else f"{one} {head}", other]
    return names


def _swap(row: dict[str, str]) -> Swap:
    here = " ".join(word for word in (row["instead_amount"], row["instead_unit"]) if word)
    there = " ".join(word for word in (row["amount"], row["unit"]) if word)
    how = f"{here} for {there}" if here and there else None
    if row["extra"]:
        how = f"{how} ({row['extra']})" if how else row["extra"]
    source = row["source"] + (" (from memory)" if row["basis"] == "memory" else "")
    return Swap(
        item=row["item"],
        instead=row["instead"],
        how=how,
        source=source,
        effect=row["effect"] or None,
        brings_in=_names(row["introduces_allergen"]),
        takes_out=_names(row["removes_allergen"]),
    )


def _names(cell: str) -> tuple[str, ...]:
    return tuple(name for name in cell.split(";") if name)
