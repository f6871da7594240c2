"""Reading what other laptops left at one place."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from recipebox.box import Box
from recipebox.box.here import read_here, write_here
from recipebox.history import History
from recipebox.sync.bundle import Head
from recipebox.sync.checking import NewerRuleError, RefusedError
from recipebox.sync.entries import DamagedError
from recipebox.sync.folder import FolderPlace, Left
from recipebox.sync.gathered import Gathered, Step, name_of
from recipebox.sync.memory import UNKNOWN, PlaceMemory, Refusal
from recipebox.sync.outcome import INCOMPLETE, NEWER_RULE, REFUSED
from recipebox.sync.plan import BecomeAnother, plan_taking
from recipebox.sync.spool import LARGEST, Spool, TooLargeError
from recipebox.sync.take import NotYetError, take

_LARGE = 8 << 20  # a refused file of this size is not read again at each sync


def gather(
    history: History,
    place: FolderPlace,
    memory: PlaceMemory,
    written: Mapping[str, tuple[str, ...]],
    progress: Step = lambda done, of: None,
) -> Gathered:
    """Take in all whole bundles that can be taken; `memory` learns which. Raises PlaceError.

    `written` has every bundle this laptop left anywhere: a stick may come back under another path.
    `strange` tells that another computer writes under our laptop's id.
    """
    found = Gathered(place.left())
    memory.taken = {sha: tips for sha, tips in memory.taken.items() if any(left.sha == sha for left in found.lying)}
    mine = [left for left in found.lying if left.laptop_id == history.box.laptop_id]
    moved = {left.sha: written[left.sha] for left in mine if left.sha in written and left.sha not in memory.own}
    if moved:
        memory.own.update(moved)
        memory.own[UNKNOWN] = ()
    plan = list(plan_taking(history.box.laptop_id, found.lying, memory.taken, memory.corner()))
    memory.refused = {sha: why for sha, why in memory.refused.items() if any(left.sha == sha for left in found.lying)}
    waiting: dict[str, list[Left]] = {}
    refused: dict[str, Refusal] = {}
    for at, action in enumerate(plan):
        if isinstance(action, BecomeAnother):
            found.strange = place.read(action.seen)
            continue
        left = action.left
        progress(at + 1, len(plan))
        try:
            head = _take(history, place, memory, left)
        except NotYetError:
            waiting.setdefault(left.laptop_id, []).append(left)
        except (RefusedError, DamagedError) as error:
            refused[left.laptop_id] = refusal_of(error)
            if left.size > _LARGE:
                memory.refused[left.sha] = refused[left.laptop_id]
        except NewerRuleError as error:
            found.state, found.waits_for = NEWER_RULE, [error.laptop or name_of(history, left.laptop_id)]
        else:
            memory.taken[left.sha] = tuple(sorted({commit for _, commit in head.laptops()}))
            if not head.builds_on:  # a whole new beginning: what came before it no longer matters
                waiting.pop(left.laptop_id, None)
                refused.pop(left.laptop_id, None)
    if found.state != NEWER_RULE:
        judge(history, found, _unread(waiting, memory), refused)
    return found


def _take(history: History, place: FolderPlace, memory: PlaceMemory, left: Left) -> Head:
    """Take in one file. Raises NotYetError where it is not whole, else as `take` does."""
    if left.sha in memory.refused:
        raise RefusedError(*memory.refused[left.sha])
    if left.size > LARGEST:
        raise RefusedError("has left more at once than may be carried")
    try:
        with Spool(history.store.folder) as spool:
            if not place.read(left, spool.write):
                raise NotYetError
            return take(history, spool.whole())
    except TooLargeError:  # it has grown since
        raise NotYetError from None


def _unread(waiting: Mapping[str, list[Left]], memory: PlaceMemory) -> list[str]:
    """Laptops of which something is missing: a half file that is no copy of one that was read."""
    return sorted(laptop for laptop, files in waiting.items() if any(left.sha not in memory.taken for left in files))


def judge(history: History, found: Gathered, waiting: Collection[str], refused: Mapping[str, Refusal]) -> None:
    """Say in `found` whose changes are not taken (ids of laptops): some have not arrived, some break the limits."""
    if refused:
        said = {name_of(history, laptop, refusal.laptop): refusal.why for laptop, refusal in refused.items()}
        found.state, found.waits_for = REFUSED, sorted(said)
        found.why = "; ".join(f"{name}: {said[name]}" for name in found.waits_for)
    elif waiting:
        found.state = INCOMPLETE
        found.waits_for = [name_of(history, laptop) for laptop in waiting]


def refusal_of(error: RefusedError | DamagedError) -> Refusal:
    """Why changes are not taken."""
    return Refusal(str(error), error.laptop if isinstance(error, RefusedError) else "")


def become_another(history: History, box: Box) -> Box:
    """Take a new laptop id, since another computer uses ours. What was recorded stays known under the old one."""
    import secrets

    here = replace(read_here(box.hidden), laptop_id=secrets.token_hex(8))
    write_here(box.hidden, here)
    own = history.own
    if own is not None:
        history.note_laptop(here.laptop_id, own)
    return replace(box, laptop_id=here.laptop_id)


def join_box(box: Box, box_id: str) -> Box:
    """Let this box be the one with another id: from now on both are one."""
    write_here(box.hidden, replace(read_here(box.hidden), box_id=box_id))
    return replace(box, box_id=box_id)
