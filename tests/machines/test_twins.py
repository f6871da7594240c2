"""Laptops in memory: many more runs than disks allow, with the same merge, history and rules of publishing."""

import os

import pytest
from hypothesis import settings

from tests.machines.laptops import Laptops
from tests.machines.twin import Twin

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"


class Twins(Laptops):
    """A family's laptops in memory."""

    world_of = Twin


TestTwins = Twins.TestCase
TestTwins.settings = settings(
    max_examples=20_000 if _LONG else 200, stateful_step_count=30 if _LONG else 20, deadline=None
)
TestTwins = pytest.mark.long(TestTwins) if _LONG else TestTwins
