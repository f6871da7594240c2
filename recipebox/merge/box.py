"""Whole boxes merged: which files stand, under which names, with which content."""

from collections.abc import Collection, Sequence
from functools import lru_cache

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card, Entry, Wording
from recipebox.cards.reader import read_cards
from recipebox.cards.text import NotTextError
from recipebox.merge.algebra import LEAVE_OUT
from recipebox.merge.card import merge_card
from recipebox.merge.entries import FILE_NAME, THIS_CARD, is_settled
from recipebox.merge.errors import UnmergeableError
from recipebox.merge.following import DISHES, followed, marked_gone, names_cards
from recipebox.merge.names import apart, carried, marked
from recipebox.merge.others import kept_apart, merge_sayings
from recipebox.merge.settling import with_entry
from recipebox.merge.stock import merge_on_hand
from recipebox.merge.tree import Blob, Item, MergedBox, Side, Tree, items_of

_KEEP = "keep"
_MARK = 8


def merge_boxes(base: Tree, sides: Sequence[Side]) -> MergedBox:
    """The box after all sides' changes, alike on every laptop and in whatever order the sides come.

    Cards merge by their facts, dishes.txt as a set of lines, on-hand texts by adding up; of other texts and pictures
    that several changed all are kept. Moves are followed; a card taken away here and edited there stays, with the
    question in it. Paths that may not be carried are left out; names that some laptop cannot hold are made safe.
    """
    left_out = {path for tree in (base, *(side.tree for side in sides)) for path in tree if not carried(path)}
    start = {path: blob for path, blob in base.items() if path not in left_out}
    kept = [_carried(side, left_out) for side in sides]
    items = items_of(start, kept)
    names = {id(item): _name(item) for item in items}
    moves = _all_moves(items, names)
    contents: list[tuple[str, str, Blob]] = []
    for item in sorted(items, key=lambda item: (names[id(item)][0].encode(), item.key.encode(), item.origin is None)):
        wanted, others = names[id(item)]
        for name, blob in _content(item, wanted, others, moves).items():
            contents.append((name, item.key, blob))
    tree, renamed = _placed(contents)
    tree |= _with_marks(tree, start.keys() - tree.keys() - moves.keys(), tree.keys() - start.keys())
    asked = _new_questions(tree, [side.tree for side in kept])
    return MergedBox(tree, asked, tuple(sorted(left_out)), renamed)


def _carried(side: Side, left_out: set[str]) -> Side:
    if not left_out:
        return side
    tree = {path: blob for path, blob in side.tree.items() if path not in left_out}
    return Side(tree, {old: new for old, new in side.moves.items() if new not in left_out and old not in left_out})


def _name(item: Item) -> tuple[str, list[str]]:
    """The file's name after the merge, and all names it was moved to, if several."""
    if item.origin is None:
        return item.key, []
    moved = sorted({place for place in item.places if place is not None} - {item.origin}, key=str.encode)
    if not moved:
        return item.origin, []
    return moved[0], moved if len(moved) > 1 else []


def _all_moves(items: Sequence[Item], names: dict[int, tuple[str, list[str]]]) -> dict[str, str]:
    """Every path a file had in base or on a side -> its merged one, where that differs."""
    found: dict[str, str] = {}
    standing = {names[id(item)][0] for item in items}
    for item in items:
        for place in {item.origin, *item.places} - {None, names[id(item)][0]}:
            if place is not None and place not in standing:
                found[place] = names[id(item)][0]
    return found


def _content(item: Item, name: str, places: list[str], moves: dict[str, str]) -> dict[str, Blob]:
    """Name -> content of what stands of one file; empty if it goes."""
    present = [blob for blob in item.blobs if blob is not None]
    gone = item.origin is not None and len(present) < len(item.blobs)
    before = item.base.id if item.base is not None else None
    changed = [blob for blob in present if blob.id != before]
    moved = any(place not in (None, item.origin) for place in item.places) and item.origin is not None
    if not present or (gone and not changed and not moved):
        return {}
    ids = {blob.id: blob for blob in changed}
    if name.rpartition("/")[2].startswith("on-hand") and "/" not in name and len(changed) > 1:
        merged = _joined(item, changed, name, moves)
    elif names_cards(name) and moves:
        merged = _joined(item, changed or present, name, moves)
    elif not ids:
        merged = {name: present[0]}
    elif len(ids) == 1:
        merged = {name: changed[0]}
    else:
        merged = _joined(item, changed, name, moves)
    if gone:
        merged = _asked(merged, name, THIS_CARD, [_KEEP, LEAVE_OUT], item)
    if places:
        merged = _asked(merged, name, FILE_NAME, places, item)
    return merged


