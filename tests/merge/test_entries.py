"""Questions and choices in the text meet, whoever settles, opens, deletes or overwrites them, on three laptops."""

import os
import re
from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.merge import merge_card, settle, unsettle
from tests.merge.sides import cards, edited

PATH = "bake.txt"
LONG = os.environ.get("RECIPEBOX_LONG") == "1"


def card(data: bytes) -> Card:
    """The one recipe."""
    (only,) = read_cards(data, PATH)
    return only


@st.composite
def acts(draw: st.DrawFn, data: bytes) -> bytes:
    """What one person does with a card that asks something: settles, opens again, deletes an entry, edits a line."""
    for _ in range(draw(st.integers(1, 2))):
        now = card(data)
        entries = [*now.undecided, *now.settled]
        kind = draw(st.sampled_from(["settle", "settle", "open", "delete", "line", "title"]))
        if kind == "line":
            lines = data.split(b"\n")
            at = draw(st.sampled_from([ingredient.line for ingredient in now.ingredients])) - 1
            lines[at] = re.sub(rb"\d+", draw(st.sampled_from([b"7", b"9"])), lines[at], count=1)
            data = b"\n".join(lines)
        elif kind == "title":
            data = data.replace(b"Harbour", draw(st.sampled_from([b"Best", b"Old"])), 1)
        elif entries:
            entry = draw(st.sampled_from(entries))
            if kind == "settle":
                data = settle(data, PATH, entry.about, draw(st.integers(0, len(entry.wordings) - 1)))
            elif kind == "open":
                data = unsettle(data, PATH, entry.about)
            else:
                words = "".join(f"    - {'chosen: ' if w.chosen else ''}{w.text}\n" for w in entry.wordings)
                data = data.replace(f"  {entry.about}\n{words}".encode(), b"")
                data = re.sub(rb"\n\n(?:Undecided|Settled)\n(?=\n|\Z)", b"\n", data)
    return data


@st.composite
def quarrels(draw: st.DrawFn) -> tuple[bytes, list[bytes]]:
    """A card with a question in it, or several, and what three people do with it."""
    base = draw(cards())
    about = draw(st.sets(st.sampled_from(["title", "serves", "amount", "step"]), min_size=1))
    sides = []
    for mine in "57":
        made = base
        if "title" in about:
            made = replace(made, title=f"Harbour Bake {mine}")
        if "serves" in about:
            made = replace(made, serves=mine)
        if "amount" in about:
            made = replace(made, lines=((mine, *made.lines[0][1:]), *made.lines[1:]))
        if "step" in about:
            made = replace(made, steps=(f"{made.steps[0]} Twice {mine}.", *made.steps[1:]))
        sides.append(draw(edited(made, ("note", "tags", "preparation", "add"))).text())
    asked = merge_card(base.text(), sides, PATH)
    assert card(asked).undecided
    return asked, [draw(acts(asked)) for _ in range(3)]


@settings(max_examples=1000 if LONG else 15)
@given(quarrels())
def test_choices_meet_in_any_order(quarrel: tuple[bytes, list[bytes]]) -> None:
    """Any order of three, once more by any of them, and two before the third: the same bytes."""
    base, sides = quarrel
    merged = merge_card(base, sides, PATH)
    assert all(merge_card(base, order, PATH) == merged for order in permutations(sides))
    assert all(merge_card(base, [merged, side], PATH) == merged for side in sides)


@settings(max_examples=1000 if LONG else 15)
@given(quarrels())
def test_an_entry_is_settled_by_exactly_one_choice(quarrel: tuple[bytes, list[bytes]]) -> None:
    """Settled has entries with one chosen wording, which the body has; Undecided all others, the body on the first."""
    base, sides = quarrel
    if len({*sides, base}) < 3:
        return  # one person's bytes stand as they are, also where a line was changed and its entry left
    found = card(merge_card(base, sides, PATH))
    body = [found.title, *(i.text for i in found.ingredients), *(s.text for s in found.steps)]
    body += [header.value for header in found.headers]
    for entry in found.settled:
        (chosen,) = [w.text for w in entry.wordings if w.chosen]
        assert chosen in body or chosen == "leave out"
    for entry in found.undecided:
        assert sum(w.chosen for w in entry.wordings) != 1
        assert entry.wordings[0].text in body
        rest = [w.text for w in entry.wordings if w.text != "leave out"]
        assert rest == sorted(rest, key=str.encode)
