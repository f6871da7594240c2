"""What a person asks of a sync."""

from collections.abc import Collection
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Asked:
    """What a person asked of a sync.

    `dry_run`: what would come and go, nothing put in place or left. `over`: directions ("in", "out") in which the brake
    lets all through. `take_aside`: take in what was laid aside. `as_is`: torn cards to record as they are. `join`: make
    the box found there and ours one. `at_terminal`: ssh or git may ask about a server's key or a password.
    """

    dry_run: bool = False
    over: Collection[str] = ()
    take_aside: bool = False
    as_is: Collection[str] = ()
    join: bool = False
    at_terminal: bool = False
