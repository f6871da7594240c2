"""Renewing agrees with a plain line merge in text fields, where both are clean.

Source: the `merge3` package (Canonical's three-way line merge, as used by Breezy), an implementation not ours.
"""

from dataclasses import replace

import merge3
from hypothesis import event, given, settings
from hypothesis import strategies as st

from recipebox.cards.model import Card, Passage
from recipebox.cards.reader import read_cards
from recipebox.family import Choices, propose_new, renew
from recipebox.family.sentences import said
from tests.family.making import version

_PATH = "family/tray-supper.txt"
_THINGS = ("potatoes", "white beans", "spinach", "pumpkin", "ham", "rice")
_WAYS = ("in its own time", "slowly", "in a wide pan", "with the lid on", "until soft")


def _versions(ways: list[str]) -> list[Card]:
    lines = [f"{100 * number} g {thing}" for number, thing in enumerate(_THINGS, start=1)]
    steps = [f"Cook the {thing} {way}." for thing, way in zip(_THINGS, ways, strict=True)]
    first = version("Ada", lines, steps)
    return [first, *(replace(version(name, lines, steps), path=f"versions/{name}.txt") for name in ("Bo", "Cleo"))]


def _edits(draw: st.DrawFn, ways: list[str]) -> list[str]:
    at = draw(st.sets(st.integers(0, len(_THINGS) - 1), max_size=2))
    return [draw(st.sampled_from(_WAYS)) if number in at else way for number, way in enumerate(ways)]


@st.composite
def _meetings(draw: st.DrawFn) -> tuple[list[str], list[str], list[str]]:
    ways = [draw(st.sampled_from(_WAYS)) for _ in _THINGS]
    return ways, _edits(draw, ways), _edits(draw, ways)


@given(_meetings())
@settings(max_examples=60, deadline=None)
def test_steps_renew_as_a_line_merge_does(meeting: tuple[list[str], list[str], list[str]]) -> None:
    """Steps that the family changed by hand and steps that a version changed come together as merge3 has them."""
    ways, by_hand, by_version = meeting
    cards = _versions(ways)
    chosen = Choices(start_from=cards[0].called)
    old = propose_new("Tray Supper", cards, path=_PATH, choices=chosen)
    hand = old.text.decode()
    for thing, was, now in zip(_THINGS, ways, by_hand, strict=True):
        hand = hand.replace(f"Cook the {thing} {was}.", f"Cook the {thing} {now}.")
    edited = [replace(cards[0], steps=_versions(by_version)[0].steps), *cards[1:]]
    new = propose_new("Tray Supper", edited, path=_PATH, choices=chosen)
    renewed = renew(old, new, hand.encode(), _PATH)
    sides = [_steps(old.text), _steps(hand.encode()), _steps(new.text)]
    merger = merge3.Merge3(*([f"{step}\n" for step in side] for side in sides))
    if any(group[0] == "conflict" for group in merger.merge_groups()):
        event("merge3 is not clean")
        return
    event("both clean" if not renewed.card.undecided else "ours is not clean")
    if not renewed.card.undecided:
        assert [f"{step}\n" for step in _steps(renewed.text)] == list(merger.merge_lines())


@given(
    st.lists(st.sampled_from(("too salty", "went well", "for ten", "half was enough")), unique=True, max_size=4),
    st.lists(st.sampled_from(("too dry", "again soon", "all gone", "with peas")), unique=True, max_size=4),
)
@settings(max_examples=30, deadline=None)
def test_remarks_merge_as_a_union(by_hand: list[str], by_version: list[str]) -> None:
    """Remarks written in the family's card and dated notes of a version stand there both, each once."""
    cards = _versions(["slowly"] * 6)
    old = propose_new("Tray Supper", cards, path=_PATH, choices=Choices(start_from=cards[0].called))
    notes = "".join(f"  Easter 2025, Bo: {words}\n\n" for words in by_hand)
    hand = old.text.replace(b"Versions\n", f"Notes\n{notes}Versions\n".encode()) if by_hand else old.text
    told = tuple(Passage(f"May 2024: {words}", 30 + at) for at, words in enumerate(by_version))
    edited = [replace(cards[0], notes=told), *cards[1:]]
    new = propose_new("Tray Supper", edited, path=_PATH, choices=Choices(start_from=cards[0].called))
    made = renew(old, new, hand, _PATH)
    under = made.text.decode().partition("\nNotes\n")[2].partition("\nVersions\n")[0]
    found = [line for line in under.split("\n") if line.strip()]
    wanted = {f"Easter 2025, Bo: {words}" for words in by_hand} | {f"May 2024, Ada: {words}" for words in by_version}
    assert sorted(map(said, found)) == sorted(map(said, wanted))
    assert made.card.undecided == ()


def _steps(text: bytes) -> list[str]:
    return [step.text for step in read_cards(text, _PATH)[0].steps]