def _joined(item: Item, changed: Sequence[Blob], name: str, moves: dict[str, str]) -> dict[str, Blob]:
    base = followed(item.base.read(), name, moves) if item.base is not None else None
    texts = [followed(blob.read(), name, moves) for blob in changed]
    try:
        if name == DISHES:
            return {name: Blob.of(merge_sayings(base, texts))}
        if "/" not in name and name.startswith("on-hand") and name.endswith(".txt"):
            return {name: Blob.of(merge_on_hand(base, texts))}
        if could_be_card(name) and (base is not None or _all_alike(texts, name)):
            return {name: Blob.of(merge_card(base, texts, name))}
    except (NotACardError, NotTextError, UnmergeableError):
        pass
    by_id = {blob.id: blob for blob in map(Blob.of, texts)}
    return {kept: by_id[identity] for kept, identity in kept_apart(name, by_id).items()}


def _all_alike(texts: Sequence[bytes], path: str) -> bool:
    """Whether files of one name made apart are the same dish."""
    from recipebox.dishes import same_dish

    cards = [read_cards(text, path) for text in sorted(set(texts))]
    if any(len(part) != 1 for part in cards):
        return False
    return all(same_dish(a[0], b[0]).same for n, a in enumerate(cards) for b in cards[n + 1 :])


def _asked(merged: dict[str, Blob], name: str, about: str, wordings: Sequence[str], item: Item) -> dict[str, Blob]:
    """The card with a question about the file itself; a text that is no card stays as it is."""
    blob = merged.get(name)
    if blob is None or not could_be_card(name):
        return merged
    data = blob.read()
    try:
        card = read_cards(data, name)[0]
        old = next((e for e in (*card.undecided, *card.settled) if e.about == about), None)
        if old is not None and about == THIS_CARD:
            had = item.base is not None and _has_entry(item.base, item.origin or name, about)
            if not (is_settled(old) and had):
                return merged
            wanted = [Wording(w.text, True) for w in old.wordings]
        else:
            every = {w.text: w.chosen for w in (old.wordings if old else ())}
            wanted = [Wording(text, every.get(text, False)) for text in sorted({*every, *wordings}, key=str.encode)]
        entry = Entry(about, tuple(wanted))
        return {**merged, name: Blob.of(with_entry(data, name, entry))} if entry != old else merged
    except (NotACardError, NotTextError):
        return merged


def _has_entry(blob: Blob, path: str, about: str) -> bool:
    return any(entry.about == about for card in _cards(blob, path) for entry in (*card.undecided, *card.settled))


def _placed(contents: Sequence[tuple[str, str, Blob]]) -> tuple[dict[str, Blob], dict[str, str]]:
    """Each content under its own name: of several that want one, the smallest id keeps it; twins are told apart."""
    wanted: dict[str, dict[str, Blob]] = {}
    for name, _, blob in contents:
        wanted.setdefault(name, {})[blob.id] = blob
    tree: dict[str, Blob] = {}
    for name, blobs in wanted.items():
        for kept, identity in kept_apart(name, blobs).items():
            tree[kept if kept not in tree else marked(name, identity)] = blobs[identity]
    safe = apart(tree)
    return {safe[name]: blob for name, blob in sorted(tree.items())}, {n: s for n, s in safe.items() if n != s}


def _with_marks(tree: Tree, gone: Collection[str], new: Collection[str]) -> dict[str, Blob]:
    """Family recipes whose Versions name a card that goes with this merge, or is back with it."""
    if not gone and not new:
        return {}
    texts = {path: blob.read() for path, blob in tree.items() if path != DISHES and names_cards(path)}
    marked = {path: marked_gone(data, path, gone, new) for path, data in texts.items()}
    return {path: Blob.of(data) for path, data in marked.items() if data != texts[path]}


def _new_questions(tree: Tree, sides: Sequence[Tree]) -> tuple[tuple[str, str], ...]:
    """Open questions of the merged box that stand on no side."""
    known = {blob.id for side in sides for blob in side.values()}
    found = []
    for path, blob in tree.items():
        if blob.id not in known:
            had = {e for side in sides if path in side for e in _open(side[path], path)}
            found += [(path, entry.about) for entry in _open(blob, path) if entry not in had]
    return tuple(sorted(set(found)))


def _open(blob: Blob, path: str) -> list[Entry]:
    return [Entry(e.about, e.wordings) for card in _cards(blob, path) for e in card.undecided]


def _cards(blob: Blob, path: str) -> tuple[Card, ...]:
    return _read(blob.read(), path) if could_be_card(path) else ()


@lru_cache(maxsize=64)
def _read(data: bytes, path: str) -> tuple[Card, ...]:
    try:
        return tuple(read_cards(data, path))
    except (NotACardError, NotTextError):
        return ()
