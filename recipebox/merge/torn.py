"""Whether a text looks torn: cut off by a full disk or a copy that broke off, rather than edited."""

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card, Role, SourceLine
from recipebox.cards.reader import read_cards
from recipebox.cards.text import decode

_LOST_SHARE = 3
"""A third of the text gone, or more, is no tidy-up of an end."""
_KEPT_BY_THE_TOOL = (Role.UNDECIDED, Role.SETTLED)
_HOLDING = (Role.INGREDIENT, Role.STEP, Role.NOTE, Role.SOME_ADD, Role.VARIATION, Role.SWAP, Role.VERSION)


def torn(before: bytes, after: bytes, path: str) -> str | None:
    """Why a card's new bytes look torn against its last recorded ones, for a person; None if they look whole.

    Torn is: empty; no longer readable as a card; or the beginning of the old text with a section or a third of it
    gone, Undecided and Settled aside: who deletes those by hand has chosen. Only what was a card can be torn.
    """
    if before == after or not could_be_card(path):
        return None
    was = _cards(before, path)
    if not was:
        return None
    if not after.strip():
        return "it is empty"
    now = _cards(after, path)
    if not now:
        return "it can no longer be read as a card"
    if before.startswith(after.rstrip(b"\r\n \t")):
        own, left = _own_words(was, before), _own_words(now, after)
        if (own - left) * _LOST_SHARE >= own:
            return "it breaks off: a third of it or more is gone"
        if _sections(now) < _sections(was):
            return "it breaks off: a section is gone"
        if _breaks_off_in_an_entry(now, before, after):
            return "it breaks off within a question"
    return None


def _cards(data: bytes, path: str) -> list[Card]:
    try:
        return read_cards(data, path)
    except NotACardError:
        return []


def _sections(cards: list[Card]) -> int:
    """Sections, counted by what stands in them: a heading alone holds nothing."""
    return sum(len({line.role for line in card.lines if line.role in _HOLDING}) for card in cards) + len(cards)


def _own_words(cards: list[Card], data: bytes) -> int:
    """How much text there is that a person wrote, line ends counted."""
    lines = decode(data).lines
    asked = {line.number for card in cards for line in card.lines if _of_the_tool(line)}
    return sum(len(line.words) + 1 for number, line in enumerate(lines, start=1) if number not in asked)


def _breaks_off_in_an_entry(now: list[Card], before: bytes, after: bytes) -> bool:
    """Whether the last line stands in an entry and is cut off within its words: a person deletes lines."""
    kept = after.rstrip(b"\r\n \t")
    last = len(decode(kept).lines)
    in_entry = any(line.number == last and _of_the_tool(line) for card in now for line in card.lines)
    return in_entry and bool(before[len(kept) :].split(b"\n", 1)[0].strip())


def _of_the_tool(line: SourceLine) -> bool:
    return line.role in _KEPT_BY_THE_TOOL or (line.role is Role.SECTION and line.key in ("undecided", "settled"))
