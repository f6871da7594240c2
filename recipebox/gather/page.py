"""A saved web page: its schema.org/Recipe as JSON-LD or microdata, else the words a person sees."""

import codecs
import re
from itertools import islice
from typing import TYPE_CHECKING

from recipebox.gather.microdata import microdata
from recipebox.gather.piece import GatherError, Piece, clean
from recipebox.gather.recipes_in import Node, load_json, piece_of, plain_words, recipes_in
from recipebox.gather.visible import parse_page, visible

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser

_CHARSET = re.compile(rb"<meta[^>]{0,200}charset\s*=\s*[\"']?\s*([\w.:-]{1,40})", re.IGNORECASE)
_MOST_RECIPES = 100  # of one page; more are a list of links
_MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


def read_page(data: bytes) -> list[Piece]:
    """The recipes of a page. Raises GatherError where the page cannot be taken apart."""
    return read_html(page_words(data))


def read_html(html: str) -> list[Piece]:
    """The recipes of a page's source: those it states for machines, else one piece with all its visible words."""
    page = parse_page(html)
    for form, nodes in (("JSON-LD", _json_ld(page)), ("microdata", list(recipes_in(microdata(page))))):
        pieces = [piece_of(node, f"web page, {form}", plain_words) for node in nodes if _says_enough(node)]
        if pieces:
            return pieces
    return [Piece(clean(titled_words(page)), "web page", markdown=True)]


def titled_words(page: "LexborHTMLParser") -> str:
    """The visible words, under the page's own title where they begin with none."""
    words = visible(page.body or page.root)
    title = page.css_first("title")
    named = " ".join((title.text() if title is not None else "").split())
    if named and not re.search(r"^# ", words, re.MULTILINE):
        words = f"# {named}\n\n{words}"
    return words + "\n"


def page_words(data: bytes) -> str:
    """A page's bytes as text: by their mark, by what the page says, else UTF-8, else Windows-1252."""
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding, "replace")
    stated = _CHARSET.search(data[:4096])
    if stated:
        try:
            name = codecs.lookup(stated[1].decode("ascii")).name
            # A page that says UTF-16 in ASCII letters is not UTF-16 (HTML standard, "prescan").
            return data.decode("utf-8" if name.startswith("utf-16") else name, "replace")
        except (LookupError, UnicodeError):
            pass
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _json_ld(page: "LexborHTMLParser") -> list[Node]:
    """The Recipe nodes of all JSON-LD scripts; a script that is broken is passed over, the page's words remain."""
    data = []
    for script in page.css("script"):
        kind = (script.attributes.get("type") or "").split(";")[0].strip().lower()
        if kind != "application/ld+json":
            continue
        words = script.text().strip().removeprefix("<!--").removesuffix("-->")
        words = re.sub(r"^\s*(?://\s*)?<!\[CDATA\[|(?://\s*)?\]\]>\s*$", "", words)
        try:
            data.append(load_json(words))
        except GatherError:
            continue
    found: list[Node] = []
    for node in islice(recipes_in(data), _MOST_RECIPES):
        if node not in found:
            found.append(node)
    return found


def _says_enough(node: Node) -> bool:
    return any(node.get(key) for key in ("recipeIngredient", "ingredients", "recipeInstructions", "step"))
