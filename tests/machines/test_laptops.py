"""Real boxes on a disk that meet in a folder and on a git server, with files that get torn and bundles that rot."""

import os
import shutil
from collections.abc import Iterator

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule

from recipebox.box import find
from tests.machines.disk import Disk, DiskHome
from tests.machines.laptops import Laptops, cards, pick, which
from tests.machines.serving import served

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"


class OnDisk(Laptops):
    """What happens to disks, besides what people do."""

    world_of = Disk

    @rule(laptop=which, card=which)
    def tear_a_card(self, laptop: int, card: int) -> None:
        """A copy breaks off: the card is set aside until it is mended."""
        home = self._home(laptop)
        path = pick([path for path, _ in cards(home) if path not in home.torn], card)
        if path is not None:
            home.tear(path)

    @rule(laptop=which)
    def mend_cards(self, laptop: int) -> None:
        """Torn cards are whole again."""
        home = self._home(laptop)
        for path, whole in list(home.torn.items()):
            home.put(path, whole)

    @precondition(lambda self: bool(self.homes and self.world.bundles()))
    @rule(at=which, how=st.sampled_from(["half", "flip", "gone", "copy"]))
    def damage_a_bundle(self, at: int, how: str) -> None:
        """A file at the place is cut off, flipped, removed or doubled."""
        files = self.world.bundles()
        file = files[at % len(files)]
        content = bytearray(file.read_bytes())
        if how == "gone":
            file.unlink()
        elif how == "copy":
            shutil.copy(file, file.with_name(f"{file.stem} (1).bundle"))
        elif how == "half":
            file.write_bytes(content[: len(content) // 2])
        elif content:
            content[len(content) // 2] ^= 1
            file.write_bytes(content)

    @invariant()
    def every_box_can_be_read(self) -> None:
        for home in self.homes:
            assert isinstance(home, DiskHome)
            assert find(home.box.root).box_id == home.box.box_id

    def settle_down(self) -> None:
        for at in range(len(self.homes)):
            self.mend_cards(at)
        super().settle_down()

    def _home(self, laptop: int) -> DiskHome:
        home = self.homes[laptop % len(self.homes)]
        assert isinstance(home, DiskHome)
        return home


@pytest.fixture(scope="module", autouse=True)
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """git's own daemon, where there is one; else both places are folders."""
    folder = tmp_path_factory.mktemp("served")
    with served(folder) as address:
        Disk.served, Disk.serving = address, folder
        yield
        Disk.served, Disk.serving = None, None


TestLaptops = OnDisk.TestCase
TestLaptops.settings = settings(
    max_examples=200 if _LONG else 8, stateful_step_count=40 if _LONG else 20, deadline=None
)
TestLaptops = pytest.mark.long(TestLaptops) if _LONG else TestLaptops
