"""The words of a web page that a person sees, as Markdown: headings, lists and paragraphs, nothing else."""

import re
from typing import TYPE_CHECKING

from recipebox.cards.wordlists import listed
from recipebox.gather.piece import GatherError

if TYPE_CHECKING:
    from selectolax.lexbor import LexborHTMLParser, LexborNode

_UNSEEN = listed(
    """script style template noscript head title meta link base svg math iframe object embed applet canvas audio
    video map area input select option textarea button datalist dialog nav -comment"""
)
_LINES = listed("""div dt dd tr li caption legend summary address figcaption header footer main aside option center""")
_PARAGRAPHS = listed(
    """p h1 h2 h3 h4 h5 h6 ul ol dl table blockquote pre section article figure form fieldset details hr body
    html thead tbody tfoot"""
)
_HIDDEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
_TAG = re.compile(r"<(/?)([a-zA-Z][a-zA-Z0-9]*)")
_NEVER_DEEP = listed(
    """p li td th tr dt dd tbody thead tfoot option optgroup colgroup html head body br hr img input meta link
    area base col embed source track wbr param path"""
)
_DEEPEST = 2000
_NOTHING = dict.fromkeys(map(ord, "\u00ad\u200b\u200c\u200d\u2060\ufeff"))


def parse_page(html: str) -> "LexborHTMLParser":
    """The page's tree. Raises GatherError when its tags are nested beyond reason: parsing would take hours."""
    depth = 0
    for tag in _TAG.finditer(html):
        close, name = tag.groups()
        if name.lower() not in _NEVER_DEEP:
            depth = max(0, depth - 1) if close else depth + 1
            if depth > _DEEPEST:
                raise GatherError(f"its tags are nested more than {_DEEPEST} deep; copy the recipe into a text file")
    try:
        from selectolax.lexbor import LexborHTMLParser
    except ImportError as error:
        raise needs_library("web pages") from error
    return LexborHTMLParser(html)


def needs_library(what: str) -> GatherError:
    """The error for a library that is not installed, with what to type."""
    return GatherError(f"reading {what} needs more than is installed; type: pip install selectolax python-docx pypdf")


def visible(node: "LexborNode | None", *, marked: bool = True) -> str:
    """The words seen under a node, scripts and hidden parts left out.

    `marked` puts CommonMark's marks before headings, entries of lists and quoted lines; without, lines are bare.
    """
    page = _Page(marked)
    if node is None:
        return ""
    at: LexborNode | None = node
    top = node.mem_id  # comparing nodes themselves writes both out as HTML, each time
    while at is not None:
        inside = page.enter(at)
        below = at.first_child if inside else None
        if below is not None:
            at = below
            continue
        if inside:
            page.leave(at)
        while at is not None and at.mem_id != top and at.next is None:
            at = at.parent
            if at is not None:
                page.leave(at)
        if at is None or at.mem_id == top:
            break
        at = at.next
    return page.text()


class _Page:
    """Lines as they come while walking through a page."""

    def __init__(self, marked: bool) -> None:
        self.marked = marked
        self.lines: list[str] = []
        self.words: list[str] = []
        self.prefix = ""
        self.lists: list[int | None] = []
        self.quotes = 0
        self.kept_as_typed = 0

    def enter(self, node: "LexborNode") -> bool:
        tag = node.tag or ""
        if tag == "-text":
            self._say(node.text_content or "")
            return False
        if tag in _UNSEEN or _is_hidden(node):
            return False
        if tag == "br":
            self._end_line(even_empty=True)
        elif tag in ("td", "th") or (tag == "sup" and self.words and self.words[-1][-1:].isdigit()):
            self.words.append(" ")
        elif tag in _PARAGRAPHS:
            self._end_line()
            if not self.lists or tag not in ("ul", "ol", "p"):
                self._blank()
        elif tag in _LINES:
            self._end_line()
        if tag in ("ul", "ol"):
            self.lists.append(0 if tag == "ol" else None)
        elif tag == "li":
            self.prefix = self._bullet()
        elif tag == "blockquote":
            self.quotes += 1
        elif tag == "pre":
            self.kept_as_typed += 1
        elif len(tag) == 2 and tag[0] == "h" and tag[1].isdigit():
            self.prefix = "#" * int(tag[1]) + " "
        return True

    def leave(self, node: "LexborNode") -> None:
        tag = node.tag or ""
        if tag in _LINES or tag in _PARAGRAPHS:
            self._end_line()
            if tag in _PARAGRAPHS and not (self.lists and tag in ("ul", "ol", "p")):
                self._blank()
        if tag in ("ul", "ol") and self.lists:
            self.lists.pop()
            if not self.lists:
                self._blank()
        elif tag == "blockquote":
            self.quotes -= 1
        elif tag == "pre":
            self.kept_as_typed -= 1
        elif tag == "li" or (len(tag) == 2 and tag[0] == "h"):
            self.prefix = ""

    def text(self) -> str:
        self._end_line()
        while self.lines and not self.lines[-1].strip("> "):
            self.lines.pop()
        return "\n".join(self.lines)

    def _say(self, words: str) -> None:
        words = words.translate(_NOTHING)
        if not self.kept_as_typed:
            self.words.append(words)
            return
        first, *rest = words.replace("\r\n", "\n").split("\n")
        self.words.append(first)
        for line in rest:
            self._end_line(even_empty=True)
            self.words.append(line)

    def _bullet(self) -> str:
        depth = "  " * max(0, len(self.lists) - 1)
        if self.lists and self.lists[-1] is not None:
            self.lists[-1] += 1
            return f"{depth}{self.lists[-1]}. "
        return f"{depth}- "

    def _end_line(self, even_empty: bool = False) -> None:
        words = "".join(self.words)
        self.words = []
        line = words.rstrip() if self.kept_as_typed else " ".join(words.split())
        if line.strip():
            self.lines.append(("> " * self.quotes + self.prefix if self.marked else "") + line)
            self.prefix = " " * len(self.prefix) if self.lists else ""
        elif even_empty:
            self._blank()

    def _blank(self) -> None:
        if self.lines and self.lines[-1].strip("> "):
            self.lines.append(("> " * self.quotes).rstrip() if self.marked else "")


def _is_hidden(node: "LexborNode") -> bool:
    attributes = node.attributes
    return "hidden" in attributes or bool(_HIDDEN.search(attributes.get("style") or ""))
