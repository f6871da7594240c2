"""schema.org/Recipe as JSON-LD or microdata gives it, to a card's text. Property names are those of schema.org."""

import json
import re
from collections.abc import Callable, Iterable, Iterator
from html import unescape
from itertools import islice
from typing import Any

from recipebox.cards.wordlists import listed
from recipebox.gather.composed import Parts, compose
from recipebox.gather.instructions import read_instructions
from recipebox.gather.piece import GatherError, Piece, clean
from recipebox.gather.plainwords import Words
from recipebox.gather.timings import read_times

Node = dict[str, Any]

# About the page or the file, not about the dish; the original is kept for them.
_MACHINERY = listed(
    """publisher mainEntityOfPage isPartOf potentialAction speakable interactionStatistic aggregateRating
    thumbnailUrl inLanguage copyrightHolder copyrightYear sdPublisher sdLicense sdDatePublished
    isAccessibleForFree additionalType identifier wordCount commentCount"""
)
_HEADERS = re.compile(r"(pan|oven|measures|came|picture|time|serves|makes): (?=\S)")
_ESCAPED_TWICE = re.compile(r"&(?:#\d{2,5}|#x[\da-fA-F]{2,5}|[a-zA-Z]{2,8}\d{0,2});")
_PEOPLE = re.compile(r"\b(?:servings?|serves|portions?|people|persons?|guests|eaters)\b", re.IGNORECASE)
_MOST_RECIPES = 1000
_COUNT = re.compile(r"[\d½¼¾⅓⅔⅛]")
_BARE = re.compile(r"(?:about |approx(?:imately|\.)? )?[\d½¼¾⅓⅔⅛ ./–-]+(?:to [\d ./½¼¾]+)?\Z")
_YIELD_WORDS = re.compile(r"(?:serves|makes|yields?|recipe yields?)\b[:\s]*", re.IGNORECASE)


def read_json(data: bytes) -> list[Piece]:
    """The recipes of a .json file. Raises GatherError where it is no JSON or holds no schema.org Recipe."""
    from recipebox.cards.text import NotTextError, decode

    try:
        words = "".join(line.words + line.end for line in decode(data).lines)
    except NotTextError as error:
        raise GatherError(f"{error}; save it as JSON and add that") from error
    found = list(islice(recipes_in(load_json(words)), _MOST_RECIPES + 1))
    if len(found) > _MOST_RECIPES:
        raise GatherError(f"it holds over {_MOST_RECIPES} recipes; split it into several files")
    if not found:
        raise GatherError("this JSON holds no schema.org Recipe; copy the recipe into a text file and add that")
    return [piece_of(node, "schema.org JSON", plain_words) for node in found]


def load_json(words: str) -> Any:
    """JSON text as data. Raises GatherError, one line, for text that is none or is nested too deep."""
    try:
        # A page may have line breaks within a string, against the standard: strict=False reads them all the same.
        # NaN and Infinity, which are no JSON, stand for nothing.
        return json.loads(words, strict=False, parse_constant=lambda _: None)
    except RecursionError as error:
        raise GatherError("its JSON is nested too deep to be a recipe") from error
    except ValueError as error:
        where = f" (line {error.lineno})" if isinstance(error, json.JSONDecodeError) else ""
        raise GatherError(f"it is not JSON{where}; save it again, or copy the recipe into a text file") from error


def recipes_in(data: Any) -> Iterator[Node]:
    """Every Recipe node in the data, wherever it is nested, with what it refers to by @id put in its place."""
    nodes = list(_nodes(data))
    by_id = {node["@id"]: node for node in nodes if isinstance(node.get("@id"), str) and len(node) > 1}
    for node in nodes:
        if is_recipe(node.get("@type", node.get("type"))):
            yield {key: _resolved(value, by_id) for key, value in node.items()}


def is_recipe(kind: Any) -> bool:
    """Whether an @type names schema.org's Recipe, alone or among others, short or as an address."""
    kinds = kind if isinstance(kind, list) else [kind]
    return any(isinstance(one, str) and re.split(r"[/#:]", one)[-1] == "Recipe" for one in kinds)


def plain_words(value: str) -> str:
    """A string without marks of HTML: pages write them into JSON too. Lines stay lines."""
    if re.search(r"<[a-zA-Z/!]", value):
        from recipebox.gather.visible import parse_page, visible

        value = visible(parse_page(value).body, marked=False)
    elif "&" in value:
        value = unescape(value)
    if _ESCAPED_TWICE.search(value):
        value = unescape(value)
    return clean(value)


