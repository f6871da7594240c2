"""Whether what lies in the pantry is what a card asks for, or may stand for it."""

from functools import lru_cache

from recipebox.cards.things import part_in_dish, same_thing, thing
from recipebox.family.published import published_swaps
from recipebox.family.rows import alike

# Names that any of their kind answers to ("grated cheese"): common practice, no source.
_KINDS = frozenset({"cheese", "mushroom", "berry", "nut", "vinegar", "herb", "fish", "stock"})
SAME, STANDS_FOR, DIFFERENT = "same", "stands-for", "different"


@lru_cache(maxsize=65536)
def judge(asked: str, there: str) -> tuple[str, str]:
    """How a card's item and a pantry's stand: ("same" / "stands-for" / "different", why in words).

    Same: one thing under two names, or of the kind the card asks for ("hard cheese": cheddar). Stands-for: a published
    swap names it, or both play one part in a dish. A verdict on names, not on how the dish will taste.
    """
    one, other = thing(asked), thing(there)
    if not one or not other:
        return DIFFERENT, "one of them names nothing"
    if same_thing(asked, there):
        return SAME, f"both are {one}" if one == other else f"{there} is {asked} by another name"
    if alike(one, other):
        return SAME, f"{asked} and {there} are one thing, said more or less closely"
    kind = part_in_dish(there) or ""
    # A part named by one word is named after one thing ("sugar"): brown sugar is no kind of it.
    if (" " in kind and kind in (one, asked.strip().casefold())) or (one in _KINDS and other.split()[-1] == one):
        return SAME, f"{there} is a kind of {asked}"
    if one in ("egg yolk", "egg white") and other == "egg":
        return SAME, f"an egg has an {one}"
    for swap in published_swaps(asked):
        if same_thing(swap.instead, there):
            return STANDS_FOR, f"published: {swap.source}"
    part = part_in_dish(asked)
    if part is not None and part == part_in_dish(there):
        return STANDS_FOR, f"both play the part of {part} (common practice, no source)"
    return DIFFERENT, "they are two things"


def is_there(asked: str, there: str) -> bool:
    """Whether a thing on hand is the very thing asked for."""
    return judge(asked, there)[0] == SAME
