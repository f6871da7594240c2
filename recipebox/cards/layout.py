"""The lines of a text as rows: what mark each begins with, and where its words stand.

CommonMark's headings, lists, quotes, fences, comments and a few HTML tags are told apart here, and so are the bullets
and numbers that people type who never heard of it. Nothing here knows about cooking.
"""

import re
from collections.abc import Sequence

from recipebox.cards.blocks import join_rows
from recipebox.cards.cells import BREAK, MOST_CELLS, table_row
from recipebox.cards.rows import BOLD, BULLET, ITALIC, NUMBER, Kind, Row, narrow
from recipebox.cards.text import Line

_HEADING = re.compile(r"(#{1,6})(?:[ \t]+|(?=[^\s#\d]))(.*?)(?:[ \t]+#+)?[ \t]*$")
_ANCHOR = re.compile(r"[ \t]*\{[#:.][^{}]*\}$")
_LONE_NUMBER = re.compile(r"\(?\d{1,3}(?:\\?[.):]|\.\))$")
_CELL = re.compile(r"<(t[dh])(?:[ \t][^<>]*)?>(.*?)(?:</t[dh]>|$|(?=<t[dh]))", re.IGNORECASE)
_RULE = re.compile(r"[ \t]*(?:(?:[-_*=~+#.•–—][ \t]*){3,}|[-=_*~#. ]{5,})$")
_CHECK = re.compile(r"\[[ xX✓✔]?\][ \t]+")
_BOLD_NUMBER = re.compile(r"(\*\*|__)(?P<in>[^*_]{1,14}?)(?P<tail>[.):]?)\1(?P<after>[ \t]*[.):–—-]?[ \t]*)")
_FENCE = re.compile(r"[ \t]*(`{3,}|~{3,})[ \t]*[\w{.-]*[ \t]*$")
_BOLD = re.compile(r"(\*\*\*|___|\*\*|__)(?=\S)((?:(?!\1).)+?)\1[ \t]*(:?)[ \t]*$")
_ITALIC = re.compile(r"([*_])(?=[^\s*_])([^*_]+)\1[ \t]*(:?)[ \t]*$")
_NOTHING = " \t\u00a0\u200b\u200c\u200d\u2060\ufeff\x0b\x0c\u3000"
_TAGS_ONLY = re.compile(r"(?:[ \t]*</?[a-zA-Z][^<>]*>)+[ \t]*$")
_HTML_BLOCK = re.compile(
    r"<(h[1-6]|li|p|summary|dt|dd|div|span|strong|b|ul|ol|blockquote|section|details|center)(?:[ \t][^<>]*)?>",
    re.IGNORECASE,
)
_HTML_END = re.compile(r"</[a-zA-Z0-9]+[ \t]*>")
_NEXT_ITEM = re.compile(r"</(?:li|p|h[1-6]|div)>[ \t]*(?=<)|(?<=>)[ \t]*(?=<li[ >])", re.IGNORECASE)
# What other programs put between the lines: "{{< figure >}}", "{% note %}", "{:.class}", ":::tip", "!!! note"
_DIRECTIVE = re.compile(
    r"\{\{.*\}\}$|\{[%#:.].*\}$|:{3,}|(?:!!!|\?\?\?)\+?[ ]|\[\[_?toc_?\]\]$|\[toc\]$|%%.*%%$|\$\{toc\}$", re.IGNORECASE
)
_QUOTE = re.compile(r"[ \t]{0,3}(?:>[ \t]?)+")


def rows_of(lines: Sequence[Line], first: int = 1, unquote: bool = False) -> list[Row]:
    """The rows of these lines, the first having number `first`; with `unquote`, words after ">" are taken as typed."""
    rows: list[Row] = []
    fence = ""
    comment = False
    blank = True
    told = 0  # place behind a row of a table that is set out over several lines
    for place, line in enumerate(lines):
        number = first + place
        raw = line.words
        if not raw.strip() or not raw.strip(_NOTHING):
            rows.append(Row(number, Kind.BLANK))
            blank = True
            continue
        at = 0
        quoted = False
        quote = _QUOTE.match(raw)
        if quote is not None:
            quoted = True
            at = quote.end()
            if at == len(raw):
                rows.append(Row(number, Kind.BLANK if unquote else Kind.LAYOUT, quoted=True))
                blank = True
                continue
        if comment or (not fence and raw.lstrip().startswith("<!--")):
            comment = "-->" not in raw
            rows.append(_comment(number, raw, blank))
            continue
        fenced = _FENCE.match(raw, at)
        if fenced is not None and (not fence or (fenced[1][0] == fence[0] and len(fenced[1]) >= len(fence))):
            fence = "" if fence else fenced[1]
            rows.append(Row(number, Kind.LAYOUT))
            blank = True
            continue
        if place < told:
            rows.append(Row(number, Kind.LAYOUT))
            continue
        if not fence and (whole := table_row(lines, place)) is not None:
            raw, told = whole
        new = _read(number, raw, at, blank)
        for row in new if place + 1 < told else ():
            row.start, row.end = min(row.start, len(line.words)), len(line.words)
        if quoted:
            for row in new:
                row.quoted = True
                if not unquote:
                    row.kind, row.within = Kind.QUOTE, row.kind
        rows.extend(new)
        blank = False
    join_rows(rows, lines, first)
    return rows


