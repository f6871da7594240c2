"""Open questions in cards: which are new, and how many there are."""

import json
from collections.abc import Collection, Iterable, Mapping
from functools import partial

from recipebox.box import keep, kept
from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.history import History
from recipebox.merge import Blob

Question = tuple[str, str, frozenset[str]]
_NAME = "open"
_FEW = 50


def open_questions(history: History, without: Collection[str] = ()) -> int:
    """How many questions stand open in the recorded box. Only cards that changed since the last count are read.

    `without` are blob ids that are known to have none.
    """
    if history.head is None:
        return 0
    tree = history.commit(history.head).tree
    before, found = _last_count(history)
    if before != tree:
        changes = history.store.changes(before, tree)
        files = {
            path: Blob(now, partial(history.store.blob, now))
            for path, (_, now) in changes.items()
            if now and now not in without
        }
        known = dict(found)
        found = {path: many for path, many in found.items() if path not in changes}
        for path, _, _ in questions(files, files):
            at = path.partition("#")[0]
            found[at] = found.get(at, 0) + 1
        if found != known or len(changes) > _FEW:  # else the count kept before tells as much
            keep(history.box, _NAME, json.dumps({"tree": tree, "open": found}).encode(), settle=False)
    return sum(found.values())


def questions(files: Mapping[str, Blob], paths: Iterable[str]) -> set[Question]:
    """Undecided entries of these cards: path, what about, wordings."""
    from recipebox.cards.reader import read_cards

    found: set[Question] = set()
    for path in paths:
        if path not in files:
            continue
        # Most cards have none, and reading a card takes a while.
        if b"undecided" not in files[path].read().lower().replace(b"\0", b"") or not could_be_card(path):
            continue
        data = files[path].read()
        try:
            cards = read_cards(data, path)
        except NotACardError:
            continue
        for card in cards:
            for entry in card.undecided:
                found.add((card.called, entry.about, frozenset(wording.text for wording in entry.wordings)))
    return found


def _last_count(history: History) -> tuple[str | None, dict[str, int]]:
    """The tree that was counted last, if it is still here, with its open questions by path."""
    try:
        said = json.loads(kept(history.box, _NAME) or b"{}")
        tree, found = said["tree"], {str(path): int(many) for path, many in said["open"].items()}
    except (ValueError, KeyError, TypeError, AttributeError):
        return None, {}
    return (tree, found) if isinstance(tree, str) and len(tree) == 40 and history.store.has(tree) else (None, {})
