"""Merging cards: the algebra's promises hold on whole texts, and the stories a family would tell come out right."""

import os
from itertools import permutations
from unicodedata import normalize

import pytest
from hypothesis import given, settings

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.merge import UnmergeableError, merge_card
from tests.merge.sides import meetings

LONG = os.environ.get("RECIPEBOX_LONG") == "1"
PATH = "versions/bake.txt"
EXAMPLES = 2000 if LONG else 30
"""The promises that merge many times over: `RECIPEBOX_LONG=1` tries them long."""
BASE = """Harbour Fish Bake
from: Brigid
serves: 6
tags: casserole, fish

Ingredients
  2 cups flour
  1 lb white fish, in chunks
  1/2 tsp nutmeg
  1 1/4 cups Gruyère cheese, grated

Topping
  2 cups bread crumbs

Method
  1. Heat the oven to 425 F.
  2. Mix the flour, the nutmeg and the fish.
  3. Bake for 25 minutes with the cheese and the topping.

Notes
  Too salty at Easter.
""".encode()


def edit(*changes: tuple[str, str], base: bytes = BASE) -> bytes:
    """The base with words exchanged, each of which must be there."""
    for old, new in changes:
        assert old.encode() in base
        base = base.replace(old.encode(), new.encode())
    return base


def card(data: bytes) -> Card:
    """The one recipe of a text."""
    (only,) = read_cards(data, PATH)
    return only


def lines(data: bytes) -> list[str]:
    """The ingredient lines as they stand."""
    return [ingredient.text for ingredient in card(data).ingredients]


def entries(data: bytes) -> dict[str, list[str]]:
    """What is undecided: about -> wordings."""
    return {entry.about: [w.text for w in entry.wordings] for entry in card(data).undecided}


@given(meetings())
def test_sides_commute(meeting: tuple[bytes, list[bytes]]) -> None:
    """merge(base, a, b) = merge(base, b, a), byte for byte."""
    base, (a, b) = meeting
    assert merge_card(base, [a, b], PATH) == merge_card(base, [b, a], PATH)


@given(meetings())
def test_a_side_alone_keeps_its_bytes(meeting: tuple[bytes, list[bytes]]) -> None:
    """merge(base, a, a) = merge(base, a, base) = a, and nobody's change leaves the base."""
    base, (a, _) = meeting
    assert merge_card(base, [a, a], PATH) == merge_card(base, [a, base], PATH) == a
    assert merge_card(base, [base, base], PATH) == base


@settings(max_examples=EXAMPLES)
@given(meetings(layouts=1))
def test_merging_again_changes_nothing(meeting: tuple[bytes, list[bytes]]) -> None:
    """The result met once more by either side, or by the other as base, stays as it is.

    With two sides that both lay the card out anew the words still stand; whose layout is kept may then differ.
    """
    base, (a, b) = meeting
    merged = merge_card(base, [a, b], PATH)
    for side in (a, b):
        assert merge_card(base, [merged, side], PATH) == merged
        assert merge_card(side, [merged, side], PATH) == merged
    assert merge_card(base, [merged, a, b], PATH) == merged


@settings(max_examples=EXAMPLES)
@given(meetings(sides=3))
def test_three_sides_in_any_order(meeting: tuple[bytes, list[bytes]]) -> None:
    """All orders of three sides in one merge give the same bytes."""
    base, sides = meeting
    assert len({merge_card(base, order, PATH) for order in permutations(sides)}) == 1


@given(meetings())
def test_no_written_line_is_lost(meeting: tuple[bytes, list[bytes]]) -> None:
    """Every step, note, title and ingredient that a side wrote new stands in the card or in Undecided."""
    base, sides = meeting
    merged = card(merge_card(base, sides, PATH))
    before = card(base)
    asked = {_plain(w.text) for entry in (*merged.undecided, *merged.settled) for w in entry.wordings}
    notes = " ".join(_plain(note.text) for note in merged.notes)
    for side in map(card, sides):
        steps = {_plain(step.text) for step in side.steps} - {_plain(step.text) for step in before.steps}
        assert steps <= {_plain(step.text) for step in merged.steps} | asked
        known = _plain(" ".join(note.text for note in before.notes))
        for sentence in " ".join(_plain(note.text) for note in side.notes).split("."):
            assert sentence.strip() in known or sentence.strip() in notes
        assert side.title == before.title or side.title in {merged.title} | asked
        old = {(_plain(i.item), i.amount, i.unit) for i in before.ingredients}
        told = " / ".join([_plain(i.item) for i in merged.ingredients] + sorted(asked))
        for ingredient in side.ingredients:
            if (_plain(ingredient.item), ingredient.amount, ingredient.unit) not in old:
                assert _plain(ingredient.item) in told