def piece_of(node: Node, form: str, plain: Callable[[str], str]) -> Piece:
    """The card that one Recipe node is. What no part of a card has a place for stands in its notes."""
    words = Words(plain)
    left = {key: value for key, value in node.items() if not key.startswith("@") and key not in _MACHINERY}
    left.pop("type", None)
    parts = Parts()
    parts.title = words.line(left.pop("name", None)) or words.line(left.pop("headline", None)) or "Untitled recipe"
    sender = " and ".join(words.names(left.pop("author", None))) or None
    notes = _said(words, left.pop("description", None), parts)
    given = {name for name, _ in parts.headers}
    parts.headers += [one for one in _yields(words, left) if one[0] not in given]
    parts.headers += read_times(words, left, stated="time" in given)
    tags = words.tags(left.pop(key, None) for key in ("keywords", "recipeCategory", "recipeCuisine"))
    if tags:
        parts.headers.append(("tags", ", ".join(tags)))
    lists = [left.pop(key, None) for key in ("recipeIngredient", "ingredients", "supply")]
    parts.ingredients = list(_groups(words, lists))
    instructions = [left.pop(key, None) for key in ("recipeInstructions", "step")]
    parts.steps = read_instructions(words, next((one for one in instructions if one), None))
    parts.notes = [*notes, *(note for key, value in left.items() for note in words.notes(key, value))]
    order = ("from", "serves", "makes", "pan", "oven", "time", "tags", "measures", "came", "picture")
    parts.headers.sort(key=lambda header: order.index(header[0]))
    text, markdown = compose(parts)
    return Piece(text, form, markdown, sender)


def _said(words: Words, description: Any, parts: Parts) -> list[str]:
    """The description's paragraphs as notes; those that are header lines of ours become that again."""
    notes = []
    for paragraph in words.paragraphs(description):
        header = _HEADERS.match(paragraph)
        if header and all(name != header[1] for name, _ in parts.headers):
            parts.headers.append((header[1], paragraph[header.end() :]))
        else:
            notes.append(paragraph)
    return notes


def _yields(words: Words, left: Node) -> list[tuple[str, str]]:
    """`serves` and `makes` from recipeYield; what is neither stays among what is left over."""
    found: dict[str, str] = {}
    others = []
    for value in words.each(left.pop("recipeYield", left.pop("yield", None))):
        bare = _YIELD_WORDS.sub("", value, count=1).strip()
        name = "serves" if _PEOPLE.search(value) or _BARE.match(bare) else "makes"
        if re.match(r"(?:makes|yields?)\b", value, re.IGNORECASE) and not _PEOPLE.search(value):
            name = "makes"
        if name == "serves":
            bare = re.sub(rf"\s*(?:{_PEOPLE.pattern})\.?\Z", "", bare, flags=re.IGNORECASE)
        if not _COUNT.search(bare):
            others.append(value)
        elif name not in found:
            found[name] = bare
        elif found[name] != bare:
            others.append(value)
    if others:
        left["recipeYield"] = others
    return list(found.items())


def _groups(words: Words, lists: Iterable[Any]) -> Iterator[tuple[str | None, list[str]]]:
    """Ingredients in order; an entry that ends with a colon names the group of those after it."""
    heading: str | None = None
    items: list[str] = []
    seen: list[Any] = []
    for value in lists:
        if value is None or value in seen:
            continue
        seen.append(value)
        for line in words.each(value):
            if line.endswith(":") and not _COUNT.search(line):
                if items or heading:
                    yield heading, items
                heading, items = line.rstrip(": "), []
            else:
                items.append(line)
    if items or heading:
        yield heading, items


def _nodes(data: Any) -> Iterator[Node]:
    """Every object of the data, outermost first, in order."""
    waiting = [data]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            yield value
            waiting += reversed(list(value.values()))
        elif isinstance(value, list):
            waiting += reversed(value)


def _resolved(value: Any, by_id: dict[str, Node]) -> Any:
    if isinstance(value, list):
        return [_resolved(one, by_id) for one in value]
    if isinstance(value, dict) and isinstance(value.get("@id"), str) and not set(value) - {"@id", "@type"}:
        return by_id.get(value["@id"], value)
    return value
