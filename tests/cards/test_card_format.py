"""The page on the card format is true."""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from recipebox.cards.data import card_data
from recipebox.cards.reader import read_cards

PAGE = (Path(__file__).parents[2] / "schema" / "card-format.md").read_text("utf-8")
EXAMPLES = re.findall(r"^## (.+?)$|^```text ?(\S*)\n(.*?)^```\n```json\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)


def pages_examples() -> list[Any]:
    """Each example's path, text and expected part of its data, named by the heading above it."""
    found, heading = [], ""
    for title, path, text, expected in EXAMPLES:
        heading = title or heading
        if text:
            found.append(pytest.param(path or "cards/a.md", text, json.loads(expected), id=heading))
    return found


def holds(whole: Any, part: Any) -> bool:
    """Whether data holds at least what is expected: the keys of a mapping, all of a list in order."""
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(key in whole and holds(whole[key], value) for key, value in part.items())
    if isinstance(part, list):
        return len(whole) == len(part) and all(holds(a, b) for a, b in zip(whole, part, strict=True))
    return bool(whole == part)


@pytest.mark.parametrize(("path", "text", "expected"), pages_examples())
def test_every_example_is_read_as_the_page_says(path: str, text: str, expected: dict[str, Any]) -> None:
    """What stands below an example in schema/card-format.md is what is read."""
    (card,) = read_cards(text.encode(), path)
    data = card_data(card)
    assert holds(data, expected), {key: data[key] for key in expected}


def test_every_rule_has_an_example() -> None:
    """No section of the page goes without one."""
    named = {example.id for example in pages_examples()}
    assert named == {title for title, *_ in EXAMPLES if title}
    assert len(named) >= 10
