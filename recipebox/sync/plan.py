"""What to do at a meeting place, decided from what is known, without touching anything.

The planner yields small named actions; another part carries them out. So a plan can be shown, counted, refused and
tested without a disk.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from recipebox.sync.folder import Left

MOST_BUNDLES = 24
"""More bundles than this in one corner are folded into one."""


@dataclass(frozen=True, slots=True)
class Take:
    """Read a bundle of another laptop and take in what it holds."""

    left: Left


@dataclass(frozen=True, slots=True)
class BecomeAnother:
    """Take a new laptop id: somebody else writes under ours, as a copied disk does."""

    seen: Left


@dataclass(frozen=True, slots=True)
class Leave:
    """Leave a bundle with what is new since `without`; with nothing in `without`, a full one with the merged box."""

    number: int
    without: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Remove:
    """Remove a file of our own that a full bundle has made needless."""

    left: Left


@dataclass(frozen=True, slots=True)
class OwnCorner:
    """Our own corner of a place: what we left there, by hash, with the edits each bundle leads to."""

    wrote: Mapping[str, tuple[str, ...]]
    number: int = 0


def plan_taking(
    laptop_id: str, lying: Sequence[Left], taken: Collection[str], own: OwnCorner
) -> Iterator[Take | BecomeAnother]:
    """What to read. Bundles taken before are not read again; a corner's bundles come in their order."""
    strange = [left for left in lying if left.laptop_id == laptop_id and left.sha not in own.wrote]
    if strange:
        yield BecomeAnother(strange[0])
    for left in sorted(lying, key=lambda left: (left.laptop_id, left.number, left.sha)):
        if left.sha not in taken and (left.laptop_id != laptop_id or strange) and left.sha not in own.wrote:
            yield Take(left)


def plan_leaving(
    laptop_id: str,
    edits: Collection[str],
    lying: Sequence[Left],
    whole: Collection[str],
    own: OwnCorner,
    present: Collection[str],
    ancestors: Callable[[Collection[str]], Collection[str]],
) -> Iterator[Leave | Remove]:
    """What to leave, so that every edit known here can be read at the place, and our own corner by itself.

    `edits` are all last known edits; `whole` the hashes of our own files that are undamaged; `present` the edits that
    whole bundles of any laptop lead to. A corner never builds on another's: what its owner heals or folds there
    cannot break ours.
    """
    if not edits:
        return
    mine = [left for left in lying if left.laptop_id == laptop_id]
    damaged = any(sha not in whole for sha in own.wrote)
    missing = not (set(edits) <= set(present) or set(edits) <= set(ancestors(present)))
    number = max([own.number, *(left.number for left in mine)]) + 1
    if damaged or (missing and (not own.wrote or len(own.wrote) >= MOST_BUNDLES)):
        yield Leave(number, ())
        for left in mine:
            if left.sha in own.wrote:
                yield Remove(left)
    elif missing:
        yield Leave(number, tuple(sorted({tip for tips in own.wrote.values() for tip in tips})))


def plan_branches(
    laptop_id: str,
    edits: Mapping[str, str],
    main: str | None,
    mark: tuple[str, Callable[[], str | None]],
    there: Mapping[str, str],
    ancestors: Callable[[Collection[str]], Collection[str]],
) -> dict[str, tuple[str | None, str]]:
    """Which refs of a server to let name what: ref -> (commit it names now, commit it is to name).

    `edits` are all last known edits, by "<laptop id>/own" or "<laptop id>/also/<hex>"; those of other laptops are
    brought along only where the server has them nowhere. `mark` is the tag of the box with what finds its first state,
    `there` what the server has.
    """
    wanted: dict[str, str] = {}
    known = set(there.values())
    if not known.issuperset(edits.values()):
        every = ancestors(list(edits.values()))
        known |= set(ancestors([commit for commit in there.values() if commit in every]))
    for name, commit in edits.items():
        laptop, _, rest = name.partition("/")
        if laptop == laptop_id:
            wanted[f"refs/heads/laptops/{laptop_id}/{rest}"] = commit
        elif commit not in known:
            also = rest.removeprefix("own").replace("also/", "-")
            wanted[f"refs/heads/laptops/{laptop_id}/via/{laptop}{also}"] = commit
    if main is not None:
        wanted["refs/heads/main"] = main
    tag, find_first = mark
    first = None if tag in there else find_first()
    if first is not None:
        wanted[tag] = first
    return {ref: (there.get(ref), commit) for ref, commit in wanted.items() if there.get(ref) != commit}
