"""Merging cards: the algebra's promises hold on whole texts, and the stories a family would tell come out right."""

import os
from dataclasses import replace
from fractions import Fraction
from itertools import permutations
from unicodedata import normalize

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recipebox.cards.data import card_data
from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.merge import UnmergeableError, merge_card, settle
from recipebox.merge.wording import scaled
from tests.merge.sides import cards, edited, meetings

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


def met(base: bytes, sides: list[bytes]) -> bytes:
    """The merge of a base's sides; sides that together took all of the card away are another test's."""
    try:
        return merge_card(base, sides, PATH)
    except UnmergeableError as error:
        assume("would be no card" not in str(error))
        raise


def entries(data: bytes) -> dict[str, list[str]]:
    """What is undecided: about -> wordings."""
    return {entry.about: [w.text for w in entry.wordings] for entry in card(data).undecided}


@given(meetings())
def test_sides_commute(meeting: tuple[bytes, list[bytes]]) -> None:
    """merge(base, a, b) = merge(base, b, a), byte for byte."""
    base, (a, b) = meeting
    assert met(base, [a, b]) == merge_card(base, [b, a], PATH)


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
    merged = met(base, [a, b])
    for side in (a, b):
        assert merge_card(base, [merged, side], PATH) == merged
        assert merge_card(side, [merged, side], PATH) == merged
    assert merge_card(base, [merged, a, b], PATH) == merged


@settings(max_examples=EXAMPLES)
@given(meetings(sides=3))
def test_three_sides_in_any_order(meeting: tuple[bytes, list[bytes]]) -> None:
    """All orders of three sides in one merge give the same bytes."""
    base, sides = meeting
    met(base, sides)
    assert len({merge_card(base, order, PATH) for order in permutations(sides)}) == 1


