"""Cards and ingredient lines as JSON-ready data, and back, exactly."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any

from recipebox.cards.model import (
    Alternative,
    Amount,
    Bake,
    Card,
    Entry,
    Heat,
    Ingredient,
    Makes,
    Measure,
    Minutes,
    Pan,
    Passage,
    SomeAdd,
    Swap,
    Trouble,
    Variation,
    VersionLine,
    Wording,
)

Data = dict[str, Any]


def card_data(card: Card) -> Data:
    """A card in the shape of schema/card.schema.json: exact fractions as text, None where the card says nothing."""
    return {
        "path": card.path,
        "part": card.part,
        "kind": card.kind,
        "title": card.title,
        "from": card.sender,
        "serves": amount_data(card.serves),
        "makes": None
        if card.makes is None
        else {"low": str(card.makes.low), "high": str(card.makes.high), "what": card.makes.what},
        "pan": None if card.pan is None else pan_data(card.pan),
        "oven": [bake_data(bake) for bake in card.oven],
        "minutes": {
            "prepare": amount_data(card.minutes.prepare),
            "cook": amount_data(card.minutes.cook),
            "all": amount_data(card.minutes.all),
        },
        "tags": list(card.tags),
        "measures": card.measures,
        "ingredients": [ingredient_data(ingredient) for ingredient in card.ingredients],
        "steps": [{"line": step.line, "text": step.text} for step in card.steps],
        "notes": [{"line": note.line, "text": note.text} for note in card.notes],
        "some_add": [{**ingredient_data(some.ingredient), "who": list(some.who)} for some in card.some_add],
        "variations": [
            {"name": v.name, "ingredients": [ingredient_data(i) for i in v.ingredients]} for v in card.variations
        ],
        "swaps": [swap_data(swap) for swap in card.swaps],
        "undecided": [entry_data(entry) for entry in card.undecided],
        "settled": [entry_data(entry) for entry in card.settled],
        "versions": [{"name": v.name, "path": v.path, "batch": str(v.batch), "gone": v.gone} for v in card.versions],
        "trouble": [{"line": t.line, "what": t.what} for t in card.trouble],
    }


def card_from_data(data: Mapping[str, Any]) -> Card:
    """The card that `card_data` wrote. Raises KeyError, TypeError or ValueError where the data has another shape."""
    makes = data["makes"]
    minutes = data["minutes"]
    return Card(
        path=data["path"],
        title=data["title"],
        part=data["part"],
        kind=data["kind"],
        sender=data["from"],
        serves=amount_from_data(data["serves"]),
        makes=None if makes is None else Makes(_exact(makes["low"]), _exact(makes["high"]), makes["what"]),
        pan=_pan(data["pan"]),
        oven=tuple(bake_from_data(bake) for bake in data["oven"]),
        minutes=Minutes(
            amount_from_data(minutes["prepare"]), amount_from_data(minutes["cook"]), amount_from_data(minutes["all"])
        ),
        tags=tuple(data["tags"]),
        measures=data["measures"],
        ingredients=tuple(ingredient_from_data(i) for i in data["ingredients"]),
        steps=tuple(Passage(step["text"], step["line"]) for step in data["steps"]),
        notes=tuple(Passage(note["text"], note["line"]) for note in data["notes"]),
        some_add=tuple(SomeAdd(ingredient_from_data(s), tuple(s["who"])) for s in data["some_add"]),
        variations=tuple(
            Variation(v["name"], tuple(ingredient_from_data(i) for i in v["ingredients"])) for v in data["variations"]
        ),
        swaps=tuple(_swap(swap) for swap in data["swaps"]),
        undecided=tuple(_entry(entry) for entry in data["undecided"]),
        settled=tuple(_entry(entry) for entry in data["settled"]),
        versions=tuple(VersionLine(v["name"], v["path"], _exact(v["batch"]), v["gone"]) for v in data["versions"]),
        trouble=tuple(Trouble(t["line"], t["what"]) for t in data["trouble"]),
    )


def ingredient_data(ingredient: Ingredient) -> Data:
    """An ingredient line in the shape of schema/ingredient.schema.json."""
    container = ingredient.container
    return {
        "kind": ingredient.kind,
        "line": ingredient.line,
        "group": ingredient.group,
        "text": ingredient.text,
        "amount": amount_data(ingredient.amount),
        "unit": ingredient.unit,
        "container": None
        if container is None
        else {
            "low": str(container.amount.low),
            "high": str(container.amount.high),
            "unit": container.unit,
        },
        "plus": _measures_data(ingredient.plus),
        "also": _measures_data(ingredient.also),
        "how": ingredient.how,
        "item": ingredient.item,
        "items": list(ingredient.items),
        "preparation": ingredient.preparation,
        "purpose": ingredient.purpose,
        "optional": ingredient.optional,
        "remark": ingredient.remark,
        "instead": [
            [{"amount": amount_data(a.amount), "unit": a.unit, "item": a.item} for a in alternative]
            for alternative in ingredient.instead
        ],
        "unsure": list(ingredient.unsure),
    }


def ingredient_from_data(data: Mapping[str, Any]) -> Ingredient:
    """The ingredient that `ingredient_data` wrote. Raises as `card_from_data` does."""
    container = data["container"]
    return Ingredient(
        text=data["text"],
        line=data["line"],
        kind=data["kind"],
        group=data["group"],
        amount=amount_from_data(data["amount"]),
        unit=data["unit"],
        container=None
        if container is None
        else Measure(Amount(_exact(container["low"]), _exact(container["high"])), container["unit"]),
        plus=_measures(data["plus"]),
        also=_measures(data["also"]),
        how=data["how"],
        item=data["item"],
        items=tuple(data["items"]),
        preparation=data["preparation"],
        purpose=data["purpose"],
        optional=data["optional"],
        remark=data["remark"],
        instead=tuple(
            tuple(Alternative(amount_from_data(a["amount"]), a["unit"], a["item"]) for a in alternative)
            for alternative in data["instead"]
        ),
        unsure=tuple(data["unsure"]),
    )


def amount_data(amount: Amount | None) -> Data | None:
    """{"low": "3/2", "high": "3/2"}, or None."""
    return None if amount is None else {"low": str(amount.low), "high": str(amount.high)}


def pan_data(pan: Pan) -> Data:
    """A baking dish in the card's shape."""
    volume = pan.volume
    return {
        "text": pan.text,
        "count": pan.count,
        "shape": pan.shape,
        "sides": [str(side) for side in pan.sides],
        "depth": None if pan.depth is None else str(pan.depth),
        "unit": pan.unit,
        "volume": None if volume is None else {"amount": amount_data(volume.amount), "unit": volume.unit},
    }


