"""Which ingredient lines a family recipe has, and whose they are."""

import re
from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from recipebox.cards.amounts import read_amount, write_amount
from recipebox.cards.model import Amount, Ingredient
from recipebox.cards.things import part_in_dish, same_thing, thing
from recipebox.compare import Row
from recipebox.family.choosing import rows_for
from recipebox.family.groups import Groups
from recipebox.family.lineup import LineUp
from recipebox.family.model import Choices, aside
from recipebox.family.rows import alike
from recipebox.family.sentences import calm, stem
from recipebox.family.told import told_swaps
from recipebox.measures import scale_ingredient, shown_line

_LONGEST = Fraction(3, 2)
_NEVER_HALVED = re.compile(
    r"\b(?:eggs?|yolks?|egg whites?|bay lea(?:f|ves)|sprigs?|cinnamon sticks?|star anise|cubes?|sachets?)$",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Listed:
    """A line of the family recipe: whose (`called`), that card's `line`, as it is `written` on the base's batch.

    `rows` are its rows in the line-up.
    """

    called: str
    line: Ingredient
    written: Ingredient
    rows: tuple[int, ...]
    rule: str
    choice: str | None = None


@dataclass(frozen=True)
class Taken:
    """The lines in their order, and the rows that are left out, with why."""

    listed: tuple[Listed, ...]
    out: Mapping[int, str]


@dataclass(frozen=True)
class _Verdict:
    called: str | None  # whose thing and amount; None: left out
    rule: str
    choice: str | None = None


def take_lines(
    lineup: LineUp,
    groups: Groups,
    choices: Choices,
    needed: Collection[int] = (),
    homeless: Collection[int] = (),
) -> Taken:
    """Decide every row: what more than half of the versions have is in, at exactly half the base decides.

    A batter, dough or custard is taken whole. Amounts are always a line that somebody makes, the base's where it has
    the thing. `needed` are rows whose thing the base's steps cannot do without, `homeless` rows whose thing
    has no place in them. Raises FamilyError for a choice about what no version has.
    """
    chosen = _chosen(lineup, choices)
    verdicts = [chosen.get(at) or _verdict(lineup, groups, row) for at, row in enumerate(lineup.rows)]
    for at in needed:
        cells = lineup.rows[at].cells
        if not verdicts[at].choice and lineup.base.called in cells:
            rule = f"{verdicts[at].rule}; {lineup.base.name}'s steps cannot do without it"
            verdicts[at] = _Verdict(lineup.base.called, rule)
        elif not verdicts[at].choice:
            having = [called for called, cell in cells.items() if not groups.apart(called, cell.lines)]
            source = min(having, key=lambda called: most_like_base(lineup, called), default=None)
            verdicts[at] = _Verdict(source, f"{lineup.base.name}'s steps name it")
    for at in homeless:
        if not verdicts[at].choice:
            own = lineup.base.called if lineup.base.called in lineup.rows[at].cells else None
            verdicts[at] = _Verdict(own, f"{verdicts[at].rule}; {lineup.base.name}'s method has no place for it")
    _whole_again(lineup, verdicts)
    listed = _of_base(lineup, groups, verdicts)
    adopted = [
        (at, verdict)
        for at, verdict in enumerate(verdicts)
        if verdict.called and not any(at in one.rows for one in listed)
    ]
    longest = max(len(card.ingredients) + len(card.steps) for card in lineup.cards.values())
    room = int(longest * _LONGEST) - len(lineup.base.steps) - len(listed)
    adopted.sort(key=lambda pair: (pair[1].choice is None, -len(lineup.rows[pair[0]].cells), pair[0]))
    out = {at: verdict.rule for at, verdict in enumerate(verdicts) if not verdict.called}
    for at, verdict in sorted(adopted[: max(room, 0)]):
        if not any(at in one.rows for one in listed):
            _adopt(lineup, groups, listed, at, verdict)
    for at, _ in adopted[max(room, 0) :]:
        out[at] = "the recipe would grow too long"
    return Taken(tuple(listed), out)


def _whole_again(lineup: LineUp, verdicts: list[_Verdict]) -> None:
    """Where the base itself swapped part of a thing for another that is left out, take the whole from a version that
    has not: half the potatoes with the curd cheese gone would be half a dough."""
    base = lineup.base
    for found in told_swaps(base, base.ingredients):
        rows = [rows_of(lineup, base.called, name) for name in (found.swap.item, found.swap.instead)]
        if not all(rows):
            continue
        (item, *_), (instead, *_) = rows
        if verdicts[instead].called or verdicts[item].called != base.called or verdicts[item].choice:
            continue
        others = [
            called
            for called, cell in lineup.rows[item].cells.items()
            if called != base.called and alike(cell.thing, lineup.rows[item].cells[base.called].thing)
        ]
        if others:
            source = min(others, key=lambda called: most_like_base(lineup, called))
            why = f"{base.name} makes it with {found.swap.instead} for part of it"
            verdicts[item] = _Verdict(source, why)


def rows_of(lineup: LineUp, called: str, item: str) -> list[int]:
    """The rows in which a version has a thing of this name."""
    return [
        at
        for at, row in enumerate(lineup.rows)
        if called in row.cells and same_thing(row.cells[called].ingredient.item, item)
    ]


def written_for(
    lineup: LineUp, called: str, line: Ingredient, group: str | None, *, exactly: bool = False
) -> Ingredient:
    """A version's line brought to the base's batch, as the kitchen writes it; no part of an egg, unless `exactly`."""
    batch = lineup.batch[called]
    if len(lineup.cards) == 1:
        return line
    if batch == 1:
        return replace(line, text=calm(line.text.strip()), group=group)
    scaled = scale_ingredient(line, 1 / batch)
    if not exactly:
        scaled = _whole(line, scaled)
    text = _shown(line, scaled)
    return replace(scaled, text=calm(text.upper()) if line.text.isupper() else text, group=group)


def cuts_whole(line: Ingredient, batch: Fraction) -> bool:
    """Whether a line brought from this batch to the base's would take part of a thing nobody halves."""
    return line.amount is not None and _is_whole(line) and (line.amount.low / batch).denominator > 1


def _is_whole(line: Ingredient) -> bool:
    return line.unit is None and _NEVER_HALVED.search(line.item) is not None


def _whole(line: Ingredient, scaled: Ingredient) -> Ingredient:
    """Things nobody halves stay whole, at least one: an egg, a bay leaf."""
    amount = scaled.amount
    if amount is None or not _is_whole(line):
        return scaled
    low, high = (Fraction(max(1, round(one))) for one in (amount.low, amount.high))
    return replace(scaled, amount=Amount(low, high))


def most_like_base(lineup: LineUp, called: str) -> tuple[bool, int]:
    """How fit a version's line is to stand among the base's: on the same batch first, then nearest the middle."""
    return lineup.batch[called] != 1, lineup.rank.index(called)


def _shown(line: Ingredient, scaled: Ingredient) -> str:
    """The scaled line as the kitchen writes it; words before the amount ("the zest of 1 lemon") stay before it."""
    text = _one_only(line, scaled, _as_cut(line, shown_line(scaled).text.strip()))
    before = re.match(r"[^\d½¼¾⅓⅔⅛⅜⅝⅞]*", line.text)
    if line.amount is None or scaled.amount is None or before is None or not before.group().strip():
        return text
    read = read_amount(line.text[before.end() :])
    if read is None or read[0] != line.amount:
        return text
    amounts = dict.fromkeys((scaled.amount.low, scaled.amount.high))
    said = " to ".join(write_amount(amount) for amount in amounts)
    return f"{before.group()}{said}{line.text[before.end() + read[1] :]}".strip()


def _one_only(line: Ingredient, scaled: Ingredient, text: str) -> str:
    """ "1 egg", where the card has "2 eggs"."""
    one = Amount(Fraction(1), Fraction(1))
    if line.unit is not None or scaled.amount != one or line.amount == one or not text.startswith("1 "):
        return text
    last = (line.item.split() or [""])[-1]
    alone = stem(last).upper() if last.isupper() else last[:1] + stem(last)[1:]
    return text.replace(last, alone, 1) if last else text


def _as_cut(line: Ingredient, text: str) -> str:
    """The line with how the thing is cut, where that stands before it ("1/2 cup chopped pecans")."""
    for words in (line.preparation or "").split(", "):
        if words and f"{words} {line.item}" in line.text and words not in text:
            text = text.replace(line.item, f"{words} {line.item}", 1)
    return text


def one_of(line: Ingredient, common: str) -> Ingredient:
    """One thing of a line of several ("pepper" of "salt and pepper"), without an amount of its own."""
    item = next((item for item in line.items if thing(item) == common), None)
    if item is None or len(line.items) < 2:
        return line
    return Ingredient(text=item, line=line.line, item=item, items=(item,), group=line.group, how=line.how)


def _verdict(lineup: LineUp, groups: Groups, row: Row) -> _Verdict:
    base = lineup.base.called
    count = len(lineup.cards)
    having = [called for called, cell in row.cells.items() if base in row.cells or not groups.apart(called, cell.lines)]
    if base in row.cells and (
        row.cells[base].thing == "water"
        or part_in_dish(row.cells[base].thing) == "pastry"
        or all(aside(line) for line in row.cells[base].lines)
    ):
        return _Verdict(base, f"as {lineup.cards[base].name} does it")
    if not having:
        return _Verdict(None, "it belongs to a variation")
    if 2 * len(having) < count or (2 * len(having) == count and base not in row.cells):
        return _Verdict(None, _how_many(len(having), count))
    best = _thing(lineup, row, having)
    fit = [called for called in having if alike(row.cells[called].thing, best)]
    rule = _how_many(len(fit), count, len(having) - len(fit))
    if base in fit:
        return _Verdict(base, rule)
    source = min(fit, key=lambda called: (len(row.cells[called].lines) > 1, most_like_base(lineup, called)))
    return _Verdict(source, rule)


def _thing(lineup: LineUp, row: Row, having: list[str]) -> str:
    """The thing more than half of all versions have; else the base's, else the commonest, ties by nearness."""
    base = lineup.base.called
    order = sorted(having, key=lineup.rank.index)
    counts = Counter(
        next(other for other in order if alike(row.cells[called].thing, row.cells[other].thing)) for called in order
    )
    commonest = max(counts, key=lambda called: (counts[called], -lineup.rank.index(called)))
    usual = row.cells[commonest]
    if base in row.cells:
        own = row.cells[base]
        several = len({line.group for line in own.lines}) > 1 or len({thing(line.item) for line in own.lines}) > 1
        if several or kin(own.thing, usual.thing) or 2 * counts[commonest] <= len(lineup.cards):
            return own.thing
    return usual.thing


def kin(one: str, other: str) -> bool:
    """Whether two things are of one sort, so that a cook keeps her own: "beef stewing steak" and "stew beef", black and
    kidney beans; they share a part of the dish and a name that ends one of them."""
    words, others = one.split(), other.split()
    parts = {part_in_dish(one), part_in_dish(other)}
    heads = {*words[-1:], *others[-1:]}
    one_part = len(parts) == 1 and None not in parts
    return (one_part or parts == {"fresh herb", "dried herb"}) and bool(heads & set(words) & set(others))


def _how_many(having: int, count: int, otherwise: int = 0) -> str:
    if having == count:
        return "in every version"
    return f"{having} of {count} versions have it" + (f", {otherwise} something in its place" if otherwise else "")


def _chosen(lineup: LineUp, choices: Choices) -> dict[int, _Verdict]:
    found = {}
    for item, called in sorted(choices.take.items()):
        at = rows_for(lineup, item, called)[0]
        name = lineup.cards[called].name
        found[at] = _Verdict(called, f"the family took {name}'s", f"take {item}={name}")
    for item in choices.leave_out:
        for at in rows_for(lineup, item):
            found[at] = _Verdict(None, "the family left it out", f"leave out {item}")
    return found


def _of_base(lineup: LineUp, groups: Groups, verdicts: list[_Verdict]) -> list[Listed]:
    """The base's lines that stay, with a group taken from another version in the place of the base's."""
    base = lineup.base
    listed: list[Listed] = []
    whole = groups.listed
    placed = False
    for line in base.ingredients:
        rows = tuple(lineup.rows_of(base.called, line))
        if whole and groups.called != base.called and groups.holds(base.called, line):
            if not placed:
                listed += _whole_group(lineup, groups, line.group)
                placed = True
            continue
        if groups.called == base.called and groups.holds(base.called, line):
            if not any(verdicts[at].choice and verdicts[at].called != base.called for at in rows):
                written = written_for(lineup, base.called, line, line.group)
                listed.append(Listed(base.called, line, written, rows, f"a {groups.kind} is taken whole"))
            continue
        fit = [verdicts[at] for at in rows if verdicts[at].called == base.called]
        if fit and not any(verdicts[at].choice and verdicts[at].called != base.called for at in rows):
            written = written_for(lineup, base.called, line, line.group)
            listed.append(Listed(base.called, line, written, rows, fit[0].rule, fit[0].choice))
    if whole and groups.called != base.called and not placed:
        listed += _whole_group(lineup, groups, None)
    return listed


def _whole_group(lineup: LineUp, groups: Groups, group: str | None) -> list[Listed]:
    called = groups.called
    name = lineup.cards[called].name
    return [
        Listed(
            called,
            line,
            written_for(lineup, called, line, group, exactly=True),
            tuple(lineup.rows_of(called, line)),
            f"a {groups.kind} is taken whole, {name}'s",
            groups.choice,
        )
        for line in groups.listed
    ]


def _adopt(lineup: LineUp, groups: Groups, listed: list[Listed], at: int, verdict: _Verdict) -> None:
    """Put a line of another version among the base's, after what stands before it in its own card."""
    called = verdict.called or ""
    card = lineup.cards[called]
    cell = lineup.rows[at].cells[called]
    for line in cell.lines:
        if groups.apart(called, (line,)) and not verdict.choice:
            continue
        rows = tuple(lineup.rows_of(called, line))
        alone = line
        if any(row in one.rows for one in listed for row in rows):
            alone = one_of(line, cell.thing)
            rows = (at,)
        place, group = _place(lineup, listed, card.ingredients, line, called, at)
        written = written_for(lineup, called, alone, group)
        listed.insert(place, Listed(called, line, written, rows, verdict.rule, verdict.choice))


def _place(
    lineup: LineUp, listed: list[Listed], order: tuple[Ingredient, ...], line: Ingredient, called: str, at: int
) -> tuple[int, str | None]:
    """Where an adopted line stands, and in which group of the list."""
    base = lineup.base.called
    if base in lineup.rows[at].cells:
        # It comes in the place of the base's own line, which is gone: after the line that stood above it.
        order, called = lineup.base.ingredients, base
        line = lineup.rows[at].cells[base].lines[0]
    where = next(number for number, one in enumerate(order) if one is line)
    for beside, step in ((range(where - 1, -1, -1), 1), (range(where + 1, len(order)), 0)):
        for number in beside:
            rows = lineup.rows_of(called, order[number])
            found = [index for index, one in enumerate(listed) if set(rows) & set(one.rows)]
            if found:
                index = found[-1] if step else found[0]
                return index + step, listed[index].written.group
    return len(listed), listed[-1].written.group if listed else None
