"""Messages of commits."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from recipebox.history.message import read_message, write_message

facts = st.dictionaries(st.text(max_size=8).filter(lambda key: key not in ("moves", "rule", "laptop")), st.text())
moves = st.lists(st.tuples(st.text(max_size=9), st.text(max_size=9)).map(list), max_size=4)


@given(st.text(), facts, moves, st.integers(0, 99))
def test_what_is_written_is_read(why: str, said: dict[str, Any], moved: list[list[str]], rule: int) -> None:
    """Facts come back as they were, whatever the words and paths hold."""
    message = read_message(write_message(why, {**said, "moves": moved, "rule": rule, "laptop": {"id": "a1"}}))
    assert message.moves == dict(moved)
    assert (message.rule, message.laptop_id) == (rule, "a1")
    assert {key: message.facts[key] for key in said} == said
    assert "\n" not in message.why


@given(st.text())
def test_a_foreign_message_never_fails(text: str) -> None:
    """Messages come from other laptops: any text reads, with facts of the right kind."""
    for words in (text, f"why\n\nrecipebox:\n{text}", f"\nrecipebox:\n{{{text}}}"):
        message = read_message(words)
        assert isinstance(message.moves, dict)
        assert isinstance(message.rule, int)


def test_moves_can_be_read_by_a_person() -> None:
    """A move stands in the message as cards.md says."""
    assert "moved: a.txt -> b/a.txt\n" in write_message("Moved", {"moves": [["a.txt", "b/a.txt"]]})


def test_hostile_json_is_no_trouble() -> None:
    """Deep nesting, wrong kinds and huge numbers are passed over."""
    for data in ("[" * 100_000, '{"moves": 3, "rule": "x", "laptop": []}', '{"rule": true, "moves": [["a"], [1, 2]]}'):
        message = read_message(f"why\n\nrecipebox:\n{data}\n")
        assert (message.moves, message.rule, message.laptop_id) == ({}, 0, "")
