"""Reading lines against labelled recipes.

Source: TASTEset 2.0 (A. Wróblewska et al., 2022, arXiv:2204.07775), development half, read where it lies; and, for
lines that are no ingredients, ARA 1.1 (L. Donatelli et al., EMNLP 2021, CC BY 4.0). Scored by the scorer beside the
data.
"""

import importlib.util
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from recipebox.cards.amounts import write_amount
from recipebox.cards.ingredient import ingredient_likeness, read_ingredient

DATASETS = Path(__file__).parents[2].parent / "shared" / "datasets"
LINES = DATASETS / "ingredient-lines" / "dev.jsonl"
STEPS = DATASETS / "same-dish"

pytestmark = pytest.mark.skipif(not LINES.exists(), reason="the labelled lines do not lie beside the project")


@pytest.fixture(scope="module")
def scorer() -> Iterator[ModuleType]:
    spec = importlib.util.spec_from_file_location("score_ingredient_lines", LINES.with_name("score.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # its dataclasses look themselves up there
    spec.loader.exec_module(module)
    yield module
    del sys.modules[spec.name]


@pytest.fixture(scope="module")
def gold() -> list[dict[str, Any]]:
    return [json.loads(line) for line in LINES.read_text(encoding="utf-8").splitlines() if line.strip()]


def prediction(text: str) -> dict[str, str | None]:
    found = read_ingredient(text)
    quantity = None
    if found.amount is not None:
        low, high = write_amount(found.amount.low), write_amount(found.amount.high)
        quantity = low if low == high else f"{low} - {high}"
    return {"quantity": quantity, "unit": found.unit, "food": found.item or None, "preparation": found.preparation}


def share(marks: list[bool]) -> float:
    return sum(marks) / len(marks)


def test_labelled_lines_are_read_as_people_labelled_them(scorer: ModuleType, gold: list[dict[str, Any]]) -> None:
    """Whole lines, food, unit and quantity of the development half stay above floors just below what was reached."""
    results = scorer.score(gold, {(g["recipe"], g["line"]): prediction(g["text"]) for g in gold})
    print("\n" + scorer.report(results))
    assert share([r.whole for r in results]) >= 0.992
    assert share([r.food_exact for r in results if r.food_exact is not None]) >= 0.995
    assert share([r.unit for r in results if r.unit is not None and r.unit_stated]) >= 0.993
    assert share([r.quantity for r in results if r.quantity is not None and r.quantity_stated]) >= 0.999


def test_nothing_is_read_from_labels_alone(scorer: ModuleType, gold: list[dict[str, Any]]) -> None:
    """The scorer tells good readings from bad: answering nothing scores no line (the check checks itself)."""
    results = scorer.score(gold, {})
    assert share([r.whole for r in results]) < 0.05


@pytest.mark.skipif(not STEPS.exists(), reason="the step texts do not lie beside the project")
def test_ingredient_lines_are_told_from_steps(gold: list[dict[str, Any]]) -> None:
    """At the cut of 0.5 nearly all ingredient lines are found and hardly a sentence of a method is taken for one."""
    steps = [
        line
        for path in sorted(STEPS.glob("*/*.txt"))
        for line in path.read_text(encoding="utf-8").splitlines()
        if line.strip()
    ]
    found = share([ingredient_likeness(g["text"]) > 0.5 for g in gold])
    mistaken = share([ingredient_likeness(step) > 0.5 for step in steps])
    print(f"\ningredient lines found {found:.4f}, steps taken for ingredient lines {mistaken:.4f}")
    assert found >= 0.985
    assert mistaken <= 0.01
