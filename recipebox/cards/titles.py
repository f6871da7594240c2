"""Where a recipe's title stands."""

import re
from collections.abc import Sequence

from recipebox.cards.facts import label, read_facts, read_header
from recipebox.cards.inline import plain
from recipebox.cards.outline import heading_of
from recipebox.cards.rows import BOLD, ITALIC, Kind, Row
from recipebox.cards.sectionwords import Section, folded
from recipebox.cards.signs import is_greeting, is_sentence, looks_ingredient, starts_with_amount, step_likeness

_NAMED = re.compile(
    r"(?:recipe|title|name|rezept|recette|receta|ricetta|recipe name|recipe title|subject|dish name)\s*:\s*(.*\S)",
    re.IGNORECASE,
)
_FORWARD = re.compile(r"(?:\s*(?:fwd?|re|aw|wg|tr|vs|sv)\s*:\s*)+", re.IGNORECASE)
_ABOUT = re.compile(
    r"\b(?:recipe|rezept|recette|receta|ricetta) (?:for|für|de|du|per|of) (?:my |the |our "
    r"|your )?([^,.:;!?]{3,60}?)(?:\s+(?:you|that|which|as|i|we|she|he)\b|[,.:;!?]|$)",
    re.IGNORECASE,
)


def find_title(rows: Sequence[Row]) -> Row | None:
    """The row that is the recipe's title; None where ingredients or a known section come first."""
    texts: list[Row] = []
    best: Row | None = None
    for at, row in enumerate(rows):
        if row.kind in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT, Kind.QUOTE, Kind.TABLE):
            continue
        found = heading_of(rows, at)
        words = plain(row.text)
        if found is not None and not (
            row.level == 1
            and best is None
            and not texts
            and (_could_be_title(found.sure, found.group) or _heads_sections(rows, at))
        ):
            if found.section in (Section.RECIPE, Section.FACTS, Section.NOTES) and best is None:
                continue
            break
        if not any(character.isalnum() for character in words) or words.startswith(("%%", "{%", "{{", "{:", "[[_")):
            continue
        if row.kind is Kind.HEADING and row.level < ITALIC:
            if read_facts(words, free=False):
                continue
            if row.level == BOLD and (best is not None or (words.endswith(":") and texts)):
                if best is None:
                    break
                continue
            if best is None or row.level < best.level:
                best = row
            continue
        if row.kind in (Kind.ITEM, Kind.NUMBER):
            if best is not None or texts:
                break
            if starts_with_amount(words) or looks_ingredient(words):
                break
            texts.append(row)
            continue
        if best is None and len(texts) < 30:
            texts.append(row)
    if best is not None and best.level == 1 and _COLLECTION.fullmatch(plain(best.text)):
        best = _only_dish(rows) or best
    return best or _among(texts) or _late(rows)


_COLLECTION = re.compile(
    r"(?:(?:my|our|the|family|personal) )*(?:\w+['’]?s? )?(?:recipes?|cook ?book|recipe (?:book|collection|box)"
    r"|kitchen|rezepte|kochbuch|recettes|recetas|ricette)\W*",
    re.IGNORECASE,
)


def _only_dish(rows: Sequence[Row]) -> Row | None:
    """The one second-level heading below a collection's name, where the known sections stand deeper."""
    seconds = [at for at, row in enumerate(rows) if row.kind is Kind.HEADING and row.level == 2]
    if len(seconds) != 1 or heading_of(rows, seconds[0]) is not None:
        return None
    return rows[seconds[0]]


def _late(rows: Sequence[Row]) -> Row | None:
    """The only first-level heading of a text that begins with its ingredients."""
    heads = [at for at, row in enumerate(rows) if row.kind is Kind.HEADING and row.level == 1]
    return rows[heads[0]] if len(heads) == 1 and heading_of(rows, heads[0]) is None else None


