"""Many versions of a dish to one proposal for the family recipe."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from recipebox.cards.model import Bake, Card, Ingredient, Passage, Swap, VersionLine
from recipebox.cards.names import named_apart
from recipebox.cards.shape import lay_out
from recipebox.cards.things import thing
from recipebox.family.account import Account, account_for
from recipebox.family.choosing import kept_choices, possible
from recipebox.family.crediting import Method
from recipebox.family.groups import Groups, settle_groups
from recipebox.family.headers import headers_of
from recipebox.family.lineup import LineUp, line_up
from recipebox.family.method import follow_base, still_speaks
from recipebox.family.model import Choices, FamilyError, FamilyLine, FoundSwap, Proposal, Source
from recipebox.family.published import offers_for
from recipebox.family.remarks import dated_remarks
from recipebox.family.sentences import calm, said
from recipebox.family.swaps import swaps_together, with_allergens
from recipebox.family.taking import Taken, take_lines
from recipebox.family.told import told_swaps


def propose_new(
    dish: str,
    versions: Sequence[Card],
    *,
    path: str = "",
    texts: Mapping[str, bytes] | None = None,
    choices: Choices | None = None,
    asked: Collection[str] = (),
    gone: Collection[str] = (),
    why: str | None = None,
) -> Proposal:
    """The family recipe as it comes from its versions alone, laid out from nothing.

    `texts` are the versions' bytes by path (they break ties), `path` is where the recipe will lie, `gone` what those
    versions are called whose file is no longer there, `asked` the items chosen just now: an earlier choice that no
    version makes possible any more is passed over, one just made raises. One version gives
    that version's title, headers, ingredients and method. Independent of the order of `versions`. Raises FamilyError
    for no version, or a choice about what no version has.
    """
    if not versions:
        raise FamilyError(f"{dish}: there is no version to make a family recipe of")
    versions = named_apart(versions)
    cards = {card.called: card for card in versions}
    chosen = kept_choices(choices or Choices(), cards)
    lineup = line_up(versions, texts or {}, chosen.start_from)
    chosen = possible(lineup, chosen, asked)
    groups = settle_groups(lineup, chosen)
    taken, method = _lines_and_method(lineup, groups, chosen)
    book = account_for(lineup, groups, taken, chosen, asked)
    swaps = _all_swaps(lineup, taken, book)
    card = _card(dish, path, lineup, taken, book, method, [found.swap for found in swaps], gone)
    return Proposal(
        dish=card.title,
        card=card,
        text=lay_out(card),
        base=lineup.base.called,
        lines=tuple(_lines(lineup, card, taken, book, method)),
        swaps=tuple(swaps),
        some_add=book.some_add,
        variations=book.variations,
        offers=tuple(FoundSwap(swap) for swap in offers_for(card, card.ingredients)),
        not_taken=tuple(
            sorted((*book.not_taken, *method.not_taken), key=lambda one: (one.source.path, one.source.line))
        ),
        choices=chosen,
        why=why,
    )


def _lines_and_method(lineup: LineUp, groups: Groups, chosen: Choices) -> tuple[Taken, Method]:
    """The lines and the steps, which agree: what cannot be taken out of the base's steps stays on the list, what
    has no place in them comes not on it."""
    needed: set[int] = set()
    homeless: set[int] = set()
    while True:
        taken = take_lines(lineup, groups, chosen, needed, homeless)
        method = follow_base(lineup, taken)
        rows = {at for line in method.stuck for at in lineup.rows_of(lineup.base.called, line)} | set(method.named)
        if rows <= needed and set(method.homeless) <= homeless:
            method.notes += dict.fromkeys(still_speaks(method, line) for line in method.stuck)
            return taken, method
        needed |= rows
        homeless |= set(method.homeless)


def _all_swaps(lineup: LineUp, taken: Taken, book: Account) -> list[FoundSwap]:
    """Swaps from what versions did, then from what they tell, each known once."""
    listed = [one.written for one in taken.listed]
    known = {(called, thing(one.swap.item), word) for one in book.swaps for called in one.paths for word in _words(one)}
    told: list[FoundSwap] = []
    for called in sorted(lineup.cards):
        card = lineup.cards[called]
        others = [line for other in lineup.cards.values() for line in other.ingredients]
        told += [
            FoundSwap(with_allergens(one.swap), one.paths)
            for one in told_swaps(card, listed, others)
            if not any((called, thing(one.swap.item), word) in known for word in _words(one))
        ]
    return [*book.swaps, *swaps_together(told)]


def _words(found: FoundSwap) -> set[str]:
    """What a swap's stand-in is known by; "lemon" and "lemon zest" are one."""
    return {thing(found.swap.instead), *thing(found.swap.instead).split()[:1]}


