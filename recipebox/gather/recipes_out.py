"""A card as schema.org/Recipe in JSON-LD, which other programs read, and which reads back to the same card.

What schema.org has no property for (pan, oven, swaps, what is undecided) stands in the description, a paragraph each.
"""

from collections.abc import Sequence
from fractions import Fraction
from html import escape
from typing import Any

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount, Card, Role
from recipebox.cards.shape import entry_lines, swap_line, version_line
from recipebox.cards.text import Text
from recipebox.gather.durations import write_duration
from recipebox.gather.recipes_in import plain_words

CONTEXT = "https://schema.org"
_STATED = ("from", "serves", "makes", "time", "prepare", "cook", "all", "rest", "tags")


def recipes_data(cards: Sequence[tuple[Card, Text]]) -> dict[str, Any]:
    """A JSON-LD document: one Recipe, or several in an @graph. Each card comes with the text it was read from."""
    nodes = [_recipe(card, text) for card, text in cards]
    return {"@context": CONTEXT, **nodes[0]} if len(nodes) == 1 else {"@context": CONTEXT, "@graph": nodes}


def _recipe(card: Card, text: Text) -> dict[str, Any]:
    node: dict[str, Any] = {"@type": "Recipe", "name": _told(card.title)}
    if card.sender:
        node["author"] = {"@type": "Person", "name": _told(card.sender)}
    if description := "\n\n".join(_told(paragraph) for paragraph in _description(card)):
        node["description"] = description
    yields = [f"{_range(card.serves)} servings"] if card.serves else []
    if card.makes:
        amount = _range(Amount(card.makes.low, card.makes.high))
        yields.append(f"{amount} {card.makes.what}" if card.makes.what else f"makes {amount}")
    if yields:
        node["recipeYield"] = yields[0] if len(yields) == 1 else yields
    for key, minutes in _times(card):
        node[key] = write_duration(minutes.high)
    if card.tags:
        node["keywords"] = _told(", ".join(card.tags))
    node["recipeIngredient"] = [_told(line) for line in _ingredients(card)]
    node["recipeInstructions"] = _instructions(card, text)
    return node


def _told(words: str) -> str:
    """Words such that a reader that takes marks of HTML out of them has the same words left."""
    return words if plain_words(words) == words else escape(words, quote=False)


def _description(card: Card) -> list[str]:
    """Header lines that schema.org has no property for, then the notes, then what the tool keeps in sections."""
    lines = []
    if _needs_words(card):
        lines.append(f"time: {_time_words(card)}")
    seen = set()
    for header in card.headers:
        if header.name not in _STATED and header.name not in seen:
            lines.append(f"{header.name}: {header.value}")
            seen.add(header.name)
    steps = {step.line for step in card.steps}
    oven = "; ".join(bake.text for bake in card.oven if bake.line not in steps)
    for name, value in (("pan", card.pan.text if card.pan else ""), ("oven", oven)):
        if value and name not in seen:
            lines.append(f"{name}: {value}")
    lines += [note.text for note in card.notes]
    lines += [f"Some add: {some.ingredient.text} | {', '.join(some.who)}" for some in card.some_add]
    for variation in card.variations:
        lines.append(f"Variation: {variation.name}: {'; '.join(i.text for i in variation.ingredients)}")
    lines += [f"Swap: {swap_line(swap)}" for swap in card.swaps]
    for name, entries in (("Undecided", card.undecided), ("Settled", card.settled)):
        lines += [f"{name}: {' '.join(' '.join(entry_lines(entry)).split())}" for entry in entries]
    return lines + [f"Version: {version_line(version)}" for version in card.versions]


def _ingredients(card: Card) -> list[str]:
    """Ingredient lines in order; a group is headed by its name and a colon, as pages commonly write it."""
    lines = []
    group = None
    for ingredient in sorted(card.ingredients, key=lambda i: i.group is not None):
        if ingredient.group != group:
            group = ingredient.group
            lines.append(f"{(group or '').rstrip(': ')}:")
        lines.append(ingredient.text)
    return lines


def _instructions(card: Card, text: Text) -> list[dict[str, Any]]:
    """A HowToStep for each step, within a HowToSection where a heading stands over it."""
    found: list[dict[str, Any]] = []
    heads = _headings(card, text)
    last = None
    for step in card.steps:
        head = heads.get(step.line)
        node = {"@type": "HowToStep", "text": _told(step.text)}
        if head is None:
            found.append(node)
        elif head == last:
            found[-1]["itemListElement"].append(node)
        else:
            found.append({"@type": "HowToSection", "name": _told(head), "itemListElement": [node]})
        last = head
    return found


def _headings(card: Card, text: Text) -> dict[int, str]:
    """For steps under a heading of their own: that heading, by the step's line."""
    found = {}
    head = None
    for line in card.lines:
        if line.role is Role.GROUP:
            head = text.lines[line.number - 1].words[line.start : line.end].strip("#*_: ") or None
        elif line.role in (Role.SECTION, Role.INGREDIENT):
            head = None
        elif line.role is Role.STEP and head is not None:
            found[line.of] = head
    return found


def _times(card: Card) -> list[tuple[str, Amount]]:
    minutes = card.minutes
    stated = (("prepTime", minutes.prepare), ("cookTime", minutes.cook), ("totalTime", minutes.all))
    return [(key, amount) for key, amount in stated if amount is not None]


def _needs_words(card: Card) -> bool:
    """Whether a duration of whole seconds cannot say the card's times: a range, or a third of a second."""
    return any(a.low != a.high or (a.high * 60).denominator != 1 or a.high <= 0 for _, a in _times(card))


def _time_words(card: Card) -> str:
    meanings = {"prepTime": " to prepare", "cookTime": " to cook", "totalTime": ""}
    return ", ".join(f"{_range(amount)} minutes{meanings[key]}" for key, amount in _times(card))


def _range(amount: Amount) -> str:
    low, high = (write_amount(Fraction(end)) for end in (amount.low, amount.high))
    return low if low == high else f"{low} to {high}"
