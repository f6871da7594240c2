"""Several recipes in one file, told apart only on strong evidence.

That is: two titles, each with its own ingredients and method.
"""

import re
from collections.abc import Sequence
from itertools import pairwise

from recipebox.cards.content import content_of
from recipebox.cards.inline import plain
from recipebox.cards.outline import heading_of
from recipebox.cards.rows import BOLD, Kind, Row
from recipebox.cards.sectionwords import Section
from recipebox.cards.signs import is_sentence, starts_with_amount, step_likeness

_COLLECTION = re.compile(
    r"\b(?:recipes|rezepte|recettes|recetas|ricette|recepten|opskrifter|oppskrifter|przepisy|receitas|collection"
    r"|cookbook|favou?rites)\b",
    re.IGNORECASE,
)
_COMPONENT = re.compile(
    r"(?:for (?:the|each)\b|(?:the )?(?:\w+ ){0,2}(?:sauce|topping|filling|dough|icing|frosting|glaze|dressing"
    r"|crust|base|marinade|gravy|streusel|crumble|batter|custard|pastry|"
    r"garnish|syrup|stuffing|rub|salsa|cream|assembly|layer|spice mix|drizzle|dip|meatballs|noodles|rice|salad"
    r"|broth|sponge|buttercream|ganache|coating|pickle|vinaigrette|mash)s?\b\s*:?$|part \w+|step \w+|day \w+)",
    re.IGNORECASE,
)


def parts_of(rows: list[Row]) -> list[list[Row]]:
    """The rows of each recipe of a file, in order; almost always one."""
    return _by_headings(rows) or _by_lines(rows) or [rows]


def _by_headings(rows: list[Row]) -> list[list[Row]] | None:
    heads = [
        at for at, row in enumerate(rows) if row.kind is Kind.HEADING and row.level <= BOLD and _is_title(rows, at)
    ]
    if len(heads) < 2:
        return None
    for level in sorted({rows[at].level for at in heads}):
        starts = [at for at in heads if rows[at].level == level]
        higher = [at for at in heads if rows[at].level < level]
        if len(starts) < 2 or (level == BOLD and higher):
            continue
        if higher and not (
            len(higher) == 1 and higher[0] < starts[0] and _COLLECTION.search(plain(rows[higher[0]].text))
        ):
            return None
        spans = list(zip(starts, [*starts[1:], len(rows)], strict=True))
        whole = [_is_recipe(rows, start, stop) for start, stop in spans]
        own = [start for (start, _), good in zip(spans, whole, strict=True) if good]
        parts_named = any(_COMPONENT.match(plain(rows[start].text)) for start in own[1:])
        if len(own) >= 2 and not parts_named:
            for at in higher:
                rows[at].kind = Kind.COMMENT  # "Family recipes" over all of them is nobody's title
            return _cut(rows, own)
        if len(own) >= 1 and level < BOLD:
            return None
    return None


def _by_lines(rows: list[Row]) -> list[list[Row]] | None:
    """Plain texts: a second list of ingredients behind a method, under a short line that stands alone."""
    top = next((row.level for row in rows if row.kind is Kind.HEADING and row.level < BOLD), BOLD + 1)
    starts: list[int] = []
    seen_list = seen_method = False
    seconds = 0
    for at, row in enumerate(rows):
        if row.kind in (Kind.BLANK, Kind.LAYOUT):
            continue
        found = heading_of(rows, at)
        if found is None or found.group is not None:
            continue
        if found.section is Section.INGREDIENTS:
            if not (seen_list and seen_method):
                seen_list = True
                continue
            title = _title_above(rows, at, starts[-1] if starts else 0)
            if title is None or (top < BOLD and not (rows[title].kind is Kind.HEADING and rows[title].level <= top)):
                return None
            starts.append(title)
            seconds += 1
            seen_method = False
        elif found.section is Section.METHOD:
            seen_method = True
    if not starts:
        return None
    spans = list(zip([0, *starts], [*starts, len(rows)], strict=True))
    if not all(_is_recipe(rows, start, stop) for start, stop in spans):
        return None
    return _cut(rows, [0, *starts])


def _title_above(rows: Sequence[Row], at: int, low: int) -> int | None:
    """The place of a title that stands alone within a few lines above a heading of ingredients."""
    best = None
    for place in range(at - 1, max(low, at - 12), -1):
        row = rows[place]
        if row.kind not in (Kind.TEXT, Kind.HEADING) or heading_of(rows, place) is not None:
            if row.kind in (Kind.ITEM, Kind.NUMBER):
                break
            continue
        words = plain(row.text)
        alone = row.after_blank or row.kind is Kind.HEADING
        if not alone or len(words) > 60 or is_sentence(words) or words.endswith(":") or ":" in words:
            if is_sentence(words) and row.after_blank and step_likeness(words) >= 0.6:
                break
            continue
        if _COMPONENT.match(words) or starts_with_amount(words):
            return None
        best = place
        if row.kind is Kind.HEADING or (place and rows[place - 1].kind in (Kind.BLANK, Kind.LAYOUT)):
            break
    return best


def _is_title(rows: Sequence[Row], at: int) -> bool:
    return heading_of(rows, at) is None


def _is_recipe(rows: Sequence[Row], start: int, stop: int) -> bool:
    """Whether these rows hold ingredients and a method of their own."""
    listed = method = False
    for at in range(start, stop):
        found = heading_of(rows, at)
        if found is not None and found.section is Section.INGREDIENTS:
            listed = True
        elif found is not None and found.section is Section.METHOD:
            method = True
    if listed and method:
        return True
    content = content_of([row for row in rows[start + 1 : stop] if row.kind is not Kind.HEADING])
    return (listed or content.ingredients >= 2) and (method or content.steps >= 1)


def _cut(rows: list[Row], starts: Sequence[int]) -> list[list[Row]]:
    """What stands before the first recipe goes with it."""
    bounds = [0, *starts[1:], len(rows)]
    return [rows[start:stop] for start, stop in pairwise(bounds)]