def _card(
    dish: str,
    path: str,
    lineup: LineUp,
    taken: Taken,
    book: Account,
    method: Method,
    swaps: Sequence[Swap],
    gone: Collection[str],
) -> Card:
    base = lineup.base
    alone = len(lineup.cards) == 1
    ingredients = _in_groups([replace(one.written, line=at) for at, one in enumerate(taken.listed, start=1)])
    return Card(
        path=path,
        title=(base.title or dish) if alone else dish,
        kind="family",
        sender=base.sender if alone else None,
        name=base.name if alone else "",
        serves=base.serves,
        makes=base.makes,
        pan=base.pan if alone or base.pan is None else replace(base.pan, text=calm(base.pan.text)),
        oven=_oven(base),
        minutes=base.minutes,
        tags=base.tags,
        measures=base.measures,
        ingredients=tuple(ingredients),
        steps=tuple(replace(step.passage, text=step.text) for step in method.steps),
        notes=tuple(Passage(note, 0) for note in (*dated_remarks(lineup.cards.values()), *method.notes)),
        some_add=tuple(some for some, _ in book.some_add),
        variations=tuple(one for one, _ in book.variations),
        swaps=tuple(swaps),
        versions=tuple(
            VersionLine(lineup.cards[called].name or called, called, lineup.batch[called], called in gone)
            for called in sorted(lineup.cards)
        ),
    )


def _in_groups(ingredients: Sequence[Ingredient]) -> list[Ingredient]:
    """The order in which a card lays its groups out: those without one first."""
    groups: dict[str | None, list[Ingredient]] = {None: []}
    for line in ingredients:
        groups.setdefault(line.group, []).append(line)
    return [line for lines in groups.values() for line in lines]


def _oven(base: Card) -> tuple[Bake, ...]:
    """Bakes said outside the steps; a step that says one says it already."""
    in_steps = {number for step in base.steps for number in range(step.line, max(step.last, step.line) + 1)}
    return tuple(bake for bake in base.oven if bake.line not in in_steps)


def _lines(lineup: LineUp, card: Card, taken: Taken, book: Account, method: Method) -> list[FamilyLine]:
    base = lineup.base
    titled = tuple(
        Source(called, 0, version.title)
        for called, version in sorted(lineup.cards.items())
        if version.title == card.title
    )
    own = any(source.path == base.called for source in titled)
    lines = [FamilyLine("title", card.title, titled, f"the title of {base.name}'s card" if own else "the dish's name")]
    for header in headers_of(card):
        same = tuple(
            Source(called, 0, "")
            for called, version in sorted(lineup.cards.items())
            if said(header.value) in [said(other.value) for other in headers_of(version) if other.name == header.name]
        )
        text = f"{header.name}: {header.value}"
        lines.append(FamilyLine("header", text, same, f"as {base.name}'s card has it, on whose batch this stands"))
    lines += _listed_in_groups(taken, book)
    lines += [FamilyLine("step", step.text, tuple(step.sources), step.rule) for step in method.steps]
    return lines


def _listed_in_groups(taken: Taken, book: Account) -> list[FamilyLine]:
    groups: dict[str | None, list[FamilyLine]] = {None: []}
    for one, sources in zip(taken.listed, book.sources, strict=True):
        line = FamilyLine("ingredient", one.written.text, sources, one.rule, one.choice)
        groups.setdefault(one.written.group, []).append(line)
    return [line for lines in groups.values() for line in lines]
