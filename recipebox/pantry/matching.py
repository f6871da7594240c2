"""Whether what lies in the pantry is what a card asks for, or may stand for it."""

from functools import lru_cache

from recipebox.cards.things import part_in_dish, same_thing, thing
from recipebox.family.lineup import alike
from recipebox.family.published import published_swaps

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
    if part_in_dish(there) == one:
        return SAME, f"{there} is a kind of {one}"
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
