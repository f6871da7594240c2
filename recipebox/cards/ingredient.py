"""One line of a list of ingredients, to data."""

import re

from recipebox.cards.headings import group_label, is_heading
from recipebox.cards.itemname import amount_behind, counted, whole_name
from recipebox.cards.likeness import ingredient_likeness
from recipebox.cards.linedraft import Draft
from recipebox.cards.lineparts import cut_parts
from recipebox.cards.marks import is_marked_heading, plain, unbulleted
from recipebox.cards.measured import only_measure, read_measured
from recipebox.cards.measureparts import ONE, Measured
from recipebox.cards.model import Ingredient
from recipebox.cards.plainline import read_plain
from recipebox.cards.preparations import split_preparation
from recipebox.cards.unitwords import is_container, is_measure

__all__ = ["ingredient_likeness", "read_ingredient"]

_CHATTER = 0.05  # below it a line of words is a sentence, not something to buy
_NUMBERED = re.compile(r"\d{1,2}[.)]\s+[A-Z]")
_LONGEST = 2000  # nobody writes a longer ingredient; what lies behind stays in `text`
_SIZED = re.compile(
    r"(?:(?:an?\s+)?(?:piece|lump|knob|bit)\s+of\s+)?(?P<butter>(?:[a-z]+\s+)?butter)[\s,(]+(?:about\s+)?(?:the\s+)?size\s+of"
    r"\s+(an egg|a walnut)\b\)?",
    re.IGNORECASE,
)
_LETTER = re.compile(r"[^\W\d_]")
_JUICE = re.compile(
    r"(?:the\s+)?((?:(?:finely\s+|freshly\s+)?(?:grated\s+|squeezed\s+)?(?:juice|zest|rind|peel|whites?|yolks?)(?:\s+(?:and|&|plus)\s+)?){1,2}"
    r"\s+(?:of|from))\s+",
    re.IGNORECASE,
)
_OPTIONAL_LEAD = re.compile(r"optional(?:ly)?\s*[:,-]\s*|[(\[]optional[)\]]\s*[:,-]?\s*", re.IGNORECASE)
_TASTE_LEAD = re.compile(r"(?:to taste|as needed)[\s,:]+(?=\w)", re.IGNORECASE)
_LEAD = re.compile(r"(?:plus|and|also|then|\+|&)\s+(?=[\d½¼¾⅓⅔a])", re.IGNORECASE)
_EACH = re.compile(r"(?:each|every)(?:\s+of)?\s*:?\s+", re.IGNORECASE)
_ARTICLE_LETTERS = frozenset("oOtTaA")
_ARTICLE = re.compile(r"(?:of\s+)?(?:[Tt]he|an?)\s+(?=\w)")
_PIECES = re.compile(r"\bstks?\b", re.IGNORECASE)
_SALT_PEPPER = re.compile(r"\bs\s?(?:&|and|\+)\s?p\b", re.IGNORECASE)
_IN_STICKS = re.compile(r"butter|margarine|oleo|shortening|celery|cinnamon", re.IGNORECASE)
_FRENCH = re.compile(
    r"\A(?:de\s|d['’])|[éèàçê]|\b(?:sucre|sel|farine|huile|vanille|levure|beurre|poivre|eau|lait)\b", re.IGNORECASE
)


def read_ingredient(text: str, line: int = 1, group: str | None = None, sure_metric: bool = False) -> Ingredient:
    """Read one line as an ingredient, a heading or other text, in the shape of Ingredient.

    `text` may begin with a bullet and hold Markdown marks. `sure_metric` says that "cc" is a millilitre in this card;
    otherwise a French line's "cc" is read as the coffee spoon and marked unsure. Never raises, whatever the string.
    """
    if (found := read_plain(text, line, group)) is not None:
        return found
    return read_closely(text, line, group, sure_metric)


