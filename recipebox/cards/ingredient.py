"""One line of a list of ingredients, to data."""

import re
from dataclasses import dataclass, field

from recipebox.cards.amounts import read_amount
from recipebox.cards.headings import is_heading
from recipebox.cards.likeness import ingredient_likeness
from recipebox.cards.lineparts import Part, cut_parts
from recipebox.cards.marks import is_marked_heading, plain, unbulleted
from recipebox.cards.measured import Measured, only_measure, read_measured
from recipebox.cards.model import Alternative, Ingredient, Measure
from recipebox.cards.preparations import is_preparation, is_quality, split_preparation
from recipebox.cards.unitwords import is_container, is_measure, read_unit

__all__ = ["ingredient_likeness", "read_ingredient"]

_LETTER = re.compile(r"[^\W\d_]")
_OPTIONAL = re.compile(r"\boptional(?:ly)?\b[\s:,-]*", re.IGNORECASE)
_TASTE = re.compile(
    r"(?:or\s+|and\s+)?(?:more\s+|less\s+|adjust(?:ed)?\s+)?(?:according\s+)?(?:to|for)\s+(?:your\s+|personal\s+)?taste\b"
    r"|^(?:as|if) (?:needed|required|desired)\b|^(?:or )?to your liking|^(?:q\.?s\.?|a\.?n\.?)$",
    re.IGNORECASE,
)
_PURPOSE = re.compile(
    r"^(?:extra\s+|more\s+|additional\s+)?(?:for\s+(?!a\b|each\b)|to\s+(?:serve|garnish|decorate|finish|cover|coat|grease|dust"
    r"|sprinkle|brush|fry|top|blend|bake|drizzle|roll|glaze|deep|pan|line|spread|thin|thicken|bind|accompany)\b)",
    re.IGNORECASE,
)
_MORE = re.compile(
    r"^(?:and\s+)?(?:plus|\+|with|and)\s+(?:some\s+|a (?:little|bit)\s+)?(?:more|extra|additional)\b", re.IGNORECASE
)
_OR = re.compile(
    r"^(?:or|and/or|alternatively|can (?:be )?substitut\w+(?: with| for)?|substitute|sub)\b[\s,:]*", re.IGNORECASE
)
_NO_ALTERNATIVE = re.compile(
    r"^(?:more|less|so|to\s+taste|as\s|if\s|until|whatever|however|any|other|your|you|try|use\s+whatever|just|enough"
    r"|for\s+a\s+|equivalent|to\s+your|a\s+(?:little|bit|few)|thereabouts|not\b)",
    re.IGNORECASE,
)
_PLUS = re.compile(r"\s+(?:plus|\+)\s+", re.IGNORECASE)
_CHAT = re.compile(
    r"\b(?:i|i'm|i've|you|your|we|my|mine|it|they|them|was|were|is|are|if|used?|see|note|don't)\b|[!?]", re.IGNORECASE
)
_JUICE = re.compile(
    r"^(?:the\s+)?((?:(?:finely\s+|freshly\s+)?(?:grated\s+|squeezed\s+)?(?:juice|zest|rind|peel)(?:\s+(?:and|&|plus)\s+)?){1,2}\s+(?:of|from))\s+",
    re.IGNORECASE,
)
_LEAD = re.compile(r"^(?:optional(?:ly)?\s*[:,-]\s*|(?:plus|and|also|then)\s+(?=[\d½¼¾⅓⅔a]))", re.IGNORECASE)
_EACH = re.compile(r"^(?:each|every)(?:\s+of)?\s*:?\s+", re.IGNORECASE)
_TRAILING_MEASURE = re.compile(r"(?:\s|^)(?=[\d½⅓⅔¼¾⅛⅜⅝⅞~])")
_REMARK_AMOUNT = re.compile(r"(?<![\w/.,])(?=[\d½⅓⅔¼¾⅛⅜⅝⅞])")
_AND = re.compile(r"\s+(?:and|&)\s+", re.IGNORECASE)
_ONE_THING = re.compile(
    r"\b(?:half|sweet|mac|macaroni|pork|bread|oil|hot|salt|fish|peaches|cookies|surf)\s+(?:and|&|n)\s+"
    r"(?:half|sour|cheese|beans|butter|vinegar|cold|chips|cream|turf)\b",
    re.IGNORECASE,
)
_FRENCH = re.compile(
    r"^(?:de\s|d['’])|[éèàçê]|\b(?:sucre|sel|farine|huile|vanille|levure|beurre|poivre|eau|lait)\b", re.IGNORECASE
)


