"""Renewal, on generated families with edits of versions and of the family's card."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.cards.ingredient import read_ingredient
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards
from recipebox.family import Choices, Proposal, propose_new, renew
from tests.family.making import version

_PATH = "family/tray-supper.txt"
_THINGS = ("potatoes", "white beans", "spinach", "pumpkin", "ham", "rice")


def _versions(extra: tuple[str, ...] = ()) -> list[Card]:
    steps = [f"Cook the {thing} in its own time." for thing in _THINGS]
    lines = [f"{100 * number} g {thing}" for number, thing in enumerate(_THINGS, start=1)]
    cards = [version(name, lines, [*steps, f"Bake it as {name} does."]) for name in ("Ada", "Bo", "Cleo")]
    return [replace(card, ingredients=(*card.ingredients, *map(read_ingredient, extra))) for card in cards]


def _with_line(card: Card, thing: str, text: str | None) -> Card:
    lines = [line for line in card.ingredients if line.item != thing or text is not None]
    changed = [replace(read_ingredient(text), line=one.line) if one.item == thing and text else one for one in lines]
    return replace(card, ingredients=tuple(changed))


def _propose(cards: list[Card], base: str) -> Proposal:
    return propose_new("Tray Supper", cards, path=_PATH, choices=Choices(start_from=base))


def _listed(text: bytes) -> list[str]:
    return [line.text for line in read_cards(text, _PATH)[0].ingredients]


@given(
    st.sets(st.sampled_from(_THINGS), max_size=3),
    st.sets(st.sampled_from(_THINGS), max_size=3),
)
@settings(max_examples=30)
def test_new_things_come_in_and_hand_edits_stay(by_version: set[str], by_hand: set[str]) -> None:
    """A thing the base's cook changed comes in unless the family changed that line; nothing is undecided or lost."""
    cards = _versions()
    base = cards[0].called
    old = _propose(cards, base)
    current = old.text
    for thing in by_hand:
        was = next(line.text for line in old.card.ingredients if line.item == thing)
        current = current.replace(f"  {was}\n".encode(), f"  999 g {thing}\n".encode())
    edited = [cards[0], *cards[1:]]
    for thing in by_version:
        edited[0] = _with_line(edited[0], thing, f"777 g {thing}")
    new = _propose(edited, base)
    renewed = renew(old, new, current, _PATH)
    for line in old.card.ingredients:
        wanted = line.text
        if line.item in by_hand:
            wanted = f"999 g {line.item}"
        elif line.item in by_version:
            wanted = f"777 g {line.item}"
        assert wanted in _listed(renewed.text)
    assert len(_listed(renewed.text)) == len(_THINGS)
    assert renewed.card.undecided == ()
    assert renewed.changed == bool(by_version - by_hand)
    offered = {found.swap.instead for found in renewed.offers if found.swap.source is None}
    assert offered == {f"777 g {thing}" for thing in by_version & by_hand}
    assert renew(new, new, renewed.text, _PATH).text == renewed.text


def test_a_line_taken_out_by_hand_stays_out() -> None:
    """What the family took out of its card does not come back when its version changes it."""
    cards = _versions()
    old = _propose(cards, cards[0].called)
    current = old.text.replace(b"  500 g ham\n", b"")
    edited = [_with_line(cards[0], "ham", "450 g ham"), *cards[1:]]
    edited[0] = _with_line(edited[0], "rice", "650 g rice")
    renewed = renew(old, _propose(edited, cards[0].called), current, _PATH)
    assert "650 g rice" in _listed(renewed.text)
    assert not [line for line in _listed(renewed.text) if "ham" in line]


def test_the_familys_own_lines_notes_and_layout_stay() -> None:
    """A line, a note and a section written by hand stand after a renewal; only changed lines differ."""
    cards = _versions()
    old = _propose(cards, cards[0].called)
    current = old.text.replace(b"\nMethod\n", b"  1 tsp caraway, our own\n\nMethod\n")
    current = current.replace(b"\nVersions\n", b"\nNotes\n  Easter 2025: went well\n\nVersions\n")
    edited = [_with_line(cards[0], "rice", "650 g rice"), *cards[1:]]
    renewed = renew(old, _propose(edited, cards[0].called), current, _PATH)
    assert renewed.text == current.replace(b"600 g rice", b"650 g rice")
    own = [line for line in renewed.lines if line.text == "1 tsp caraway, our own"]
    assert [line.sources for line in own] == [()]


def test_nothing_new_gives_the_cards_own_bytes() -> None:
    """However the family laid its card out, with nothing new in the versions not a byte of it changes."""
    cards = _versions()
    old = _propose(cards, cards[0].called)
    current = old.text.replace(b"\n", b"\r\n").replace(b"Method", b"METHOD:") + b"\r\nsome words of our own\r\n"
    renewed = renew(old, old, current, _PATH)
    assert (renewed.text, renewed.changed) == (current, False)


def test_steps_renew_one_by_one() -> None:
    """A step a version's cook changed comes in; one the family changed by hand stays, and the new one is offered."""
    cards = _versions()
    base = cards[0].called
    old = _propose(cards, base)
    hand = old.text.replace(b"Cook the ham in its own time.", b"Cook the ham our way.")
    steps = [
        replace(step, text=step.text.replace("in its own time", "quickly")) if "ham" in step.text or "rice" in step.text
        else step
        for step in cards[0].steps
    ]  # fmt: skip
    renewed = renew(old, _propose([replace(cards[0], steps=tuple(steps)), *cards[1:]], base), hand, _PATH)
    texts = [step.text for step in renewed.card.steps]
    assert "Cook the rice quickly." in texts and "Cook the ham our way." in texts
    assert len(texts) == len(old.card.steps) and renewed.card.undecided == ()
    assert "Cook the ham quickly." in {found.swap.instead for found in renewed.offers}


def test_headers_and_two_lines_of_one_thing_are_told_apart() -> None:
    """A hand edit of one of two lines of a thing, or of a header, holds; the other line and headers renew."""
    cards = [
        replace(card, ingredients=(*card.ingredients, read_ingredient("50 g rice, for the top")))
        for card in _versions()
    ]
    base = cards[0].called
    old = _propose(cards, base)
    hand = old.text.replace(b"50 g rice, for the top", b"70 g rice, for the top").replace(b"serves: 6", b"serves: 7")
    edited = _with_line(cards[0], "ham", "450 g ham")
    lines = [
        replace(read_ingredient("620 g rice"), line=line.line) if line.text == "600 g rice" else line
        for line in edited.ingredients
    ]
    eight = read_cards(old.text.replace(b"serves: 6", b"serves: 8"), _PATH)[0].serves
    new = _propose([replace(edited, ingredients=tuple(lines), serves=eight), *cards[1:]], base)
    renewed = renew(old, new, hand, _PATH)
    assert {"450 g ham", "620 g rice", "70 g rice, for the top"} <= set(_listed(renewed.text))
    assert b"serves: 7\n" in renewed.text and renewed.card.undecided == ()
