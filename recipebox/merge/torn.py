"""Whether a text looks torn: cut off by a full disk or a copy that broke off, rather than edited."""

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card, Role
from recipebox.cards.reader import read_cards

_LOST_SHARE = 3
"""A third of the text gone, or more, is no tidy-up of an end."""


def torn(before: bytes, after: bytes, path: str) -> str | None:
    """Why a card's new bytes look torn against its last recorded ones, for a person; None if they look whole.

    Torn is: empty; no longer readable as a card; or the beginning of the old text with a section or a third of it
    gone. Only what was a card can be torn.
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
        if (len(before) - len(after)) * _LOST_SHARE >= len(before):
            return "it breaks off: a third of it or more is gone"
        if _sections(now) < _sections(was):
            return "it breaks off: a section is gone"
    return None


def _cards(data: bytes, path: str) -> list[Card]:
    try:
        return read_cards(data, path)
    except NotACardError:
        return []


def _sections(cards: list[Card]) -> int:
    """Sections, counted by what stands in them: a heading alone holds nothing."""
    held = (Role.INGREDIENT, Role.STEP, Role.NOTE, Role.SOME_ADD, Role.VARIATION, Role.SWAP)
    tool = (Role.UNDECIDED, Role.SETTLED, Role.VERSION)
    return sum(len({line.role for line in card.lines if line.role in (*held, *tool)}) for card in cards) + len(cards)
