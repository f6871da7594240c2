"""Bullets, Markdown marks and other signs around the words of a line."""

import html
import re

_BULLET = re.compile(
    r"""\s*(?:
    \|\s*                                   # first cell of a table
    | >\s?                                  # quoted mail
    | [-*+•‣◦▪▫●○■□–—·∙⁃➢✓✔☐☑▢][ \t]*(?=\S) # bullets
    | \[[ xX]?\]\s*                         # checkbox
    | (?:[\U0001F000-\U0001FAFF\u2600-\u27bf][\ufe0f\u200d]*)+\s*(?=[\d½⅓⅔¼¾⅛])  # a little picture
    | \d{1,3}[.)]\s+(?=[\d½⅓⅔¼¾⅛⅜⅝⅞])       # numbered list of amounts
    )""",
    re.VERBOSE,
)
_NUMBERED = re.compile(r"\d{1,3}[.)]\s")
_DASH_WORD = re.compile(r"\s*[-–—+]\d")
_EMPHASIS = re.compile(r"\*{1,3}(?=\S)|(?<=\S)\*{1,3}|(?<![\w])_{1,2}(?=\w)|(?<=\w)_{1,2}(?![\w])|~~|`")
_LINK = re.compile(r"!?\[([^\[\]]{0,300})\](?:\([^()\s]{0,500}(?:\s[^()]{0,200})?\)|\[[^\[\]]{0,100}\])")
_TAG = re.compile(r"</?[a-zA-Z][^<>]{0,200}>")
_NOTE = re.compile(r"\[\^?\w{1,3}\]|[¹²³⁴⁵⁶⁷⁸⁹†‡§™®©]|(?<=[\w)])\*+|\*+(?=\w)")
_ESCAPE = re.compile(r"\\([\\`*_{}\[\]()#+.!|~-])")
# Most lines hold none of these signs, and need no look for each of them.
_MARKED = re.compile(r"[*_~`\[\]<>&|#\\¹²³⁴⁵⁶⁷⁸⁹†‡§™®©]|[^\S ]|  ")
_SPACE = re.compile(r"\s+")
_HEADING = re.compile(r"\A\s{0,3}#{1,6}\s")
_CELLS = re.compile(r"\s*(?<!\\)\|\s*")


def unbulleted(text: str) -> str:
    """The words as written, without bullet, checkbox or number before them and space around them."""
    if text[:1].isalnum() and not _NUMBERED.match(text):
        return text.strip()
    at = 0
    for _ in range(4):
        if _DASH_WORD.match(text, at) and at == 0 and not text.lstrip().startswith("+"):
            at = text.index(text.lstrip()[0]) + 1  # "-2 cups": a dash, for nobody has less than nothing
            continue
        match = _BULLET.match(text, at)
        if match is None or match.end() == at or text.startswith("**", match.end() - 1):
            break
        at = match.end()
    kept = text[at:].strip()
    return kept[:-1].rstrip() if kept.endswith("|") and text.lstrip().startswith("|") else kept


def plain(words: str) -> str:
    """Words for reading: Markdown, HTML and footnote marks taken away, table cells parted by a comma or space."""
    if not _MARKED.search(words):
        return words.strip()
    if "&" in words:
        words = html.unescape(words)
    if "|" in words:
        words = _joined_cells(words)
    if "[" in words:
        words = _LINK.sub(r"\1", words)
    if "<" in words:
        words = _TAG.sub("", words)
    words = _HEADING.sub("", words, count=1) if words.lstrip().startswith("#") else words
    words = _NOTE.sub("", _EMPHASIS.sub("", words))
    if "\\" in words:
        words = _ESCAPE.sub(r"\1", words)
    return _SPACE.sub(" ", words).strip()


def is_marked_heading(text: str) -> bool:
    """Whether Markdown makes the whole line a heading: "## Topping", "**Topping**"."""
    words = text.strip()
    if _HEADING.match(words):
        return True
    for mark in ("**", "__"):
        inner = words[2:-2].rstrip(":")
        if len(words) > 4 and words.startswith(mark) and words.endswith((mark, mark + ":")) and mark not in inner:
            return True
    return False


def _joined_cells(words: str) -> str:
    cells = [cell for cell in _CELLS.split(words) if cell]
    return " ".join(cells) if cells and any(character.isdigit() for character in cells[0]) else ", ".join(cells)
