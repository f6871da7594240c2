"""Reading what other laptops left at one place."""

from collections.abc import Mapping
from dataclasses import replace

from recipebox.box import Box
from recipebox.box.here import read_here, write_here
from recipebox.history import History
from recipebox.sync.checking import NewerRuleError, RefusedError
from recipebox.sync.folder import FolderPlace, Left
from recipebox.sync.gathered import Gathered, Step, name_of
from recipebox.sync.memory import UNKNOWN, PlaceMemory
from recipebox.sync.outcome import INCOMPLETE, NEWER_RULE, REFUSED
from recipebox.sync.pack import DamagedError
from recipebox.sync.plan import BecomeAnother, plan_taking
from recipebox.sync.take import NotYetError, take


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
    waiting: dict[str, list[Left]] = {}
    refused: dict[str, str] = {}
    for at, action in enumerate(plan):
        if isinstance(action, BecomeAnother):
            found.strange = place.read(action.seen) is not None
            continue
        left = action.left
        progress(at + 1, len(plan))
        try:
            data = place.read(left)
            if data is None:
                raise DamagedError("is not whole")
            head = take(history, data)
        except (DamagedError, NotYetError):
            waiting.setdefault(left.laptop_id, []).append(left)
        except RefusedError as error:
            refused[error.laptop or name_of(history, left.laptop_id)] = str(error)
        except NewerRuleError as error:
            found.state, found.waits_for = NEWER_RULE, [error.laptop or name_of(history, left.laptop_id)]
        else:
            memory.taken[left.sha] = tuple(sorted({commit for _, commit in head.laptops()}))
            waiting.pop(left.laptop_id, None) if not head.builds_on else None
    _judge(history, found, _unread(waiting, memory, found), refused)
    return found


def _unread(waiting: Mapping[str, list[Left]], memory: PlaceMemory, found: Gathered) -> list[str]:
    """Laptops of which something is missing: a half file that is no copy of one that was read."""
    return sorted(laptop for laptop, files in waiting.items() if any(left.sha not in memory.taken for left in files))


def _judge(history: History, found: Gathered, waiting: list[str], refused: Mapping[str, str]) -> None:
    if found.state == NEWER_RULE:
        return
    if refused:
        found.state = REFUSED
        found.waits_for = sorted(refused)
        found.why = "; ".join(refused[laptop] for laptop in found.waits_for)
    elif waiting:
        found.state = INCOMPLETE
        found.waits_for = [name_of(history, laptop) for laptop in waiting]


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