def mostly_quoted(lines: Sequence[Line]) -> bool:
    """Whether more than half of the lines with words stand behind a ">", as in forwarded mail."""
    words = [line.words for line in lines if line.words.strip()]
    return sum(word.lstrip(" ").startswith(">") for word in words) * 2 > len(words)


def _read(number: int, raw: str, at: int, blank: bool) -> list[Row]:
    if "<t" in raw and (cells := _CELL.findall(raw, at)):
        text = "| " + " | ".join(cell.replace("|", "/").strip() for _, cell in cells) + " |"
        head = all(tag.lower() == "th" for tag, _ in cells)
        return [Row(number, Kind.TABLE, text, 0, at, max(at, len(raw)), after_blank=blank, mark="th" if head else "")]
    if "<" in raw and not (raw.startswith("|", at) and raw.count("|") > 2):
        if _TAGS_ONLY.match(raw, at) and "<img" not in raw.lower():
            return [Row(number, Kind.LAYOUT, after_blank=blank)]
        pieces = _pieces(raw, at)
        if len(pieces) > 1:
            found = [_row(number, raw, start, end, blank and not n) for n, (start, end) in enumerate(pieces)]
            for row in found[:-1]:
                row.hard = True
            return found
        at, end = pieces[0] if pieces else (at, len(raw))
        row = _row(number, raw, at, end, blank)
        row.hard = row.hard or BREAK.search(raw, end) is not None
        return [row]
    return [_row(number, raw, at, len(raw), blank)]


def _pieces(raw: str, at: int) -> list[tuple[int, int]]:
    cuts = [(m.start(), m.end()) for m in BREAK.finditer(raw, at)]
    cuts += [(m.end(), m.end()) for m in _NEXT_ITEM.finditer(raw, at)]
    pieces = []
    start = at
    for stop, resume in [*sorted(cuts), (len(raw), len(raw))]:
        if stop > start and raw[start:stop].strip() and not _TAGS_ONLY.match(raw[start:stop]):
            pieces.append((start, stop))
        start = max(start, resume)
    return pieces


def _row(number: int, raw: str, at: int, end: int, blank: bool) -> Row:
    """One row from columns `at` to `end` of a source line."""
    words = raw[at:end]
    stripped = words.lstrip(" \t\u00a0\u3000\u200b\ufeff")
    start = at + len(words) - len(stripped)
    indent = start - at if "\t" not in raw else len(raw[at:start].expandtabs(4))
    row = Row(number, Kind.TEXT, indent=indent, start=start, end=end, after_blank=blank, begin=start)
    body = stripped.rstrip()
    if words.endswith("  ") and end == len(raw):
        row.hard = True
    if body.endswith("\\") and not body.endswith("\\\\"):
        body = body[:-1].rstrip()
        row.hard = True
    row.end = start + len(body)
    if body.startswith("<"):
        _html(row, raw)
        body = raw[row.start : row.end]
        if row.kind is not Kind.TEXT or not body:
            row.text = body
            return row
    if not body:
        row.kind = Kind.LAYOUT
        return row
    first = body[0]
    if first == "#" and (match := _HEADING.match(body)) and not _hashtags(body):
        row.kind, row.level = Kind.HEADING, len(match[1])
        anchor = _ANCHOR.search(match[2])
        narrow(row, match.start(2), match.start(2) + anchor.start() if anchor else match.end(2))
        _loosen(row, raw)
    elif _RULE.match(body) or _LONE_NUMBER.match(body):
        row.kind, row.mark = Kind.LAYOUT, "rule"
    elif first in "{[:!?%$" and _DIRECTIVE.match(body):
        row.kind = Kind.COMMENT
    elif first == "|" and 1 < body.count("|") < MOST_CELLS:
        row.kind = Kind.TABLE
    elif (match := BULLET.match(body)) and not (first in "*_" and _BOLD.match(body)):
        row.kind, row.mark = Kind.ITEM, body[0]
        shift = match.end()
        if check := _CHECK.match(body, shift):
            shift = check.end()
        row.inner = indent + match.end()
        narrow(row, shift, len(body))
        _numbered_item(row, raw)
    elif check := _CHECK.match(body):
        row.kind, row.mark = Kind.ITEM, "["
        row.inner = indent + check.end()
        narrow(row, check.end(), len(body))
    else:
        _number_or_bold(row, body)
    row.text = raw[row.start : row.end]
    if row.kind in (Kind.ITEM, Kind.NUMBER) and not row.text:
        row.kind = Kind.LAYOUT
    return row


