"""Notes to the family: what cooks noted under a date in their own cards, with whose note it is."""

import re
from collections.abc import Iterable

from recipebox.cards.model import Card

# How people date a remark is common practice, no source.
_DATED = re.compile(
    r"(?P<date>\d{4}-\d\d(?:-\d\d)?|\d{1,2}[./]\d{1,2}[./]\d{2,4}|(?:[A-Z0-9][\w'’.]*\s+){1,4}(?:19|20)\d\d)"
    r"(?P<who>,\s*[^\W\d_][^:,.]{0,40}(?=:))?\s*[:,–—-]?\s+(?P<what>\S.*)",
    re.DOTALL,
)


def dated_remarks(versions: Iterable[Card]) -> list[str]:
    """Each dated note of the versions as "Easter 2025, Brigid: too salty", once, in order of what the cards are called.

    A note that has no date stays in its own card, and so does one that says nothing beside its date.
    """
    found: list[str] = []
    for card in sorted(versions, key=lambda card: card.called):
        for note in card.notes:
            match = _DATED.match(note.text.strip())
            if match is None:
                continue
            who = (match["who"] or "").strip(", ") or card.name
            found.append(f"{match['date']}, {who}: {' '.join(match['what'].split())}")
    return list(dict.fromkeys(found))