def words_for_a_title(rows: Sequence[Row], otherwise: str) -> str:
    """What stands in for a title that is not there: what the first line says it is a recipe for, or its first
    sentence; `otherwise` where the text begins with a heading or list."""
    for at, row in enumerate(rows):
        if row.kind in (Kind.BLANK, Kind.LAYOUT, Kind.COMMENT):
            continue
        words = plain(row.text)
        if row.kind not in (Kind.TEXT, Kind.ITEM, Kind.NUMBER) or heading_of(rows, at) is not None:
            break
        if is_greeting(words) or not any(character.isalnum() for character in words):
            continue
        if words.startswith(("%%", "{%", "{{", "{:")) or row.text.startswith("!["):
            break
        if match := _ABOUT.search(words):
            return match[1].strip()
        return re.split(r"(?<=[.!?])\s", words, maxsplit=1)[0][:100].strip()
    return otherwise


def heads_a_list(rows: Sequence[Row], title: Row) -> bool:
    """Whether ingredients, or a heading of them, come right below a line: then it is the title and no subject is."""
    if len(title.text) > 60 or is_sentence(title.text):
        return False
    place = next(at for at, row in enumerate(rows) if row is title)
    for at in range(place + 1, min(len(rows), place + 12)):
        row = rows[at]
        if row.kind in (Kind.BLANK, Kind.LAYOUT):
            continue
        words = plain(row.text)
        if heading_of(rows, at) is not None or (starts_with_amount(words) and looks_ingredient(words)):
            return True
        if not read_facts(words, free=True):
            return False
    return False


_COUNTED = re.compile(
    r"\Arecipe\s*(?:#|no\.?|nr\.?|number)?\s*\d{1,4}\s*[:.–—-]\s+(?=\S)", re.IGNORECASE
)  # "Recipe #12: Stew"


def title_words(row: Row) -> str:
    """The title that a row's words are, without "Recipe:" before it or "Fwd:"."""
    words = plain(row.text)
    if (match := _NAMED.match(words)) and not (row.kind is Kind.HEADING and row.level < BOLD):
        words = match[1]
    words = _COUNTED.sub("", words, count=1)
    words = _FORWARD.sub("", words, count=1) if _FORWARD.match(words) else words
    if row.kind is not Kind.HEADING or words.endswith(":"):
        words = words.rstrip(": ") or words
    return words


def subject_title(value: str) -> str:
    """The title that a mail's subject is: without "Fwd:"."""
    return _FORWARD.sub("", value, count=1).strip() if _FORWARD.match(value) else value.strip()


def _could_be_title(sure: bool, group: str | None) -> bool:
    return not sure or group is not None


def _heads_sections(rows: Sequence[Row], at: int) -> bool:
    """Whether a first-level heading with a section's words stands over all others: then it names the card."""
    if folded(plain(rows[at].text)) in _NEVER:
        return False
    return not any(row.kind is Kind.HEADING and row.level == 1 for row in rows[at + 1 :])


_NEVER = frozenset(("ingredients", "ingredient", "method", "directions", "instructions", "preparation", "zutaten"))


def _among(texts: Sequence[Row]) -> Row | None:
    """The plain line that stands as a title: named so, else the first short one that is no greeting, fact or prose."""
    for row in texts:
        if _NAMED.match(plain(row.text)):
            return row
    for at, row in enumerate(texts):
        words = plain(row.text)
        if is_greeting(words) or not words or row.text.startswith("!["):
            continue
        below = texts[at + 1] if at + 1 < len(texts) else None
        header = read_header(words)
        if header is not None and (
            label(header[0]) or header[0] in ("to", "cc", "sent", "date", "subject", "reply-to")
        ):
            continue
        if read_facts(words, free=False):
            continue
        if at and not row.after_blank and not is_greeting(plain(texts[at - 1].text)):
            continue
        tight = below is not None and not below.after_blank and starts_with_amount(plain(below.text))
        if tight and starts_with_amount(words) and looks_ingredient(words):
            break  # the list begins with the first line
        headed = below is not None and read_header(plain(below.text)) is not None
        wrapped = (
            not headed
            and below is not None
            and not below.after_blank
            and below.number == row.number + 1
            and len(words) > 55
        )
        if len(words) <= 80 and not (is_sentence(words) and words.count(" ") > 6) and not wrapped:
            if at and (starts_with_amount(words) and looks_ingredient(words)):
                break
            if at and words[-1:] in ",:;":
                continue
            if at and step_likeness(words) >= 0.6:
                break
            return row
        if step_likeness(words) >= 0.6:
            break
    return None
