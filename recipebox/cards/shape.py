"""A card laid out from nothing, in the shape of a family recipe."""

from collections.abc import Iterable
from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount, Card, Entry, Ingredient, Swap, Variation, VersionLine
from recipebox.cards.sections import READ_LABELS

LEAVE_OUT = "leave out"
_BATCH_WORDS = {Fraction(2): "double batch", Fraction(1, 2): "half batch", Fraction(3): "triple batch"}
_FROM_FIELDS = ("from", "serves", "makes", "pan", "oven", "time", "prepare", "cook", "all", "tags", "measures")


def lay_out(card: Card) -> bytes:
    """A new text for a card, its sections in the fixed order, each only if it has something; UTF-8, line ends "\\n".

    Reading it back gives the same data, line numbers and trouble aside. Header lines come from the card's fields;
    of `card.headers` only those are written that no field holds ("came", "picture").
    """
    blocks = [[card.title, *_headers(card)]]
    if card.ingredients:
        blocks.append(["Ingredients", *grouped_lines(card.ingredients)])
    if card.steps:
        blocks.append(["Method", *(f"  {number}. {step.text}" for number, step in enumerate(card.steps, start=1))])
    for heading, lines in (
        ("Some add", [f"{some.ingredient.text} | {', '.join(some.who)}" for some in card.some_add]),
        ("Variations", [line for variation in card.variations for line in _variation_lines(variation)]),
        ("Swaps", [swap_line(swap) for swap in card.swaps]),
        ("Notes", _apart([note.text for note in card.notes])),
        ("Undecided", [line for entry in card.undecided for line in entry_lines(entry)]),
        ("Settled", [line for entry in card.settled for line in entry_lines(entry)]),
        ("Versions", [version_line(version) for version in card.versions]),
    ):
        if lines:
            blocks.append([heading, *(f"  {line}".rstrip() for line in lines)])
    return ("\n\n".join("\n".join(block) for block in blocks) + "\n").encode("utf-8")


def grouped_lines(ingredients: Iterable[Ingredient]) -> list[str]:
    """Ingredient lines with the headings of their groups at the margin, those without a group first."""
    groups: dict[str | None, list[str]] = {None: []}
    for ingredient in ingredients:
        groups.setdefault(ingredient.group, []).append(f"  {ingredient.text}")
    return [line for group, lines in groups.items() for line in ([group] if group else []) + lines]


def swap_line(swap: Swap) -> str:
    """A line such as "leeks -> leek soup, half the weight | Tomasz | sweeter; brings in milk; read the label"."""
    what = f"{swap.item} -> {swap.instead}" + (f", {swap.how}" if swap.how else "")
    who = swap.who if swap.who else f"published: {swap.source}" if swap.source else ""
    effects = [swap.effect] if swap.effect else []
    effects += [f"brings in {', '.join(swap.brings_in)}"] if swap.brings_in else []
    effects += [f"takes out {', '.join(swap.takes_out)}"] if swap.takes_out else []
    effects += [READ_LABELS] if swap.brings_in or swap.takes_out else []
    fields = [what, who, "; ".join(effects)]
    while not fields[-1]:
        fields.pop()
    return " | ".join(fields)


def version_line(version: VersionLine) -> str:
    """A line such as "Brigid: versions/brigid-fish-bake.txt | double batch"."""
    line = f"{version.name}: {version.path}"
    if version.batch != 1:
        line += f" | {batch_words(version.batch)}"
    return line + (" | gone" if version.gone else "")


def batch_words(batch: Fraction) -> str:
    """ "double batch", "1 1/2 batch"."""
    return _BATCH_WORDS.get(batch) or f"{write_amount(batch)} batch"


def entry_lines(entry: Entry) -> list[str]:
    """An entry's own lines: what it is about, then its wordings in byte order, `leave out` last, chosen ones marked."""
    wordings = sorted(entry.wordings, key=lambda w: (w.text == LEAVE_OUT, w.text.encode("utf-8", "surrogatepass")))
    return [entry.about, *(f"  - {'chosen: ' if w.chosen else ''}{w.text}" for w in wordings)]


def _headers(card: Card) -> list[str]:
    minutes = card.minutes
    times = [
        f"{_range(amount)} minutes{word}"
        for amount, word in ((minutes.prepare, " to prepare"), (minutes.cook, " to cook"), (minutes.all, ""))
        if amount
    ]
    makes = card.makes
    values = {
        "from": card.sender,
        "serves": _range(card.serves) if card.serves else None,
        "makes": f"{_range(Amount(makes.low, makes.high))} {makes.what}".rstrip() if makes else None,
        "pan": card.pan.text if card.pan else None,
        "oven": "; ".join(bake.text for bake in card.oven if _stands_in_header(card, bake.line)),
        "time": ", ".join(times),
        "tags": ", ".join(card.tags),
        "measures": card.measures,
    }
    lines = [f"{name}: {value}" for name, value in values.items() if value]
    return lines + [f"{h.name}: {h.value}" for h in card.headers if h.name not in _FROM_FIELDS]


def _stands_in_header(card: Card, line: int) -> bool:
    """Bakes that stand in a step are said there already."""
    return line not in {step.line for step in card.steps}


def _apart(notes: list[str]) -> list[str]:
    """A blank line between notes: lines that stand together are read as one."""
    return [line for n, note in enumerate(notes) for line in (["", note] if n else [note])]


def _variation_lines(variation: Variation) -> list[str]:
    return [variation.name, *(f"  {ingredient.text}" for ingredient in variation.ingredients)]


def _range(amount: Amount) -> str:
    if amount.low == amount.high:
        return write_amount(amount.low)
    return f"{write_amount(amount.low)} to {write_amount(amount.high)}"
