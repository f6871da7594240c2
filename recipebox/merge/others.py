"""Files that are no cards: texts and pictures, dishes.txt as a set of lines."""

from collections.abc import Callable, Mapping, Sequence

from recipebox.cards.blobs import blob_id
from recipebox.cards.sayings import saying_key
from recipebox.cards.text import Line, Text, decode, encode
from recipebox.merge.algebra import shortest
from recipebox.merge.names import marked

_MARK = 8


def merge_text(base: bytes | None, sides: Sequence[bytes], path: str) -> Mapping[str, bytes]:
    """What becomes of a text or picture: path to bytes. What several changed is kept whole, each under its own name.

    Of several, the one whose content's id sorts first keeps the name; the others get a mark from their own id.
    """
    by_id = {blob_id(side): side for side in sides if side != base}
    if not by_id:
        return {path: base} if base is not None else {}
    return {name: by_id[identity] for name, identity in kept_apart(path, by_id).items()}


def kept_apart(path: str, ids: Mapping[str, object] | Sequence[str]) -> dict[str, str]:
    """Name -> content id for files that all want one name."""
    first, *others = sorted(ids)
    return {path: first, **{marked(path, identity[:_MARK]): identity for identity in others}}


def merge_sayings(base: bytes | None, sides: Sequence[bytes]) -> bytes:
    """dishes.txt after all sides' changes, as a set of lines. Raises NotTextError where one of them is no text."""
    return merge_lines(base, sides, saying_key)


def merge_lines(base: bytes | None, sides: Sequence[bytes], key: Callable[[str], str | None]) -> bytes:
    """A text whose order means nothing, each line kept, added or dropped against the base; its layout is the base's.

    `key` gives what a line means, None for one that means nothing. What several sides wrote to mean the same comes in
    the shortest words, then the first in byte order.
    """
    changed = sorted({side for side in sides if side != base})
    if len(changed) < 2:
        return changed[0] if changed else base or b""
    start = _by_key(base or b"", key)
    maps = [_by_key(side, key) for side in changed]
    kept: dict[str, str] = {}
    for known in {known for lines in (start, *maps) for known in lines}:
        if known in start and any(known not in side for side in maps):
            continue
        written = {side[known] for side in maps if known in side and side[known] != start.get(known)}
        kept[known] = min(written, key=shortest) if written else start[known]
    text = decode(base if base is not None else changed[0])
    lines: list[Line] = []
    there = set()
    for line in text.lines:
        meant = key(line.words)
        if meant is None:
            lines.append(line)
        elif meant in kept and meant not in there:
            lines.append(Line(kept[meant], line.end))
            there.add(meant)
    new = sorted(
        (kept[known] for known in kept.keys() - there), key=lambda words: words.encode("utf-8", "surrogatepass")
    )
    end = text.end
    whole = [Line(line.words, line.end or end) for line in lines] + [Line(words, end) for words in new]
    return encode(Text(tuple(whole), text.encoding, text.mark, text.unsure))


def _by_key(data: bytes, key: Callable[[str], str | None]) -> dict[str, str]:
    found: dict[str, str] = {}
    for line in decode(data).lines:
        meant = key(line.words)
        if meant is not None:
            found.setdefault(meant, line.words)
    return found
