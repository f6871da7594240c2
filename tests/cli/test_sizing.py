"""`batch` at the terminal and in a pipe."""

import io
import json
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from recipebox.cards.data import card_data
from recipebox.cards.reader import read_cards
from tests.cli.conftest import Type, valid

BAKE = """Quince and leek bake
serves: 8
pan: 13x9 inch
oven: 400 F, 35 minutes

Ingredients
  3 large eggs, beaten
  1 can (14.5 oz) chopped quinces, drained
  2 tablespoons chopped parsley
  1 1/2 cups all-purpose flour
  2 tsp baking powder
  1/2 tsp salt
  1/4 tsp black pepper
  8 oz milk
  3 cups cooked macaroni

Method
  1. Heat the oven. Beat the eggs with 1 cup of the milk.
  2. Bake in a 2-quart glass dish until set.
"""


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch, recipebox: Type) -> Any:
    """Type `batch - ...` with something on standard input."""

    def give(data: str | bytes, *words: str) -> Any:
        raw = data.encode() if isinstance(data, str) else data
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(raw), encoding="utf-8"))
        return recipebox("batch", "-", *words)

    return give


def card_of(text: str) -> Any:
    """The card's data, as `read` gives it."""
    (card,) = read_cards(text.encode(), "-")
    return card_data(card)


def shown(answer: Any) -> list[str]:
    return [one["text"] for one in valid(answer.data, "batch")["shown"]]


def cautions(answer: Any) -> str:
    return "\n".join(f"{one['line']}: {one['text']}" for one in answer.data["cautions"])


def test_there_and_back_is_the_card_it_began_with(typed: Any, sample_box: Path) -> None:
    """Three times and then a third, and 1 5/12 and back, give every card of the family's folder back as data."""
    seen = 0
    for file in sorted(sample_box.rglob("*.*")):
        if file.name == "on-hand.txt":
            continue
        cards = read_cards(file.read_bytes(), "-")
        for there, back in (("3", "1/3"), ("17/12", "12/17")):
            once = typed(json.dumps(card_data(cards[0])), "--times", there, "--json")
            again = typed(once.out, "--times", back, "--json")
            assert valid(again.data, "batch")["card"] == card_data(cards[0]), file
            assert once.data["factor"] == there
        seen += 1
    assert seen > 30


def test_eight_people_twelve_and_eight_again(typed: Any) -> None:
    """From serves 8 to 12 is 1 1/2 times, and back to 8 gives the card it began with."""
    twelve = typed(BAKE, "--serves", "12", "--json")
    assert twelve.data["factor"] == "3/2"
    assert twelve.data["card"]["serves"] == {"low": "12", "high": "12"}
    assert typed(twelve.out, "--serves", "8", "--json").data["card"] == card_of(BAKE)


def test_a_pan_and_back(typed: Any) -> None:
    """From 13x9 to 8x8 goes by area, 64/117, and back gives the card it began with."""
    small = typed(BAKE, "--pan", "8x8 inch", "--json")
    assert small.data["factor"] == "64/117"
    assert typed(small.out, "--pan", "13x9 inch", "--json").data["card"] == card_of(BAKE)
    assert "by area" in cautions(small)
    assert "a depth is not said of both pans" in cautions(small)


def test_by_volume_where_both_depths_are_known(typed: Any) -> None:
    """13x9x2 to 8x8x2 goes by what published lists say they hold, and names the list."""
    deep = BAKE.replace("13x9 inch", "13x9x2 inch")
    answer = typed(deep, "--pan", "8x8x2", "--json")
    assert Fraction(answer.data["factor"]) == 8 / Fraction(29, 2)
    assert "by volume" in cautions(answer)
    assert "Extension" in cautions(answer)


def test_a_real_pipe(tmp_path: Path) -> None:
    """Two programs in a pipe, as a script has them: text in, three times, a third, the same card out."""
    command = [sys.executable, "-c", "from recipebox.cli.app import main; main()", "batch", "-", "--json", "--times"]
    once = subprocess.run([*command, "3"], input=BAKE.encode(), capture_output=True, check=True, cwd=tmp_path)
    again = subprocess.run([*command, "1/3"], input=once.stdout, capture_output=True, check=True, cwd=tmp_path)
    assert json.loads(again.stdout)["card"] == card_of(BAKE)


