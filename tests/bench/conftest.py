"""Speed is measured where a person asks for it: on a busy machine a ratio tells of the neighbours, not of the code."""

from pathlib import Path

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the benchmarks and their asserted ratios out, unless --benchmark-enable is given."""
    if config.getoption("benchmark_enable"):
        return
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.skip(reason="a benchmark: add --benchmark-enable"))
