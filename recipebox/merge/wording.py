"""The words of a line that nobody wrote whole: one side's amount with another's preparation."""

import re
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from fractions import Fraction
from itertools import pairwise

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.ingredient import read_ingredient
from recipebox.merge.algebra import shortest
from recipebox.merge.sheet import ingredient_meaning

_CUTS = ((0, 0), (1, 1), (1, 0), (0, 1), (2, 2), (2, 1), (1, 2))
"""How many words behind the amount are its unit, in the one line and the other; likeliest first."""
_PIECES = re.compile(r"\w+|\s+|[^\w\s]")
Edit = tuple[int, int, tuple[str, ...]]


@dataclass(frozen=True)
class Spoken:
    """Words and the facts they state."""

    text: str
    facts: tuple[Hashable, ...]


def composed(wanted: tuple[Hashable, ...], base: Spoken, sides: Sequence[Spoken]) -> str | None:
    """Words that read back as the wanted facts, put together from those of base and sides; None if none do.

    First the edits of all sides whose changes are wanted are made in the base's words; else the line is put together
    from parts: the amount as one side writes it before the rest as another does.
    """
    helpful = [
        side
        for side in sides
        if len(side.facts) == len(wanted) == len(base.facts)
        and all(s in (b, w) for s, b, w in zip(side.facts, base.facts, wanted, strict=True))
    ]
    attempts = [edited(base.text, sorted({side.text for side in helpful}))]
    every = sorted({base.text, *(side.text for side in sides)}, key=shortest)
    attempts += [_spliced(head, rest, *cut) for cut in _CUTS for head in every for rest in every]
    for words in attempts:
        if words is not None and ingredient_meaning(read_ingredient(words)) == wanted:
            return words
    return None


def edited(base: str, sides: Sequence[str]) -> str | None:
    """The base's words with all sides' edits made in them; None where edits touch one another."""
    old = _PIECES.findall(base)
    edits: set[Edit] = set()
    for side in sides:
        new = _PIECES.findall(side)
        matcher = SequenceMatcher(None, old, new, autojunk=False)
        edits |= {(i, j, tuple(new[a:b])) for tag, i, j, a, b in matcher.get_opcodes() if tag != "equal"}
    ordered = sorted(edits)
    for (start, end, _), (following, _, _) in pairwise(ordered):
        if following < end or following == start:
            return None
    pieces: list[str] = []
    at = 0
    for start, end, new_pieces in ordered:
        pieces += [*old[at:start], *new_pieces]
        at = end
    return "".join([*pieces, *old[at:]])


def scaled(text: str, factor: Fraction) -> str:
    """An ingredient line's words with every amount of it times `factor`; as they were where that cannot be said.

    The words are read again: only if they then mean exactly the scaled line are they changed.
    """
    from recipebox.measures.scaling import scale_ingredient

    line = read_ingredient(text)
    if line.kind != "ingredient" or line.amount is None:
        return text
    wanted = ingredient_meaning(scale_ingredient(line, factor))
    every = _amounts_times(text, factor)
    first_only = _amounts_times(text, factor, only_first=True)
    for words in (first_only, every):
        if ingredient_meaning(read_ingredient(words)) == wanted:
            return words
    return text


def scaled_first(text: str, factor: Fraction) -> str:
    """Words with the first amount in them times `factor` ("6 to 8 people" -> "12 to 16 people")."""
    return _amounts_times(text, factor, only_first=True)


def _amounts_times(text: str, factor: Fraction, only_first: bool = False) -> str:
    out: list[str] = []
    at = 0
    while at < len(text):
        starts = at == 0 or not (text[at - 1].isalnum() or text[at - 1] in "./,")
        found = read_amount(text[at:]) if starts and not text[at].isspace() and not text[at].isalpha() else None
        if found is None or found[1] <= 0:
            out.append(text[at])
            at += 1
            continue
        amount, used = found
        said = write_amount(amount.low * factor)
        if amount.high != amount.low:
            joint = re.search(r"\s*(?:-|–|—|\bto\b|\bor\b)\s*", text[at : at + used])
            said += f"{joint.group() if joint else ' to '}{write_amount(amount.high * factor)}"
        tail = text[at + used :]
        spaced = text[at + used - 1].isspace()
        out.append(said + (" " if spaced or (tail[:1].isalpha() and said[-1:].isalpha()) else ""))
        at += used
        if only_first:
            out.append(text[at:])
            break
    return "".join(out)


def _spliced(amount_from: str, rest_from: str, unit: int, skip: int) -> str | None:
    """The amount and `unit` words of one line before what follows the amount and `skip` words in another."""
    first, second = read_amount(amount_from), read_amount(rest_from)
    if first is None or second is None:
        return None
    after_first, after_second = amount_from[first[1] :].split(), rest_from[second[1] :].split()
    head = amount_from[: first[1]].rstrip()
    return " ".join([head, *after_first[:unit], *after_second[skip:]])