def test_half_a_batch_in_kitchen_measures(typed: Any) -> None:
    """Half of each line in measures a kitchen has, every other word where it was."""
    assert shown(typed(BAKE, "--times", "1/2", "--json")) == [
        "1 1/2 large eggs, beaten",
        "1/2 can (14 1/2 oz) chopped quinces, drained",
        "1 Tbsp chopped parsley",
        "3/4 cup all-purpose flour",
        "1 tsp baking powder",
        "1/4 tsp salt",
        "1/8 tsp black pepper",
        "4 fl oz milk",
        "1 1/2 cups cooked macaroni",
    ]


def test_what_does_not_halve_is_told(typed: Any) -> None:
    """Eggs, cans, leavening, salt, spice, the oven, the pan, what the method says, and what was assumed: each told."""
    told = cautions(typed(BAKE, "--times", "1/2", "--json"))
    for words in (
        "7: 1 1/2 eggs: use 1, then beat one and take about 1 Tbsp of it",
        "8: 1/2 can: open 1 and use 7 1/4 oz in all; 7 1/4 oz is left over",
        "11: baking powder: what makes it rise does not grow evenly",
        "12: salt: better too little than too much",
        "13: black pepper: strong spice",
        "4: Oven: the heat stays",
        '3: Pan: "13x9 inch" fits',
        '18: The method says "1 cup"',
        "14: milk: ounces are taken as fluid ounces, a guess",
        "taken as US ones",
        "15: cooked macaroni: cook about 3 oz dry (University of Nebraska-Lincoln Extension",
    ):
        assert words in told, told
    assert told.count("common practice, no source") >= 5
    assert "glass dish" not in told


def test_the_cards_own_batch_has_little_to_look_out_for(typed: Any) -> None:
    """Without a size the card is shown as it is: nothing of rising, salt, oven or pan is said."""
    answer = typed(BAKE, "--json")
    assert valid(answer.data, "batch")["factor"] == "1"
    assert answer.data["card"] == card_of(BAKE)
    assert not [
        one for one in answer.data["cautions"] if "common practice" in one["text"] and "ounces" not in one["text"]
    ]


def test_help_has_one_example_and_fits(recipebox: Type) -> None:
    """`batch --help` names --json, holds one example of itself and fits 80 columns."""
    answer = recipebox("batch", "--help")
    assert answer.code == 0
    assert "--json" in answer.out
    assert " ".join(answer.out.split()).count("Example: recipebox batch") == 1
    assert max(map(len, answer.out.splitlines())) <= 80


def test_one_pan_now_and_one_for_the_freezer(typed: Any) -> None:
    """A double batch is two pans, one of them frozen, with published guidance, its source, and no word of safe."""
    answer = typed(BAKE, "--times", "2", "--freeze", "1", "--json")
    pans = valid(answer.data, "batch")["pans"]
    assert [(one["for"], one["batch"], one["serves"]["low"], one["pan"]["text"]) for one in pans] == [
        ("now", "1", "8", "13x9 inch"),
        ("freezer", "1", "8", "13x9 inch"),
    ]
    published = [one for one in answer.data["cautions"] if "source" in one]
    assert any("in the freezer" in one["text"] for one in published)
    assert all(one["source"] in one["text"] and one["basis"] in ("seen", "memory", "checked") for one in published)
    assert not any(" safe " in one["text"].lower() or "is safe" in one["text"].lower() for one in published)


def test_freezing_splits_what_there_is(typed: Any) -> None:
    """Frozen alone, one batch becomes two halves; with a pan, so many pans of that size and one for now."""
    halves = typed(BAKE, "--freeze", "1", "--json").data
    assert (halves["factor"], [one["batch"] for one in halves["pans"]]) == ("1", ["1/2", "1/2"])
    assert halves["pans"][0]["pan"] is None
    assert any("Each pan gets 1/2 of the card's batch" in one["text"] for one in halves["cautions"])
    small = typed(BAKE, "--pan", "8x8 inch", "--freeze", "2", "--json").data
    assert small["factor"] == str(Fraction(3 * 64, 117))
    assert [(one["for"], one["pan"]["text"]) for one in small["pans"]] == [
        ("now", "8x8 inch"), ("freezer", "8x8 inch"), ("freezer", "8x8 inch"),
    ]  # fmt: skip
    assert small["card"]["pan"]["count"] == 3


