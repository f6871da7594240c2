"""The original of a card whose adding is undone goes along with it, since `as-sent/` is in no history."""

import hashlib
import re
from collections.abc import Collection, Iterator, Mapping

from recipebox.box import Box, BoxError, lock, read_file, remove, scan
from recipebox.cards.kinds import could_be_card

_KEPT_AS = re.compile(rb"^came:[^\n]*kept as (as-sent/[^\r\n/\\]{1,250}?)\s*$", re.MULTILINE)


def originals_of(cards: Collection[bytes]) -> list[str]:
    """Paths in `as-sent/` that these cards say they were made from."""
    named = (found[1].decode("utf-8", "replace") for data in cards for found in _KEPT_AS.finditer(data))
    return list(dict.fromkeys(named))


def take_along(box: Box, gone: Mapping[str, bytes]) -> list[str]:
    """Remove the originals of cards that are gone from the box; gives their paths.

    An original that another card still names stays, and so does one whose bytes are no longer those that were sent.
    Raises BoxError.
    """
    taken = []
    with lock(box):
        left = originals_of([data for data in _cards(box) if b"as-sent/" in data])
        for path in originals_of(gone.values()):
            data = _bytes(box, path)
            if path not in left and data and hashlib.sha256(data).hexdigest()[:8] in path:
                remove(box, path, data)
                taken.append(path)
    return taken


def _cards(box: Box) -> Iterator[bytes]:
    for path in scan(box).files:
        if could_be_card(path):
            yield _bytes(box, path)


def _bytes(box: Box, path: str) -> bytes:
    try:
        return read_file(box, path)
    except BoxError:
        return b""