def bake_data(bake: Bake) -> Data:
    """One bake in the card's shape."""
    return {
        "text": bake.text,
        "line": bake.line,
        "settings": [
            {"value": amount_data(heat.value), "scale": heat.scale, "fan": heat.fan, "words": heat.words}
            for heat in bake.settings
        ],
        "minutes": amount_data(bake.minutes),
    }


def swap_data(swap: Swap) -> Data:
    """A swap in the card's shape."""
    return {
        "item": swap.item,
        "instead": swap.instead,
        "how": swap.how,
        "who": swap.who,
        "source": swap.source,
        "effect": swap.effect,
        "brings_in": list(swap.brings_in),
        "takes_out": list(swap.takes_out),
    }


def entry_data(entry: Entry) -> Data:
    """An undecided or settled entry in the card's shape."""
    return {
        "about": entry.about,
        "wordings": [{"text": w.text, "chosen": w.chosen} for w in entry.wordings],
    }


@lru_cache(maxsize=4096)
def _exact(number: str) -> Fraction:
    """A number as data has it; a box has few, and a large one reads each a thousand times."""
    return Fraction(number)


def _measures_data(measures: Iterable[Measure]) -> list[Data]:
    return [{"amount": amount_data(m.amount), "unit": m.unit} for m in measures]


def amount_from_data(data: Mapping[str, str] | None) -> Amount | None:
    """The amount that `amount_data` wrote."""
    return None if data is None else Amount(_exact(data["low"]), _exact(data["high"]))


def _stated(data: Mapping[str, str]) -> Amount:
    return Amount(_exact(data["low"]), _exact(data["high"]))


def _measures(data: Iterable[Mapping[str, Any]]) -> tuple[Measure, ...]:
    return tuple(Measure(_stated(m["amount"]), m["unit"]) for m in data)


def _pan(data: Mapping[str, Any] | None) -> Pan | None:
    if data is None:
        return None
    volume = data["volume"]
    return Pan(
        text=data["text"],
        count=data["count"],
        shape=data["shape"],
        sides=tuple(_exact(side) for side in data["sides"]),
        depth=None if data["depth"] is None else _exact(data["depth"]),
        unit=data["unit"],
        volume=None if volume is None else Measure(_stated(volume["amount"]), volume["unit"]),
    )


def bake_from_data(data: Mapping[str, Any]) -> Bake:
    """The bake that `bake_data` wrote."""
    return Bake(
        text=data["text"],
        line=data["line"],
        settings=tuple(
            Heat(heat["scale"], amount_from_data(heat["value"]), heat["fan"], heat["words"])
            for heat in data["settings"]
        ),
        minutes=amount_from_data(data["minutes"]),
    )


def _swap(data: Mapping[str, Any]) -> Swap:
    return Swap(
        item=data["item"],
        instead=data["instead"],
        how=data["how"],
        who=data["who"],
        source=data["source"],
        effect=data["effect"],
        brings_in=tuple(data["brings_in"]),
        takes_out=tuple(data["takes_out"]),
    )


def _entry(data: Mapping[str, Any]) -> Entry:
    return Entry(data["about"], tuple(Wording(w["text"], w["chosen"]) for w in data["wordings"]))