def test_glass_in_place_of_metal_is_told_with_its_source(typed: Any) -> None:
    """University of Nebraska-Lincoln Extension: 25 F lower in glass (oven_marks.csv)."""
    told = cautions(typed(BAKE, "--pan", "13x9 inch glass dish", "--json"))
    assert "set the oven 25 F (14 C) lower (University of Nebraska-Lincoln Extension" in told


def test_for_the_cook(typed: Any) -> None:
    """Plain, 80 columns wide at most, with the error beside each line that is over 2 % off, and nowhere else."""
    answer = typed(BAKE.replace("3 large eggs", "4 large eggs"), "--times", "7/6")
    assert answer.code == 0
    assert max(map(len, answer.out.splitlines())) <= 80
    assert "1 1/6 times the card's batch" in answer.out
    lines = {line.strip() for line in answer.out.splitlines()}
    assert "4 2/3 large eggs, beaten" in lines
    assert "1 3/4 cups all-purpose flour" in lines
    for heading in ("Ingredients", "Method", "Look out"):
        assert heading in lines


def test_a_card_of_the_box(recipebox: Type, box: Path) -> None:
    """CARD is a path or words of one title; several that fit are listed, and no file is changed."""
    before = {path: path.read_bytes() for path in box.rglob("*.*") if ".recipebox" not in path.parts}
    by_path = recipebox("batch", "versions/carol-ann-fish-bake.txt", "--times", "2", "--json")
    assert valid(by_path.data, "batch")["card"]["serves"] == {"low": "12", "high": "12"}
    assert recipebox("batch", "carol-ann seeded soda bread", "--times", "2", "--json").code == 0
    assert recipebox("batch", "versions/nobody.txt", "--times", "2").code == 1
    several = recipebox("batch", "plum dumplings", "--times", "2")
    assert several.code == 1
    assert len(several.err.splitlines()) == 1
    assert {path: path.read_bytes() for path in box.rglob("*.*") if ".recipebox" not in path.parts} == before


