"""What header lines and steps say of a card: serves, makes, pan, oven, minutes, tags."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from recipebox.cards.facts import read_makes, read_serves
from recipebox.cards.heat import baking_minutes_in, oven_in_steps, read_oven
from recipebox.cards.model import Amount, Bake, Header, Makes, Minutes, Pan, Passage
from recipebox.cards.pans import pan_in_steps, read_pan
from recipebox.cards.times import read_time, read_times

_PEOPLE = re.compile(
    r"(?:\w+ )?(?:people|persons?|servings?|portions?|portionen|personen|personnes|personas|porciones|raciones|persone"
    r"|porzioni|porties|adults?|helpings|plates)\W*$",
    re.IGNORECASE,
)


@dataclass(slots=True)
class Facts:
    """A card's facts."""

    serves: Amount | None = None
    makes: Makes | None = None
    pan: Pan | None = None
    oven: tuple[Bake, ...] = ()
    minutes: Minutes = field(default_factory=Minutes)
    tags: tuple[str, ...] = ()


def facts_of(headers: Sequence[Header], steps: Sequence[Passage]) -> Facts:
    """The facts of these header lines, the first of a name before later ones; pan and oven else from the steps."""
    facts = Facts()
    times: dict[str, Amount] = {}
    tags: list[str] = []
    for header in headers:
        name, value = header.name, header.value
        if name == "serves" and facts.serves is None:
            facts.serves = read_serves(value)
        elif name == "makes":
            _yield(facts, value)
        elif name == "pan" and facts.pan is None:
            facts.pan = read_pan(value)
        elif name == "oven":
            facts.oven += read_oven(value, header.line)
        elif name in ("prepare", "cook", "all"):
            amount = read_time(value, whole=True)
            if amount is not None:
                times.setdefault(name, amount)
        elif name == "time":
            for key, amount in read_times(value).items():
                times.setdefault(key, amount)
        elif name == "tags":
            tags += [tag for part in re.split(r"[,;]", value) if (tag := part.strip(" #[]\"'"))]
    if not facts.oven:
        facts.oven = oven_in_steps(steps)
    elif len(facts.oven) == 1 and facts.oven[0].minutes is None:
        facts.oven = (replace(facts.oven[0], minutes=baking_minutes_in(steps)),)
    if facts.pan is None:
        facts.pan = pan_in_steps(steps)
    facts.minutes = Minutes(times.get("prepare"), times.get("cook"), times.get("all"))
    facts.tags = tuple(dict.fromkeys(tags))
    return facts


def _yield(facts: Facts, value: str) -> None:
    """ "Makes 4 servings" serves four; "Yield: 4" says no more than that."""
    makes = read_makes(value)
    if makes is None:
        if facts.serves is None and (amount := read_serves(value)) is not None and "serv" in value.casefold():
            facts.serves = amount
        return
    if _PEOPLE.match(makes.what):
        if facts.serves is None:
            facts.serves = Amount(makes.low, makes.high)
    elif facts.makes is None:
        facts.makes = makes
