"""Which portions of several cards belong in one row: the same thing, else things that play the same part."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from itertools import combinations

from recipebox.cards.model import Card
from recipebox.cards.things import same_thing, thing
from recipebox.compare.amounts import amount_ratio
from recipebox.compare.model import Portion
from recipebox.compare.portions import FOR_THE_PAN, by_size, portions, together
from recipebox.compare.words import head_word

Members = dict[int, Portion]  # place of the card -> its portion


def pair_up(cards: Sequence[Card]) -> list[Members]:
    """Rows of portions, one-to-one per card, in the order of the first card, then of what later cards add.

    First the same thing under one name; then one that a card itself names as an alternative; then, among rows that no
    card has both of, things that play the same part in a dish, the most alike first. Independent of the cards' order
    but for the order of rows.
    """
    by_card = portions(cards)
    rows = _by_thing(by_card)
    rows = _join(rows, _alternative)
    rows = _join(rows, _same_part)
    order = {id(part.lines[0]): (place, at) for place, parts in enumerate(by_card) for at, part in enumerate(parts)}
    return sorted(rows, key=lambda row: min((order[id(p.lines[0])], p.thing) for p in row.values()))


def _by_thing(by_card: Sequence[Sequence[Portion]]) -> list[Members]:
    found: dict[str, dict[int, list[Portion]]] = defaultdict(lambda: defaultdict(list))
    for place, parts in enumerate(by_card):
        for part in parts:
            found[part.thing][place].append(part)
    rows = []
    for members in found.values():
        counts = {len(parts) for parts in members.values()}
        if len(counts) == 1 and counts != {1} and len(members) > 1:
            rows += _group_by_group(members)
        else:
            rows.append({place: together(parts) for place, parts in members.items()})
    return rows


def _group_by_group(members: dict[int, list[Portion]]) -> list[Members]:
    """Each card has the thing equally often: paired by the group it stands in, then most with most."""
    rows: list[Members] = []
    for place, parts in members.items():
        if not rows:
            rows = [{place: part} for part in parts]
            continue
        free = list(range(len(rows)))
        ranks, others = by_size(parts), by_size([_any(row) for row in rows])
        wanted = sorted(
            (
                (not _same_group(part, _any(rows[at])), abs(others[at] - ranks[own]), abs(at - own), own, at)
                for own, part in enumerate(parts)
                for at in free
            ),
        )
        done: set[int] = set()
        for *_, own, at in wanted:
            if own not in done and at in free:
                done.add(own)
                free.remove(at)
                rows[at][place] = parts[own]
    return rows


def _join(rows: list[Members], alike: Callable[[Members, Members], float]) -> list[Members]:
    """Put rows together that no card has both of, the most alike first."""
    scored = []
    for (i, one), (j, other) in combinations(enumerate(rows), 2):
        if one.keys() & other.keys():
            continue
        score = alike(one, other)
        if score > 0:
            scored.append((-score, sorted((_any(one).thing, _any(other).thing)), i, j))
    at = list(range(len(rows)))
    merged = [dict(row) for row in rows]
    for _, _, i, j in sorted(scored):
        i, j = at[i], at[j]
        if i == j or merged[i].keys() & merged[j].keys():
            continue
        merged[i] |= merged[j]
        merged[j] = {}
        at = [i if place == j else place for place in at]
    return [row for row in merged if row]


def _alternative(one: Members, other: Members) -> float:
    return float(
        any(one_thing(a.thing, b.thing) or offers(a, b.thing) or offers(b, a.thing) for a, b in _pairs(one, other))
    )


def one_thing(a: str, b: str) -> bool:
    """What one card wants for the pan another writes without saying what for."""
    return a.removesuffix(FOR_THE_PAN) == b.removesuffix(FOR_THE_PAN) or same_thing(a, b)


def offers(portion: Portion, name: str) -> bool:
    """Whether the card itself says that the thing `name` will do instead."""
    return any(
        len(instead) == 1 and thing(instead[0].item) == name for line in portion.lines for instead in line.instead
    )


def _same_part(one: Members, other: Members) -> float:
    return max(_stand_in(a, b) for a, b in _pairs(one, other))


def _stand_in(a: Portion, b: Portion) -> float:
    words, others = set(a.thing.split()), set(b.thing.split())
    shared = len(words & others) / max(len(words | others), 1)
    head = head_word(a.thing) == head_word(b.thing)
    same = a.part is not None and a.part == b.part
    if not (same or head) or FOR_THE_PAN in (a.thing + b.thing):
        return 0.0
    ratio = amount_ratio(a.ingredient, b.ingredient)
    near = 0.0
    if ratio is not None:
        times = float(ratio.value)
        near = min(times, 1 / times)
    return (1.0 if same else 0.5) + 0.5 * shared + 0.5 * near + 0.25 * _same_group(a, b)


def _same_group(a: Portion, b: Portion) -> bool:
    return (a.ingredient.group or "").casefold().strip(" :") == (b.ingredient.group or "").casefold().strip(" :")


def _pairs(one: Members, other: Members) -> list[tuple[Portion, Portion]]:
    return [(a, b) for a in one.values() for b in other.values()]


def _any(row: Members) -> Portion:
    return min(row.values(), key=lambda part: part.thing)