def test_a_file_where_there_is_no_box(recipebox: Type, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A card file can be sized without any box around it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bake.txt").write_text(BAKE, encoding="utf-8")
    assert recipebox("batch", "bake.txt", "--times", "2", "--json").data["factor"] == "2"
    assert recipebox("batch", "gone.txt", "--times", "2").code == 1


@pytest.mark.parametrize(
    "words",
    [
        ["--times", "0"],
        ["--times", "-1"],
        ["--times", "101"],
        ["--times", "1/101"],
        ["--times", "1/0"],
        ["--times", "2-3"],
        ["--times", "lots"],
        ["--times", ""],
        ["--times", "nan"],
        ["--serves", "0"],
        ["--serves", "1000"],
        ["--pan", "large"],
        ["--pan", "0x9"],
        ["--pan", "1x1"],
        ["--pan", ""],
        ["--freeze", "0"],
        ["--freeze", "1.5"],
        ["--freeze", "101"],
        ["--freeze", "9" * 5000],
        ["--times", "2", "--serves", "4"],
    ],
)
def test_a_wrong_call_is_one_line_and_exit_2(typed: Any, words: list[str]) -> None:
    """A number outside 1/100 to 100, no number, no pan, or two sizes at once: said in one line, nothing on stdout."""
    answer = typed(BAKE, *words, "--json")
    assert (answer.code, answer.out, len(answer.err.splitlines())) == (2, "", 1), answer


@pytest.mark.parametrize(
    ("words", "factor"), [("2", "2"), ("1/2", "1/2"), ("0.5", "1/2"), ("1 1/2", "3/2"), ("½", "1/2")]
)
def test_numbers_as_a_person_types_them(typed: Any, words: str, factor: str) -> None:
    """2, 1/2, 0.5 and 1 1/2 are numbers."""
    assert typed(BAKE, "--times", words, "--json").data["factor"] == factor


@pytest.mark.parametrize(
    ("text", "words", "why"),
    [
        (BAKE.replace("serves: 8\n", ""), ["--serves", "4"], "does not say how many it serves"),
        (BAKE.replace("pan: 13x9 inch\n", "").replace("2-quart glass dish", "dish"), ["--pan", "8x8"], "names no pan"),
        (BAKE.replace("13x9 inch", "a big one"), ["--pan", "8x8"], "cannot tell how large"),
        ("", ["--times", "2"], "not a card"),
        ("Dear all, see you Sunday.", ["--times", "2"], "not a card"),
        ("{", ["--times", "2"], "cannot be read as JSON"),
        ('{"path": "a.txt", "trouble": "not a card: empty"}', ["--times", "2"], "not a card: empty"),
        ('{"ingredients": []}', ["--times", "2"], "is missing"),
        ('{"card": 5}', ["--times", "2"], "not a card as data"),
        (b"\x00\x01\x02", ["--times", "2"], "not a card"),
    ],
)
def test_what_cannot_be_sized_says_why_in_one_line(typed: Any, text: str | bytes, words: list[str], why: str) -> None:
    """A card without people or pan, and input that is no card: one clear line, exit 1, no guess."""
    answer = typed(text, *words, "--json")
    assert (answer.code, answer.out) == (1, "")
    assert len(answer.err.splitlines()) == 1
    assert why in answer.err


@pytest.mark.parametrize(
    ("key", "value"),
    [("amount", {"low": "1/0", "high": "1"}), ("amount", {"low": "1e999999", "high": "2"}), ("amount", {"low": 1.5}),
     ("amount", []), ("unit", {}), ("item", 7), ("text", None), ("container", {"low": "1"}), ("instead", 3),
     ("line", 1.5), ("line", "1")],
)  # fmt: skip
def test_data_that_is_no_card_is_one_clear_line(typed: Any, key: str, value: Any) -> None:
    """A fraction over zero, a float, a number without end or a word of another kind: said, and never a traceback."""
    data = card_of(BAKE)
    data["ingredients"][0][key] = value
    answer = typed(json.dumps(data), "--times", "2", "--json")
    assert (answer.code, answer.out, len(answer.err.splitlines())) == (1, "", 1), answer
    assert "not a card as data" in answer.err


@pytest.mark.parametrize(
    ("amount", "unit", "told"),
    [("0", "cup", "not above 0"), ("-2", "cup", "not above 0"), ("1000000000", "cup", "more than a kitchen holds"),
     ("2", "smoot", "no table knows the unit")],
)  # fmt: skip
def test_amounts_that_make_no_sense_are_told(typed: Any, amount: str, unit: str, told: str) -> None:
    """Nothing, less than nothing, 10^9 cups and an unknown unit: the line stands, a caution says what is wrong."""
    data = card_of(BAKE)
    data["ingredients"][3] |= {"amount": {"low": amount, "high": amount}, "unit": unit}
    answer = typed(json.dumps(data), "--times", "2", "--json")
    assert answer.code == 0
    line = data["ingredients"][3]["line"]
    assert [one for one in answer.data["cautions"] if one["line"] == line and told in one["text"]]
    if unit == "smoot":
        assert shown(answer)[3].startswith("4 smoots")


def test_a_range_of_people_is_counted_from_the_least(typed: Any) -> None:
    """A card for 6 to 8 made for 12 is doubled, so that there is enough, and says so."""
    answer = typed(BAKE.replace("serves: 8", "serves: 6 to 8"), "--serves", "12", "--json")
    assert answer.data["factor"] == "2"
    assert "serves 6 to 8: counted from 6" in cautions(answer)


def test_several_recipes_at_once_are_not_guessed_between(typed: Any) -> None:
    """Two cards on standard input: one line that names them."""
    two = "\n".join(json.dumps(card_of(BAKE.replace("Quince", name))) for name in ("Pear", "Plum"))
    answer = typed(two, "--times", "2")
    assert answer.code == 1
    assert "Pear and leek bake, Plum and leek bake" in answer.err