@given(meetings())
def test_a_merged_card_is_a_card(meeting: tuple[bytes, list[bytes]]) -> None:
    """The result is read again without trouble; no thing stands twice, steps are numbered through."""
    base, sides = meeting
    merged = merge_card(base, sides, PATH)
    found = card(merged)
    things = [i.item for i in found.ingredients]
    assert len(things) == len(set(things))
    numbers = [
        line.split(b".")[0].strip() for line in merged.splitlines() if line.strip()[:1].isdigit() and b". " in line
    ]
    assert [n for n in numbers if n.isdigit()] == [str(n).encode() for n in range(1, len(found.steps) + 1)]


def test_facts_of_a_line_merge_apart() -> None:
    """One changes the amount, another the preparation: both changes stand in one line, nothing is asked."""
    merged = merge_card(
        BASE, [edit(("2 cups flour", "3 cups flour")), edit(("2 cups flour", "2 cups flour, sifted"))], PATH
    )
    assert lines(merged)[0] == "3 cups flour, sifted"
    assert not entries(merged)


def test_a_quarrel_is_an_entry_in_byte_order() -> None:
    """Two amounts of one thing: both wordings whole, the body on the first."""
    merged = merge_card(BASE, [edit(("2 cups flour", "4 cups flour")), edit(("2 cups flour", "3 cups flour"))], PATH)
    assert entries(merged) == {"flour": ["3 cups flour", "4 cups flour"]}
    assert lines(merged)[0] == "3 cups flour"


def test_amount_and_unit_come_from_one_side() -> None:
    """One changes the number, another the unit: never the number of one with the unit of the other."""
    merged = merge_card(BASE, [edit(("2 cups flour", "3 cups flour")), edit(("2 cups flour", "250 g flour"))], PATH)
    assert entries(merged) == {"flour": ["250 g flour", "3 cups flour"]}


def test_delete_against_edit() -> None:
    """Who took a line away is a wording too, the last."""
    merged = merge_card(BASE, [edit(("2 cups flour", "3 cups flour")), edit(("  2 cups flour\n", ""))], PATH)
    assert entries(merged) == {"flour": ["3 cups flour", "leave out"]}


def test_delete_against_nothing_goes() -> None:
    """A line one side took away and nobody touched is gone, though another wrote the same amount otherwise."""
    merged = merge_card(
        BASE, [edit(("  1/2 tsp nutmeg\n", ""), (", the nutmeg", "")), edit(("1/2 tsp", "0.5 tsp"))], PATH
    )
    assert not any("nutmeg" in line for line in lines(merged))
    assert not entries(merged)


@pytest.mark.parametrize(
    "same",
    [
        edit(("1/2 tsp", "0.5 teaspoons")),
        edit(("2 cups flour\n  1 lb white fish, in chunks\n", "1 lb white fish, in chunks\n  2 cups flour\n")),
        edit(("3. Bake for 25 minutes with", "3. Bake for 25 minutes\n     with")),
        BASE.replace(b"\n", b"\r\n"),
        normalize("NFD", BASE.decode()).encode(),
        edit(("Ingredients\n", "INGREDIENTS:\n")),
        edit(("  2 cups", "- 2 cups"), ("  1 lb", "- 1 lb"), ("  1/2 tsp", "- 1/2 tsp"), ("  1 1/4", "- 1 1/4")),
    ],
)
def test_meaning_equal_never_quarrels(same: bytes) -> None:
    """Another way to write it meets another person's real change of the same lines without a question."""
    other = edit(("1/2 tsp nutmeg", "1 tsp nutmeg"), ("25 minutes", "30 minutes"), ("2 cups flour", "3 cups flour"))
    merged = merge_card(BASE, [same, other], PATH)
    assert not entries(merged)
    assert sorted(map(_plain, lines(merged))) == sorted(map(_plain, lines(other)))
    assert [step.text for step in card(merged).steps] == [step.text for step in card(other).steps]


def test_tags_and_notes_are_unions_against_the_base() -> None:
    """What one side took out and the other left alone goes; what either added stays."""
    a = edit(("tags: casserole, fish", "tags: casserole"), ("  Too salty at Easter.\n", "  Good with peas.\n"))
    b = edit(("tags: casserole, fish", "tags: casserole, fish, quick"), ("Easter.\n", "Easter.\n  Freezes well.\n"))
    merged = card(merge_card(BASE, [a, b], PATH))
    assert set(merged.tags) == {"casserole", "quick"}
    notes = " ".join(note.text for note in merged.notes)
    assert "salty" not in notes
    assert "peas" in notes
    assert "Freezes" in notes


def doubled(times: int = 2) -> bytes:
    """The base, whole, twice or three times as much."""
    amounts = {
        2: ("4 cups", "2 lb", "1 tsp", "2 1/2 cups", "4 cups"),
        3: ("6 cups", "3 lb", "1 1/2 tsp", "3 3/4 cups", "6 cups"),
    }
    flour, fish, nutmeg, cheese, crumbs = amounts[times]
    return edit(
        ("2 cups bread", f"{crumbs} bread"), ("2 cups flour", f"{flour} flour"), ("1 lb", fish), ("1/2 tsp", nutmeg),
        ("1 1/4 cups", cheese), ("serves: 6", f"serves: {6 * times}"),
    )  # fmt: skip


