"""A card as it was understood, for the cook who may want to mend it."""

from fractions import Fraction

from recipebox.cards.amounts import write_amount
from recipebox.cards.model import Amount, Bake, Card, Heat, Ingredient, Measure
from recipebox.cli import say


def show_card(card: Card) -> None:
    """Print what was understood: title, facts, each ingredient in columns, steps, notes, and what is unsure."""
    say.heading(card.title or "(no title)")
    for name, value in _facts(card):
        say.line(value, first=f"  {name:<8} ")
    if card.ingredients:
        say.heading("Ingredients   (amount | unit | item | the rest)")
        group = None
        for ingredient in card.ingredients:
            if ingredient.group != group:
                group = ingredient.group
                say.line(f"{group or 'ungrouped'}:", first="  ")
            show_ingredient(ingredient)
    if card.steps:
        say.heading("Method")
        for number, step in enumerate(card.steps, 1):
            say.line(step.text, first=f"{number:3}. ")
    for title, passages in (("Notes", card.notes),):
        if passages:
            say.heading(title)
            for passage in passages:
                say.line(passage.text, first="  ")
    for title, entries in (("Undecided", card.undecided), ("Settled", card.settled)):
        if entries:
            say.heading(title)
            for entry in entries:
                say.line(entry.about, first="  ")
                for wording in entry.wordings:
                    say.line(("chosen: " if wording.chosen else "") + wording.text, first="    - ")
    if card.trouble:
        say.heading("To look at")
        for one in card.trouble:
            say.line(one.what, first=f"  line {one.line}: " if one.line else "  ")


def show_ingredient(ingredient: Ingredient) -> None:
    """Print one ingredient line in columns, with a question mark where something was guessed."""
    if ingredient.kind != "ingredient":
        say.line(
            f"{ingredient.text}  ({'a heading' if ingredient.kind == 'heading' else 'not an ingredient'})", first="  "
        )
        return
    rest = [part for part in (ingredient.preparation, ingredient.purpose, ingredient.remark) if part]
    if ingredient.container:
        rest.insert(0, f"each {measure_words(ingredient.container)}")
    rest += [f"plus {measure_words(measure)}" for measure in ingredient.plus]
    rest += [f"the same: {measure_words(measure)}" for measure in ingredient.also]
    if ingredient.how:
        rest.insert(0, ingredient.how)
    if ingredient.optional:
        rest.append("optional")
    rest += [
        "or " + " plus ".join(f"{amount_words(a.amount)} {a.unit or ''} {a.item}".strip() for a in alternative)
        for alternative in ingredient.instead
    ]
    if ingredient.unsure:
        rest.append(f"unsure: {', '.join(ingredient.unsure)}")
    mark = "?" if ingredient.unsure else " "
    cells = [mark, amount_words(ingredient.amount), ingredient.unit or "", ingredient.item, "; ".join(rest)]
    say.columns([cells], [1, 7, 10, 24, say.width() - 50])


def amount_words(amount: Amount | None) -> str:
    """ "1 1/2", "2-3", or nothing."""
    if amount is None:
        return ""
    low = write_amount(amount.low)
    return low if amount.low == amount.high else f"{low}-{write_amount(amount.high)}"


def measure_words(measure: Measure) -> str:
    """ "14 1/2 ounce"."""
    return f"{amount_words(measure.amount)} {measure.unit or ''}".strip()


def bake_words(bake: Bake) -> str:
    """ "425 F / 220 C, 25 minutes"."""
    heats = " / ".join(_heat_words(heat) for heat in bake.settings)
    minutes = f"{amount_words(bake.minutes)} minutes" if bake.minutes else ""
    return ", ".join(part for part in (heats, minutes) if part)


def _heat_words(heat: Heat) -> str:
    if heat.scale == "words":
        return heat.words or ""
    value = amount_words(heat.value)
    words = f"gas {value}" if heat.scale == "gas" else f"{value} {heat.scale}"
    return f"{words} fan" if heat.fan else words


def _facts(card: Card) -> list[tuple[str, str]]:
    facts = [("file", card.called)]
    if card.name:
        facts.append(("whose", card.name))
    if card.serves:
        facts.append(("serves", amount_words(card.serves)))
    if card.makes:
        facts.append(("makes", f"{amount_words(Amount(card.makes.low, card.makes.high))} {card.makes.what}"))
    if card.pan:
        facts.append(("pan", card.pan.text))
    facts += [("oven", bake_words(bake)) for bake in card.oven]
    minutes = card.minutes
    stated = (("prepare", minutes.prepare), ("cook", minutes.cook), ("all", minutes.all))
    times = [f"{name} {_time_words(value)}" for name, value in stated if value]
    if times:
        facts.append(("time", ", ".join(times)))
    if card.tags:
        facts.append(("tags", ", ".join(card.tags)))
    if card.measures:
        facts.append(("measures", card.measures))
    return facts


def _time_words(minutes: Amount) -> str:
    if minutes.low == minutes.high and minutes.low >= 60:
        hours, rest = divmod(minutes.low, Fraction(60))
        return f"{hours} h" + (f" {write_amount(rest)} min" if rest else "")
    return f"{amount_words(minutes)} min"
