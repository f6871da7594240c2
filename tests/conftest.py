"""Settings that all tests share."""

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

LONG = os.environ.get("RECIPEBOX_LONG") == "1"

# The short profile tries the same examples on every run, so that a build fails for a change and not by chance; the
# long one tries others each time.
settings.register_profile(
    "quick", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
settings.register_profile("long", settings.get_profile("quick"), derandomize=False, max_examples=5000)
settings.load_profile("long" if LONG else "quick")


@pytest.fixture(scope="session")
def sample_box() -> Path:
    """The invented family's folder, where it lies in the checkout."""
    return Path(__file__).parent.parent / "sample_box"


@pytest.fixture(autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or writes the user's own folders."""
    home = tmp_path_factory.mktemp("home")
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("XDG_DATA_HOME", str(home / "data"))
    monkeypatch.setenv("NO_COLOR", "1")