def test_an_edit_is_carried_over_to_the_doubled_batch() -> None:
    """One side doubles the card, the other edits an amount and adds a line: both come in the doubled batch."""
    other = edit(("2 cups flour", "3 cups flour"), ("  1/2 tsp nutmeg\n", "  1/2 tsp nutmeg\n  1 tsp salt\n"))
    merged = merge_card(BASE, [other, doubled()], PATH)
    assert not entries(merged)
    assert {"6 cups flour", "2 tsp salt", "2 lb white fish, in chunks"} <= set(lines(merged))
    serves = card(merged).serves
    assert serves is not None
    assert serves.low == 12


def test_two_batches_are_one_question() -> None:
    """Both rescale differently: one entry about the batch, the body wholly on the first."""
    merged = merge_card(BASE, [doubled(3), doubled(2)], PATH)
    assert entries(merged) == {"batch": ["serves 12", "serves 18"]}
    assert lines(merged) == lines(doubled(2))


def test_no_ingredient_twice_by_accident() -> None:
    """One puts margarine in butter's place, another adds margarine: one line, and a question."""
    base = edit(("2 cups flour", "2 cups butter"))
    a = edit(("2 cups butter", "2 cups margarine"), base=base)
    b = edit(("  1/2 tsp nutmeg\n", "  1/2 tsp nutmeg\n  1 cup margarine\n"), base=base)
    merged = merge_card(base, [a, b], PATH)
    assert [line for line in lines(merged) if "margarine" in line] == ["1 cup margarine"]
    assert ["1 cup margarine", "2 cups margarine"] in entries(merged).values()


def test_no_step_without_its_ingredient() -> None:
    """One takes the nutmeg out, another writes a step about it: the nutmeg stays, in question."""
    a = edit(("  1/2 tsp nutmeg\n", ""), ("Mix the flour, the nutmeg and the fish.", "Mix the flour and the fish."))
    b = edit(("the topping.\n", "the topping.\n  4. Grate more nutmeg over it.\n"))
    merged = merge_card(BASE, [a, b], PATH)
    assert "1/2 tsp nutmeg" in lines(merged)
    assert entries(merged)["nutmeg"] == ["1/2 tsp nutmeg", "leave out"]


def test_a_new_layout_takes_the_other_sides_words() -> None:
    """One side lays the card out as Markdown, the other edits: her words stand in his layout, Undecided too."""
    markdown = """# Harbour Fish Bake

from: Brigid
serves: 6
tags: casserole, fish

## Ingredients

- 2 cups flour
- 1 lb white fish, in chunks
- 1/2 tsp nutmeg
- 1 1/4 cups Gruyère cheese, grated

### Topping

- 2 cups bread crumbs

## Method

1. Heat the oven to 425 F.
2. Mix the flour, the nutmeg and the fish.
3. Bake for 40 minutes with the cheese and the topping.

## Notes

Too salty at Easter.
""".encode()
    merged = merge_card(BASE, [markdown, edit(("2 cups flour", "3 cups flour"), ("25 minutes", "30 minutes"))], PATH)
    assert b"- 3 cups flour\n" in merged
    assert b"## Undecided\n" in merged
    assert entries(merged)["step: Bake for 25 minutes with the"][0].startswith("Bake for 30")


def test_made_apart() -> None:
    """Without a base both cards' lines stand, what is alike once, and amounts that differ are asked."""
    a, b = edit(("2 cups flour", "3 cups flour")), edit(("1/2 tsp nutmeg", "1 tsp salt"))
    merged = merge_card(None, [a, b], PATH)
    assert merge_card(None, [b, a], PATH) == merged
    assert {"1 tsp salt", "1/2 tsp nutmeg", "1 lb white fish, in chunks"} <= set(lines(merged))
    assert entries(merged)["flour"] == ["2 cups flour", "3 cups flour"]
    assert len(card(merged).steps) == 3


def test_what_is_no_card_is_refused() -> None:
    """A side that is no card, and files with other numbers of recipes, raise named errors for the caller."""
    with pytest.raises(NotACardError):
        merge_card(BASE, [edit(("2 cups", "3 cups")), b"milk\n"], PATH)
    two = BASE + b"\n\n# Second Bake\n\nIngredients\n- 1 cup rice\n- 2 cups milk\n\nMethod\n1. Boil.\n2. Serve.\n"
    if len(read_cards(two, PATH)) == 2:
        with pytest.raises(UnmergeableError):
            merge_card(BASE, [edit(("2 cups flour", "3 cups flour")), two], PATH)


def _plain(text: str) -> str:
    return normalize("NFC", text)