@dataclass
class _Draft:
    measured: Measured = field(default_factory=Measured)
    how: str | None = None
    items: list[str] = field(default_factory=list)
    preparation: list[str] = field(default_factory=list)
    purpose: list[str] = field(default_factory=list)
    remark: list[str] = field(default_factory=list)
    optional: bool = False
    instead: list[tuple[Alternative, ...]] = field(default_factory=list)
    unsure: list[str] = field(default_factory=list)


def read_ingredient(text: str, line: int = 1, group: str | None = None, sure_metric: bool = False) -> Ingredient:
    """Read one line as an ingredient, a heading or other text, in the shape of Ingredient.

    `text` may begin with a bullet and hold Markdown marks. `sure_metric` says that "cc" is a millilitre in this card;
    otherwise a French line's "cc" is read as the coffee spoon and marked unsure. Never raises, whatever the string.
    """
    kept = unbulleted(text)
    words = plain(kept)
    if not _LETTER.search(words):
        return Ingredient(text=kept, line=line, kind="text", group=group, item=words)
    measured = read_measured(words)
    if measured.amount is None and (is_heading(words) or is_marked_heading(text)):
        return Ingredient(text=kept, line=line, kind="heading", group=group, item=words.strip(" :#*_"))
    draft = _Draft()
    name = _read_words(words, measured, draft)
    _settle_cc(words, draft, sure_metric)
    found = draft.measured
    return Ingredient(
        text=kept,
        line=line,
        group=group,
        amount=found.amount,
        unit=found.unit,
        container=found.container,
        plus=found.plus,
        also=found.also,
        how=draft.how or found.how,
        item=name,
        items=_items(name, draft.items),
        preparation=", ".join(draft.preparation) or None,
        purpose=", ".join(draft.purpose) or None,
        optional=draft.optional,
        remark="; ".join(draft.remark) or None,
        instead=tuple(draft.instead),
        unsure=tuple(draft.unsure),
    )


def _read_words(words: str, measured: Measured, draft: _Draft) -> str:
    lead = _LEAD.match(words)
    if lead and measured.amount is None:
        draft.optional = "optional" in lead.group().lower()
        words = words[lead.end() :]
        measured = read_measured(words)
    juice = _JUICE.match(words)
    if juice and measured.amount is None:
        draft.preparation.append(juice[1].strip())
        words = words[juice.end() :]
        measured = read_measured(words)
    draft.measured = measured
    if measured.size:
        draft.remark.append(measured.size)
    rest = words[measured.end :]
    each = _EACH.match(rest)
    if each:
        rest = rest[each.end() :]
    parts = cut_parts(rest)
    name, parts = _whole_name(parts)
    name = _amount_behind(name, draft)
    bought = is_container(draft.measured.unit) or any(is_container(m.unit) for m in draft.measured.also)
    name, preparation = split_preparation(name, bought)
    draft.preparation += [phrase for phrase in preparation if not _taste_or_purpose(phrase, draft)]
    name = _counted(name, draft)
    for part in parts:
        _take(part, name, draft)
    if not name:
        name = _name_from_parts(words, measured, draft)
    return name