@settings(max_examples=EXAMPLES // 2)
@given(meetings(sides=4))
def test_four_sides_in_any_order(meeting: tuple[bytes, list[bytes]]) -> None:
    """Orders of four sides in one merge give the same bytes."""
    base, sides = meeting
    merged = met(base, sides)
    for order in list(permutations(sides))[5::6]:
        assert merge_card(base, order, PATH) == merged


@settings(max_examples=EXAMPLES // 2)
@given(meetings(sides=3, layouts=1))
def test_three_sides_one_after_another(meeting: tuple[bytes, list[bytes]]) -> None:
    """Met two by two in any order: the same title, headers, ingredients, notes, steps and questions as all at once.

    Only where the new steps of two come in between the same two lines may hang on who met first; and on a card of two
    lines two people's edits may together look like one who made it smaller, which is then asked about.
    """
    base, (a, b, c) = meeting
    whole = met(base, [a, b, c])
    for first, second, third in ((a, b, c), (a, c, b), (b, c, a)):
        merged = met(base, [met(base, [first, second]), third])
        assume("batch" not in entries(merged))
        assert _content(merged) == _content(whole)


def _content(data: bytes) -> dict[str, object]:
    found = card_data(card(data))
    bare = [str({key: value for key, value in line.items() if key != "line"}) for line in found["ingredients"]]
    words = sorted(" ".join(note["text"] for note in found["notes"]).split())
    steps = sorted(step["text"] for step in found["steps"])
    kept = {key: found[key] for key in ("title", "serves", "undecided", "settled")}
    return {**kept, "tags": sorted(found["tags"]), "ingredients": sorted(bare), "notes": words, "steps": steps}


@given(meetings())
def test_no_written_line_is_lost(meeting: tuple[bytes, list[bytes]]) -> None:
    """Every step, note, title and ingredient that a side wrote new stands in the card or in Undecided."""
    base, sides = meeting
    merged = card(met(base, sides))
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
    merged = met(base, sides)
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


RYE = b"""Rye Bread

Ingredients
  500 g rye flour
  400 ml water
  10 g salt

Method
  1. Mix and leave overnight.
  2. Bake.
"""


def test_a_batch_may_grow_into_other_units() -> None:
    """500 g becomes 1 kg: a card without `serves` is seen to be doubled, and the other's 420 ml come as 840 ml."""
    twice = edit(("500 g", "1 kg"), ("400 ml", "800 ml"), ("10 g", "20 g"), base=RYE)
    other = edit(("400 ml", "420 ml"), base=RYE)
    merged = merge_card(RYE, [twice, other], PATH)
    assert not entries(merged)
    assert lines(merged) == ["1 kg rye flour", "840 ml water", "20 g salt"]
    assert merge_card(RYE, [merged, other], PATH) == merge_card(RYE, [merged, twice], PATH) == merged


@pytest.mark.parametrize(
    ("base", "edits", "body"),
    [
        (RYE, (("400 ml", "420 ml"), ("10 g", "11 g")), ["500 g rye flour", "420 ml water", "11 g salt"]),
        (RYE.replace(b"  10 g salt\n", b""), (("400 ml", "420 ml"),), ["500 g rye flour", "420 ml water"]),
    ],
)
def test_a_batch_that_cannot_be_told_again_is_asked(
    base: bytes, edits: tuple[tuple[str, str], ...], body: list[str]
) -> None:
    """With so much edited that the doubling would not be seen again: one entry, the body wholly on its first wording.

    Meeting either side once more changes nothing, and the choice of the other wording brings the whole card to it.
    """
    twice = base.replace(b"500 g", b"1 kg").replace(b"400 ml", b"800 ml").replace(b"10 g", b"20 g")
    other = edit(*edits, base=base)
    merged = merge_card(base, [twice, other], PATH)
    assert entries(merged) == {"batch": ["times 1", "times 2"]}
    assert lines(merged) == body
    for side in (twice, other):
        assert merge_card(base, [merged, side], PATH) == merged
    settled = settle(merged, PATH, "batch", "times 2")
    assert lines(settled) == [scaled(line, Fraction(2)) for line in body]
    again = merge_card(base, [settled, twice, other], PATH)
    assert not entries(again)
    assert "840 ml water" in lines(again)
    assert merge_card(merged, [settled, merged + b"\nNotes\n  Good.\n"], PATH).startswith(
        settled[: settled.index(b"Settled")]
    )


def test_both_made_a_line_the_same() -> None:
    """A line that the other side brought to the very amount it has on the doubled batch is not doubled again."""
    twice = edit(("500 g", "1 kg"), ("400 ml", "800 ml"), ("10 g", "20 g"), base=RYE)
    merged = merge_card(RYE, [twice, edit(("10 g", "20 g"), base=RYE)], PATH)
    assert merged == twice


@st.composite
def rescalings(draw: st.DrawFn) -> tuple[bytes, list[bytes], Fraction]:
    """A base, a side that made it whole some times as much (told by `serves` or not), and one or two edits of it."""
    base = draw(cards())
    factor = draw(st.sampled_from((Fraction(2), Fraction(3), Fraction(1, 2))))
    grown = tuple((scaled(f"{amount} g rice", factor).split(" g ")[0], *rest) for amount, *rest in base.lines)
    serves = str(int(6 * factor)) if draw(st.booleans()) else base.serves
    twice = replace(base, lines=grown, serves=serves).text()
    kinds = ("amount", "preparation", "step", "note", "tags")
    return base.text(), [twice, *(draw(edited(base, kinds)).text() for _ in range(draw(st.integers(1, 2))))], factor


@settings(max_examples=EXAMPLES)
@given(rescalings())
def test_one_rescales_the_others_edit(meeting: tuple[bytes, list[bytes], Fraction]) -> None:
    """In any order the same bytes; met again by any side nothing changes; nothing stands on a batch nobody chose.

    Every amount nobody edited stands on one and the same batch, told by the first wording where it is asked.
    """
    base, sides, factor = meeting
    merged = merge_card(base, sides, PATH)
    assert {merge_card(base, order, PATH) for order in permutations(sides)} == {merged}
    for side in sides:
        assert merge_card(base, [merged, side], PATH) == merged
    assert merge_card(base, [merged, *sides], PATH) == merged
    before, now = (_amounts(text) for text in (base, merged))
    untouched = [item for item in before if all(_amounts(side).get(item) == before[item] for side in sides[1:])]
    if len(before) > 2:
        ratios = {now[item][0] / before[item][0] for item in untouched}
        assert len(ratios) <= 1
        assert ratios <= {factor, Fraction(1)}


def _amounts(data: bytes) -> dict[str, tuple[Fraction, str | None]]:
    return {i.item: (i.amount.low, i.unit) for i in card(data).ingredients if i.amount}


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


def test_sides_that_take_all_away_together_are_for_the_caller() -> None:
    """Each takes another of the two lines and a step: what would be left is no card, and a named error says so."""
    base = b"Bake\n\nIngredients\n  1 cup flour\n  1 cup rice\n\nMethod\n  1. Heat the oven.\n  2. Mix and bake.\n"
    a = base.replace(b"  1 cup flour\n", b"")
    b = base.replace(b"  1 cup rice\n", b"").replace(b"  1. Heat the oven.\n  2.", b"  1.")
    with pytest.raises(UnmergeableError, match="no card"):
        merge_card(base, [a, b], PATH)


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
