"""Leaving our own corner of a place as it should be: what is new, what was damaged, and many bundles folded."""

import hashlib
from collections.abc import Callable

from recipebox.history import History
from recipebox.history.store import MAIN
from recipebox.sync.address import PlaceError
from recipebox.sync.bundle import bundle
from recipebox.sync.changed import Change, what_went
from recipebox.sync.folder import FolderPlace
from recipebox.sync.gathered import Gathered
from recipebox.sync.memory import PlaceMemory
from recipebox.sync.plan import Leave, plan_leaving
from recipebox.sync.spool import TooLargeError


def leave(
    history: History,
    place: FolderPlace,
    memory: PlaceMemory,
    found: Gathered,
    remember: Callable[[], None],
    dry_run: bool = False,
) -> tuple[Change, ...]:
    """Carry out what the planner says; what this laptop's edits changed and the place did not have yet.

    `remember` is called before a bundle is written: a file of ours that we do not know would look like another
    computer's. Raises PlaceError.
    """
    laptop_id = history.box.laptop_id
    mine = {left.sha: left for left in found.lying if left.laptop_id == laptop_id}
    whole = {sha for sha, left in mine.items() if sha in memory.own and place.read(left)}
    present = [tip for tips in memory.taken.values() for tip in tips]
    present += [tip for sha in whole for tip in memory.own[sha]]
    went = what_went(history, present)
    plan = plan_leaving(
        laptop_id, history.heads(), found.lying, whole, memory.corner(), present, history.graph.ancestors
    )
    if dry_run:
        return went
    for action in plan:
        if isinstance(action, Leave):
            _write(history, place, memory, action, remember)
        else:
            place.remove(action.left)
    return went


def _write(
    history: History, place: FolderPlace, memory: PlaceMemory, action: Leave, remember: Callable[[], None]
) -> None:
    refs = history.store.refs("refs/laptops/")
    tips = tuple(sorted(set(refs.values())))
    if not action.without:
        head = history.head
        if head is not None:
            refs = {**refs, "HEAD": head, MAIN: head}
    try:
        with bundle(history, refs, action.without) as data:
            sha = hashlib.sha256(data).hexdigest()
            before = {} if not action.without else memory.own
            memory.own = {**memory.own, sha: tips}
            memory.number = action.number
            remember()
            place.leave(history.box.laptop_id, action.number, data, sha)
    except TooLargeError:
        raise PlaceError("the box with its history is larger than can be left at once", place.place) from None
    memory.own = {**before, sha: tips}
    remember()