def _whole_name(parts: list[Part]) -> tuple[str, list[Part]]:
    """The name, with what follows its first comma when only qualities stand before it ("large, ripe tomatoes")."""
    name = parts[0].text
    rest = parts[1:]
    if not name or is_quality(name):
        for number, part in enumerate(rest):
            if part.kind == "comma" and not only_measure(part.text) and not _OR.match(part.text):
                if is_quality(part.text) and name and number + 1 < len(rest):
                    continue
                if is_quality(part.text):
                    break
                joined = ", ".join([name, *(p.text for p in rest[:number] if p.kind == "comma"), part.text]).strip(", ")
                return joined, [p for p in rest[:number] if p.kind != "comma"] + rest[number + 1 :]
            if part.kind == "or" and name:
                behind = part.text
                return f"{name} or {behind}" if is_quality(name) and not read_amount(behind) else name, rest[
                    :number
                ] + rest[number + 1 :]
    return name, rest


def _amount_behind(name: str, draft: _Draft) -> str:
    """A measure behind the name, when none stood before it: "Flour 2 cups"."""
    if draft.measured.amount is not None:
        return name
    for start in list(_TRAILING_MEASURE.finditer(name[:300]))[:6]:
        measured = only_measure(name[start.end() :])
        if measured and start.start() > 0:
            measured.how = measured.how or draft.measured.how
            draft.measured = measured
            return name[: start.start()].rstrip(" -:.")
    return name


def _counted(name: str, draft: _Draft) -> str:
    """A counting word in or behind the name is the unit: "2 garlic cloves", "4 cinnamon sticks"."""
    if draft.measured.amount is None or draft.measured.unit is not None:
        return name
    words = name.split()
    if (
        len(words) > 1
        and words[-1].lower() in _COUNT_NOUNS
        and not (words[-2].lower(), words[-1].lower()) in _KEPT_PAIRS
    ):
        unit = read_unit(words[-1])
        if unit:
            draft.measured.unit = unit[0]
            return " ".join(words[:-1])
    return name


_COUNT_NOUNS = frozenset(
    "clove cloves slice slices stick sticks stalk stalks rib ribs sprig sprigs fillet fillets filets leaf leaves sheet sheets strand"
    " strands head heads bulb bulbs ear ears rasher rashers floret florets wedge wedges".split()
)
_KEPT_PAIRS = frozenset(
    {
        ("bay", "leaf"),
        ("bay", "leaves"),
        ("pop", "sticks"),
        ("bread", "sticks"),
        ("short", "ribs"),
        ("spare", "ribs"),
        ("baby", "ribs"),
        ("back", "ribs"),
    }
)


def _take(part: Part, name: str, draft: _Draft) -> None:
    """Put one piece of the line where it belongs."""
    text = part.text
    if part.kind == "or" or _OR.match(text):
        _alternative(_OR.sub("", text, count=1), draft)
        return
    if _OPTIONAL.search(text):
        draft.optional = True
        text = _OPTIONAL.sub("", text, count=1).strip(" ,:;-")
        if not text:
            return
    if _taste_or_purpose(text, draft):
        return
    if _MORE.match(text):
        draft.remark.append(text)
        return
    if _take_measure(text, part.kind, draft):
        return
    if "," in text or ";" in text:
        pieces = [p for p in cut_parts(text) if p.text]
        if len(pieces) > 1 and not _CHAT.search(text):
            for piece in pieces:
                _take(Part("or" if piece.kind == "or" else "comma", piece.text), name, draft)
            return
    if _CHAT.search(text) and part.kind == "bracket":
        _remark(text, draft)
    elif is_preparation(text):
        draft.preparation.append(text)
    elif (
        part.kind == "comma" and name and not draft.measured.unit and not draft.preparation and _is_listed(text, draft)
    ):
        draft.items.append(text)
    else:
        _remark(text, draft)


def _is_listed(text: str, draft: _Draft) -> bool:
    return draft.measured.amount is None and not draft.remark and len(text.split()) <= 3 and not _CHAT.search(text)


