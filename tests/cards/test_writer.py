"""The one writer changes the lines it is told to, and no byte else."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.reader import read_cards
from recipebox.cards.text import decode, encode
from recipebox.cards.writer import SECTIONS, Change, Insert, Remove, Replace, apply_changes, put_section

_LINES = st.lists(st.text(alphabet="ab é", max_size=4), max_size=6)
_ENDS = st.sampled_from(["\n", "\r\n", "\r"])


@given(_LINES, _ENDS, st.booleans())
def test_no_change_changes_nothing(lines: list[str], end: str, closed: bool) -> None:
    """Reading, then writing with no change, gives back the bytes."""
    data = (end.join(lines) + (end if closed else "")).encode()
    assert encode(apply_changes(decode(data), [])) == data


@given(_LINES.filter(bool), _ENDS, st.booleans(), st.data())
def test_only_those_lines_differ(lines: list[str], end: str, closed: bool, data: st.DataObject) -> None:
    """As on a list of lines: replaced, removed, inserted; line ends and an open last line stay the file's own."""
    text = decode((end.join(lines) + (end if closed else "")).encode())
    count = len(text.lines)
    wanted: list[str] = []
    changes: list[Change] = []
    for after in range(count + 1):
        if after:
            what = data.draw(st.sampled_from(["keep", "keep", "replace", "remove"]))
            words = text.lines[after - 1].words
            if what == "replace":
                changes.append(Replace(after, after, ("new", "lines")))
                wanted += ["new", "lines"]
            elif what == "remove":
                changes.append(Remove(after, after))
            else:
                wanted.append(words)
        if data.draw(st.booleans()):
            changes.append(Insert(after, ("put in",)))
            wanted.append("put in")
    changed = apply_changes(text, data.draw(st.permutations(changes)))
    assert [line.words for line in changed.lines] == wanted
    assert all(line.end in (end, text.end) for line in changed.lines[:-1])
    if changed.lines and count:
        assert bool(changed.lines[-1].end) == bool(text.lines[-1].end)


@pytest.mark.parametrize(
    "changes", [[Remove(1, 2), Replace(2, 2, ())], [Remove(3, 4)], [Insert(9, ())], [Remove(0, 1)]]
)
def test_impossible_changes_are_refused(changes: list[Change]) -> None:
    """Two changes of one line, or a line that is not there, raise and write nothing."""
    with pytest.raises(ValueError, match="line"):
        apply_changes(decode(b"a\nb\nc\n"), changes)


@pytest.mark.parametrize("section", ["undecided", "settled"])
def test_a_section_comes_and_goes(sample_box: Path, section: str) -> None:
    """In every card of the sample box a section is written, read, rewritten, and taken out again without a trace."""
    seen = 0
    for file in sorted(sample_box.rglob("*")):
        path = file.relative_to(sample_box).as_posix()
        if not file.is_file() or not could_be_card(path):
            continue
        before = file.read_bytes()
        try:
            cards = read_cards(before, path)
        except NotACardError:
            continue
        if len(cards) != 1 or cards[0].undecided or cards[0].settled:
            continue
        chosen = "" if section == "undecided" else "chosen: "
        body = ["salt", "  - 1 tsp salt", f"  - {chosen}2 tsp salt"]
        data = encode(put_section(decode(before), cards[0], section, body))
        (card,) = read_cards(data, path)
        (entry,) = getattr(card, section)
        assert (entry.about, [w.text for w in entry.wordings]) == ("salt", ["1 tsp salt", "2 tsp salt"]), path
        assert [i.text for i in card.ingredients] == [i.text for i in cards[0].ingredients], path
        assert [s.text for s in card.steps] == [s.text for s in cards[0].steps], path
        assert encode(put_section(decode(data), card, section, body)) == data
        assert encode(put_section(decode(data), card, section, [])).rstrip() == before.rstrip(), path
        seen += 1
    assert seen > 20


@pytest.mark.parametrize("below", ["\n\nUndecided\n", "\n\nUndecided\n  salt\n    - 1 tsp salt\n    - 2 tsp salt\n"])
def test_a_sign_off_stays_one(below: str) -> None:
    """A letter's sign-off is read the same with and without sections of the tool below it."""
    letter = (
        "Bake\n\nIngredients\n  1 tsp salt\n  2 cups rice\n\nMethod\n  Mix it all well.\n\n  Bake it.\n\nJUNE" + below
    )
    (card,) = read_cards(letter.encode(), "a.txt")
    assert [step.text for step in card.steps] == ["Mix it all well.", "Bake it."]
    assert card.name == "JUNE"


def test_headings_are_of_the_cards_own_kind() -> None:
    """Markdown gets `## Undecided`, capitals get capitals, a colon gets a colon."""
    for heading, wanted in (("## Method", b"## Undecided"), ("METHOD", b"UNDECIDED"), ("Method:", b"Undecided:")):
        above = heading.replace("Method", "Ingredients").replace("METHOD", "INGREDIENTS")
        data = f"Bake\n\n{above}\n- 1 cup rice\n- 2 cups milk\n\n{heading}\n1. Mix.\n2. Bake.\n".encode()
        (card,) = read_cards(data, "a.md")
        assert wanted + b"\n" in encode(put_section(decode(data), card, "undecided", ["rice", "  - 1 cup rice"]))


def test_unknown_sections_are_refused() -> None:
    """Only the sections the tool keeps can be put."""
    data = b"Bake\n\nIngredients\n- 1 cup rice\n\nMethod\n1. Mix.\n"
    (card,) = read_cards(data, "a.md")
    assert "method" not in SECTIONS
    with pytest.raises(ValueError, match="no section"):
        put_section(decode(data), card, "method", [])
