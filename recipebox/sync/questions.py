"""Open questions in cards: which are new, and how many there are."""

from collections.abc import Iterable, Mapping

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.merge import Blob

Question = tuple[str, str, frozenset[str]]


def questions(files: Mapping[str, Blob], paths: Iterable[str]) -> set[Question]:
    """Undecided entries of these cards: path, what about, wordings."""
    from recipebox.cards.reader import read_cards

    found: set[Question] = set()
    for path in paths:
        if path not in files or not could_be_card(path):
            continue
        data = files[path].read()
        if b"undecided" not in data.lower().replace(b"\0", b""):  # most cards have none, and reading one takes a while
            continue
        try:
            cards = read_cards(data, path)
        except NotACardError:
            continue
        for card in cards:
            for entry in card.undecided:
                found.add((card.called, entry.about, frozenset(wording.text for wording in entry.wordings)))
    return found