def _take_measure(text: str, kind: str, draft: _Draft) -> bool:
    found = draft.measured
    added = re.match(r"(?:plus|\+|and)\s+", text, re.IGNORECASE)
    if added:
        measured = only_measure(text[added.end() :])
        if measured and measured.amount and is_measure(measured.unit) and is_measure(found.unit):
            found.plus += (Measure(measured.amount, measured.unit),)
            return True
    measured = only_measure(text)
    if measured and measured.amount:
        measure = Measure(measured.amount, measured.unit)
        if found.amount is None:
            measured.how = measured.how or found.how
            draft.measured = measured
        elif measured.unit is None:
            return False
        elif is_container(found.unit) and is_measure(measured.unit) and found.container is None:
            found.container = measure
        else:
            found.also += (measure,)
        return True
    unit = read_unit(text)
    if unit and found.amount is not None and found.unit is None and text[unit[1] :].strip(" .") in ("", "of"):
        found.unit = unit[0]
        return True
    return False


def _taste_or_purpose(text: str, draft: _Draft) -> bool:
    if _TASTE.search(text) and len(text) < 60:
        draft.how = "to taste" if draft.measured.amount is None else draft.how
        if draft.measured.amount is not None:
            draft.remark.append(text)
        return True
    if _PURPOSE.match(text):
        draft.purpose.append(text)
        return True
    return False


def _alternative(text: str, draft: _Draft) -> None:
    if not text:
        return
    if _NO_ALTERNATIVE.match(text) or not _LETTER.search(text):
        draft.remark.append(f"or {text}")
        if _TASTE.search(text) and draft.measured.amount is None:
            draft.how = "to taste"
        return
    together = []
    for piece in _PLUS.split(text)[:6]:
        measured = read_measured(piece)
        item, preparation = split_preparation(cut_parts(piece[measured.end :])[0].text)
        if item:
            together.append(Alternative(measured.amount, measured.unit, item))
            if not draft.preparation:
                draft.preparation += [p for p in preparation if not _taste_or_purpose(p, draft)]
    if together:
        draft.instead.append(tuple(together))


def _remark(text: str, draft: _Draft) -> None:
    """A remark; an amount that stands nowhere else is taken from it and marked unsure."""
    draft.remark.append(text)
    if draft.measured.amount is not None:
        return
    for start in list(_REMARK_AMOUNT.finditer(text[:300]))[:5]:
        measured = read_measured(text[start.start() :])
        if measured.amount and is_measure(measured.unit):
            draft.measured = Measured(amount=measured.amount, unit=measured.unit)
            draft.unsure += ["amount", "unit"]
            return


def _name_from_parts(words: str, measured: Measured, draft: _Draft) -> str:
    """A line whose name is only a unit word or a preparation ("2 rolls"): better a rough name than none."""
    behind = words[measured.end :].strip(" ,.;:-")
    if behind and not behind.startswith("("):
        return behind
    if measured.unit and not is_measure(measured.unit):
        name, measured.unit = words[: measured.end].split()[-1].strip("., "), None
        draft.measured = measured
        return name
    return ""


def _items(name: str, listed: list[str]) -> tuple[str, ...]:
    if not name:
        return ()
    first = [name]
    if not _ONE_THING.search(name):
        halves = [half.strip(" ,") for half in _AND.split(name)]
        if all(halves) and not any(is_quality(half) for half in halves):
            first = halves
    behind = [
        half.strip() for item in listed for half in _AND.split(re.sub(r"^(?:and|&)\s+", "", item)) if half.strip()
    ]
    return tuple(first + behind)


def _settle_cc(words: str, draft: _Draft, sure_metric: bool) -> None:
    found = draft.measured
    spelt = re.search(r"\bcc\b", words[:40])
    if spelt and found.unit == "millilitre" and not sure_metric and _FRENCH.search(words[spelt.end() :].lstrip(" .")):
        found.unit = "cuillère à café"
        draft.unsure.append("unit")
