"""The food-safety tables as rules: what to say, where it was published, and the words that call for it."""

from dataclasses import dataclass
from functools import cache

from recipebox.cautions.match import Keywords, keywords
from recipebox.tables.load import rows

# Words a card may use that the published keyword lists lack, by row: common practice, no source. The temperature
# stays the row's.
_MORE_WORDS = {
    "Beef, veal, lamb, bison, goat: whole cuts": (
        "beef;stewing steak;braising steak;beef joint;beef shin;short ribs;oxtail",
        "beef bouillon;beef bouillon cube;beef consomme;beef base;beef gravy;corned beef;dried beef;beef tomato;"
        "beef dripping;ground beef;minced beef",
    ),
    "Pork: whole cuts": (
        "pork;pork belly;gammon;pork joint",
        "pork sausage;pork mince;minced pork;pork rinds;pork gravy;pork bouillon",
    ),
    "Fish with fins": ("white fish;smoked haddock;monkfish;sea bass;plaice;mackerel;herring;sardines;whiting", ""),
}

# The published words call frozen food safe. This tool gives no such verdict, its source may be read for it.
_TOLD_OTHERWISE = {
    "freezer_quality_vs_safety": (
        "Freezer months are about taste and texture at 0 °F (-18 °C). Freezing does not kill germs: treat the dish as "
        "perishable once thawed."
    )
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One row: its key, what it says, where that stands, and its words. `degrees` Fahrenheit for a temperature row."""

    key: str
    text: str
    source: str
    url: str
    basis: str
    words: Keywords
    degrees: int = 0


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long a food keeps by a row of cold_storage.csv: fridge days and freezer months, None where not given."""

    food: str
    fridge_days: tuple[int, int] | None
    freezer_months: tuple[int, int] | None
    note: str
    source: str
    url: str
    basis: str


@cache
def temperatures() -> tuple[Rule, ...]:
    """safe_temperatures.csv, in its order."""
    return tuple(_temperature(row) for row in rows("safe_temperatures"))


@cache
def kitchen_rules() -> tuple[Rule, ...]:
    """kitchen_safety_rules.csv, in its order."""
    return tuple(
        Rule(
            row["rule_id"],
            _recalled(_TOLD_OTHERWISE.get(row["rule_id"], row["caution"]), row["basis"]),
            row["source"],
            row["url"],
            row["basis"],
            keywords(row["keywords"], row["not_keywords"]),
        )
        for row in rows("kitchen_safety_rules")
    )


@cache
def cold_storage() -> tuple[tuple[Rule, Keeping], ...]:
    """cold_storage.csv, in its order: each row as a rule and as figures."""
    made = []
    for row in rows("cold_storage"):
        keeping = Keeping(
            row["food_group"],
            _span(row["fridge_days_min"], row["fridge_days_max"]),
            _span(row["freezer_months_min"], row["freezer_months_max"]),
            row["note"],
            row["source"],
            row["url"],
            row["basis"],
        )
        words = keywords(row["keywords"], row["not_keywords"])
        text = _recalled(_storage_text(keeping), row["basis"])
        made.append((Rule(row["food_group"], text, row["source"], row["url"], row["basis"], words), keeping))
    return tuple(made)


def _temperature(row: dict[str, str]) -> Rule:
    more, not_more = _MORE_WORDS.get(row["food_group"], ("", ""))
    text = (
        f"{row['food_group']}: published guidance is {row['min_internal_F']} °F ({row['min_internal_C']} °C) inside, "
        "by a food thermometer"
    )
    if int(row["rest_minutes"]):
        text += f", then {row['rest_minutes']} minutes' rest"
    text += f". {row['note']}" if row["note"] else "."
    return Rule(
        row["food_group"],
        _recalled(text, row["basis"]),
        row["source"],
        row["url"],
        row["basis"],
        keywords(f"{row['keywords']};{more}", f"{row['not_keywords']};{not_more}"),
        int(row["min_internal_F"]),
    )


def _storage_text(keeping: Keeping) -> str:
    told = []
    if keeping.fridge_days:
        told.append(f"{_range(keeping.fridge_days, 'day')} in the fridge")
    if keeping.freezer_months:
        told.append(f"{_range(keeping.freezer_months, 'month')} in the freezer (for quality)")
    text = f"{keeping.food}: published guidance is {' or '.join(told)}."
    return f"{text} {keeping.note}" if keeping.note else text


def _range(span: tuple[int, int], word: str) -> str:
    low, high = span
    number = str(low) if low == high else f"{low} to {high}"
    return f"{number} {word}" if high == 1 else f"{number} {word}s"


def _span(low: str, high: str) -> tuple[int, int] | None:
    return (int(low), int(high)) if low and high else None


def _recalled(text: str, basis: str) -> str:
    return f"{text} (Recalled, not retrieved: check the source.)" if basis == "memory" else text