def _numbered_item(row: Row, raw: str) -> None:
    """A bullet before a number ("- 1. Mix", "* Step 2: Bake"): the words begin behind both."""
    body = raw[row.start : row.end]
    match = NUMBER.match(body)
    if match and match.end() < len(body) and (match[7] or match[1]) and not body[match.end() - 1].isdigit():
        narrow(row, match.end(), len(body))


def _number_or_bold(row: Row, body: str) -> None:
    if match := NUMBER.match(body):
        row.kind, row.mark = Kind.NUMBER, match[0].strip()
        row.inner = row.indent + match.end()
        narrow(row, match.end(), len(body))
        return
    if body[0] not in "*_":
        return
    if (match := _BOLD_NUMBER.match(body)) and _is_number(match):
        row.kind, row.mark = Kind.NUMBER, match[0].strip()
        row.inner = row.indent + match.end()
        narrow(row, match.end(), len(body))
    elif match := _BOLD.match(body):
        row.kind, row.level = Kind.HEADING, BOLD
        inner = body[match.start(2) : match.end(2)]
        if (numbered := NUMBER.match(inner)) and numbered.end() < len(inner):
            row.kind, row.mark, row.inner = Kind.NUMBER, numbered[0].strip(), row.indent + 3
            narrow(row, match.start(2) + numbered.end(), match.end(2))
        else:
            narrow(row, match.start(2), match.end(2))
    elif match := _ITALIC.match(body):
        row.kind, row.level = Kind.HEADING, ITALIC
        narrow(row, match.start(2), match.end(2))


def _is_number(match: re.Match[str]) -> bool:
    """Whether what is bold is a step's number: "**1.** Mix", "**Step 1** Mix", and not "**2** eggs"."""
    mark = match["tail"] or match["after"].strip()
    words = match["in"].strip()
    if not mark and words.isdigit():
        return False
    return NUMBER.fullmatch(words + (mark if mark in (".", ")", ":") else ".") + " ") is not None


def _loosen(row: Row, raw: str) -> None:
    """A heading's words without bold or italic around the whole."""
    while (match := _BOLD.match(raw[row.start : row.end]) or _ITALIC.match(raw[row.start : row.end])) is not None:
        narrow(row, match.start(2), match.end(2))


def _html(row: Row, raw: str) -> None:
    """Takes block tags off both ends; a heading's or list item's tag gives the row its kind."""
    while (match := _HTML_BLOCK.match(raw, row.start, row.end)) is not None:
        tag = match[1].lower()
        if tag[0] == "h" and tag[1:].isdigit():
            row.kind, row.level = Kind.HEADING, int(tag[1])
        elif tag in ("summary", "dt"):
            row.kind, row.level = Kind.HEADING, 6
        elif tag == "li":
            row.kind, row.mark, row.inner = Kind.ITEM, "<", row.indent + 4
        elif tag in ("strong", "b") and row.kind is Kind.TEXT:
            if not re.match(r"[^<>]*</(?:strong|b)>[ \t]*:?[ \t]*(?:</|$)", raw[match.end() : row.end], re.IGNORECASE):
                break
            row.kind, row.level = Kind.HEADING, BOLD
        row.start = match.end()
        while row.start < row.end and raw[row.start] in " \t":
            row.start += 1
    while raw.endswith(">", row.start, row.end):
        at = raw.rfind("</", row.start, row.end)
        if at < 0 or not _HTML_END.fullmatch(raw, at, row.end):
            break
        row.end = at + len(raw[row.start : at].rstrip()) - (at - row.start) if at > row.start else at
    row.end = row.start + len(raw[row.start : row.end].rstrip())
    row.start = min(row.start, row.end)


def _comment(number: int, raw: str, blank: bool) -> Row:
    start = len(raw) - len(raw.lstrip())
    words = raw.strip()
    inner = words.removeprefix("<!--").removesuffix("-->").strip()
    at = raw.find(inner, start)
    return Row(number, Kind.COMMENT if inner else Kind.LAYOUT, inner, 0, at, at + len(inner), after_blank=blank)


def _hashtags(body: str) -> bool:
    """#dinner #quick: words with a mark each, no heading."""
    words = body.split()
    return len(words) > 1 and all(word[0] == "#" and len(word) > 1 and word[1] not in "# " for word in words)