def read_closely(text: str, line: int = 1, group: str | None = None, sure_metric: bool = False) -> Ingredient:
    """As `read_ingredient`, without the short way for plain lines."""
    kept = unbulleted(text)
    words = _SALT_PEPPER.sub("salt and pepper", plain(kept[:_LONGEST]))
    if not _LETTER.search(words):
        return Ingredient(text=kept, line=line, kind="text", group=group)
    measured = read_measured(words)
    if measured.amount is None and (is_heading(words) or is_marked_heading(text)):
        return Ingredient(text=kept, line=line, kind="heading", group=group, item=words.strip(" :#*_"))
    sentence = (
        words.count(" ") > 5 if measured.amount is None else words[:1].isdigit() and _NUMBERED.match(words) is not None
    )
    if sentence and ingredient_likeness(kept) < _CHATTER:
        return Ingredient(text=kept, line=line, kind="text", group=group)
    if measured.amount is None and " + " in words and "(" not in words:
        words = words.replace(" + ", " & ")  # "salt + pepper"
    draft = Draft(measured=measured)
    if (sized := _SIZED.match(words)) is not None:
        # the table has butter by the size of an egg and of a walnut
        draft.measured = Measured(amount=ONE, unit=f"butter the size of {sized[2].lower()}")
        name = sized["butter"]
        for part in cut_parts(words[sized.end() :]):
            if part.text:
                draft.take(part)
    else:
        name = _read_words(words, draft)
    _settle_spelling(words, name, draft, sure_metric)
    return draft.as_ingredient(kept, line, group, name)


def _read_words(words: str, draft: Draft) -> str:
    """Fill the draft from the line's words; the name."""
    words = _strip_leads(words, draft)
    measured = draft.measured
    if measured.size:
        draft.remark.append(measured.size)
    rest = words[measured.end :]
    if rest[:1] in ("e", "E") and (each := _EACH.match(rest)):
        draft.each = True
        rest = rest[each.end() :]
    if measured.unit == "bunch" and rest.lower().startswith("garni"):
        measured.unit, rest = None, f"bouquet {rest}"  # its own name
    if measured.amount is not None and rest[:1] in _ARTICLE_LETTERS and (article := _ARTICLE.match(rest)):
        rest = rest[article.end() :]
    name, parts = whole_name(cut_parts(rest))
    if draft.measured.amount is None and (behind := amount_behind(name)):
        name, last = behind
        draft.measured = only_measure(last) or draft.measured
        draft.measured.how = draft.measured.how or measured.how
        if draft.measured.size:
            draft.remark.append(draft.measured.size)
        if draft.measured.unit is None and (holder := read_measured(name)).unit is not None:
            draft.measured.unit, name = holder.unit, name[holder.end :]  # "Tin of tomatoes - 1"
    bought = is_container(draft.measured.unit) or any(is_container(m.unit) for m in draft.measured.also)
    name, phrases = split_preparation(name, bought)
    for phrase in phrases:
        if not draft.take_phrase(phrase):
            draft.preparation.append(phrase)
    for part in parts:
        draft.take(part, bool(name))
    found = draft.measured
    if found.amount is not None and found.unit is None and (split := counted(name)):
        name, found.unit = split
    return name or _rough_name(words, draft, measured)


def _strip_leads(words: str, draft: Draft) -> str:
    """The words without "Optional:", "Garnish:", "plus", "juice of" before the measure."""
    for _ in range(3):
        if draft.measured.amount is not None:
            break
        if lead := _OPTIONAL_LEAD.match(words):
            draft.optional = True
        elif lead := _TASTE_LEAD.match(words):
            draft.how = "to taste"  # a table's first column
        elif lead := _JUICE.match(words):
            draft.preparation.append(lead[1].strip())
        elif label := group_label(words):
            said = words[:label].strip(" :")
            (draft.purpose if said.lower().startswith(("to ", "for ")) else draft.remark).append(said)
        elif not (lead := _LEAD.match(words)):
            break
        words = words[lead.end() if lead else label :].lstrip()
        draft.measured = read_measured(words)
    return words


def _rough_name(words: str, draft: Draft, measured: Measured) -> str:
    """A line whose name is only a unit word or a preparation ("2 rolls"): better a rough name than none."""
    behind = words[measured.end :].strip(" ,.;:-")
    if behind and not behind.startswith("("):
        draft.preparation.clear()
        return behind
    if measured.unit and not is_measure(measured.unit):
        name = words[: measured.end].split()[-1].strip("., ")
        draft.measured.unit = None
        return name
    return ""


def _settle_spelling(words: str, name: str, draft: Draft, sure_metric: bool) -> None:
    """What "cc" and "stk" mean hangs on the line: the coffee spoon or cubic centimetres, a stick or a piece."""
    found = draft.measured
    if found.unit == "stick" and _PIECES.search(words[:40]) and not _IN_STICKS.search(name):
        found.unit = "piece"
    if found.unit != "millilitre":
        return
    spelt = re.search(r"\bcc\b", words[:40])
    if spelt and not sure_metric and _FRENCH.search(words[spelt.end() :].lstrip(" .")):
        found.unit = "cuillère à café"
        draft.unsure.append("unit")
