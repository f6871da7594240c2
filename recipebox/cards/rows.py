"""What a row of a text is: its mark, its words and where they stand in the source line."""

import re
from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What mark a row has."""

    BLANK = "blank"
    HEADING = "heading"
    ITEM = "item"  # a bullet or checkbox
    NUMBER = "number"  # 1. or 1) or Step 1:
    TABLE = "table"
    QUOTE = "quote"
    COMMENT = "comment"
    LAYOUT = "layout"  # rules, fences, table borders, lone tags
    TEXT = "text"


BOLD = 7  # level of a row that is bold and nothing else
ITALIC = 8


@dataclass(slots=True)
class Row:
    """One row. `start` and `end` are columns of its words in the source line; `indent` counts tabs as 4.

    `level` is a heading's (1 to 6, then BOLD, ITALIC); `after_blank` and `hard` say whether a blank line stands
    before and a hard break behind. A source line cut by `<br>` gives several rows of one number.
    """

    number: int
    kind: Kind
    text: str = ""
    indent: int = 0
    start: int = 0
    end: int = 0
    level: int = 0
    after_blank: bool = False
    hard: bool = False
    mark: str = ""
    begin: int = 0  # the column of the mark
    inner: int = 0  # the indent that a list item's own paragraphs have
    quoted: bool = False
    within: Kind | None = None  # what a quoted row would be if it were not quoted


def narrow(row: Row, start: int, end: int) -> None:
    """Cuts a row's words to the columns `start` to `end` of them."""
    row.end = row.start + end
    row.start = row.start + start


BULLET = re.compile(
    r"(?:[-*+–—][ \t]+|[•·▪◦‣●○■□☐☑✓✔✅►▸➤➔→⁃∙»›◆◇♦★☆✦❖➜⇒✱⦿]\ufe0f?[ \t]*|[-+](?=[^\s\-+*=>])|\*(?=[^\s*]+[^*]*$))"
)
NUMBER = re.compile(
    r"(?:\(?(\d{1,3})(?:\\?[.)]|\.\)|:)(?:[ \t]+|(?=[^\W\d_]|[*_]))"
    r"|(\d{1,2})[ \t]+[-–—][ \t]+(?=[^\W\d_])"
    r"|[#№](\d{1,2})[.):]?[ \t]+"
    r"|([①-⑳❶-❿➀-➓])[ \t]*"
    r"|(\d)\ufe0f?\u20e3[ \t]*"
    r"|([a-z])[.)][ \t]+(?=\S)"
    r"|(?:step|schritt|[ée]tape|paso|passo|stap|steg|trin|krok|vaihe)[ \t]*(?:no\.?[ \t]*|#)?"
    r"(\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten)"
    r"(?:[ \t]*[.):–—-]+|(?=[ \t]+[A-Z])|(?=[ \t]*$))[ \t]*)",
    re.IGNORECASE,
)
