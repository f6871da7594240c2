"""Whole cards: what is a card, what is kept, what is refused."""

import time
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Amount, Card, Role, Wording
from recipebox.cards.reader import read_cards
from recipebox.cards.text import NotTextError, decode

SAMPLE = Path(__file__).parents[2] / "sample_box"

FAMILY = """Harbour Fish and Leek Bake
serves: 6
pan: 2 quart
oven: 425 F (220 C), 25 minutes
tags: casserole, freezes well

Ingredients
  1 1/2 lb white fish, in chunks
  1 can (14.5 oz) chopped tomatoes
Topping
  2 cups bread crumbs

Method
  1. Heat the oven and butter the dish.
  2. Layer it all and bake.

Some add
  1/2 tsp nutmeg | Ines, Tomasz

Variations
  Tomasz: flour, milk, eggs
    2 cups flour
    1 cup milk

Swaps
  leeks -> onions, half the weight | Tomasz | sweeter
  buttermilk -> milk and lemon juice, 1 cup for 1 cup | published: (an extension service) | thinner; brings in nothing

Notes
  Easter 2025, Brigid: too salty

Undecided
  hard cheese, grated
    - 1 1/4 cups hard cheese, grated
    - 3/4 cup hard cheese, grated

Settled
  bread crumbs
    - 1 1/2 cups bread crumbs
    - chosen: 2 cups bread crumbs

Versions
  Brigid: versions/brigid-fish-bake.txt | double batch
  Ines: notes/ines.md | gone
"""


def one(text: str, path: str = "cards/a.md") -> Card:
    """The only card of a text."""
    (card,) = read_cards(text.encode(), path)
    return card


def amount(low: int, high: int | None = None) -> Amount:
    """Whole numbers as an amount."""
    return Amount(Fraction(low), Fraction(high if high is not None else low))


def test_a_family_recipe_is_read_in_every_section() -> None:
    """The shape of a family recipe gives all its sections back as data."""
    card = one(FAMILY, "family/harbour-fish-and-leek-bake.txt")
    assert (card.kind, card.title, card.serves, card.tags) == (
        "family", "Harbour Fish and Leek Bake", amount(6), ("casserole", "freezes well"),
    )  # fmt: skip
    assert [(i.group, i.text) for i in card.ingredients] == [
        (None, "1 1/2 lb white fish, in chunks"),
        (None, "1 can (14.5 oz) chopped tomatoes"),
        ("Topping", "2 cups bread crumbs"),
    ]
    assert [s.text for s in card.steps] == ["Heat the oven and butter the dish.", "Layer it all and bake."]
    assert [(s.ingredient.item, s.who) for s in card.some_add] == [("nutmeg", ("Ines", "Tomasz"))]
    assert [(v.name, len(v.ingredients)) for v in card.variations] == [("Tomasz: flour, milk, eggs", 2)]
    swap = card.swaps[1]
    assert (swap.item, swap.instead, swap.how, swap.who) == (
        "buttermilk",
        "milk and lemon juice",
        "1 cup for 1 cup",
        None,
    )
    assert (swap.source, swap.effect, swap.brings_in) == ("(an extension service)", "thinner", ())
    assert card.undecided[0].wordings == (
        Wording("1 1/4 cups hard cheese, grated"),
        Wording("3/4 cup hard cheese, grated"),
    )
    assert card.settled[0].wordings[1] == Wording("2 cups bread crumbs", chosen=True)
    assert [(v.name, v.path, v.batch, v.gone) for v in card.versions] == [
        ("Brigid", "versions/brigid-fish-bake.txt", Fraction(2), False), ("Ines", "notes/ines.md", Fraction(1), True),
    ]  # fmt: skip
    assert [n.text for n in card.notes] == ["Easter 2025, Brigid: too salty"]


@pytest.mark.parametrize("path", ["cards/a.txt", "family/old/a.txt", "a.txt"])
def test_elsewhere_the_same_text_is_a_version(path: str) -> None:
    """Outside family/ Swaps and Versions are notes; Undecided and Settled are read everywhere."""
    card = one(FAMILY, path)
    assert card.kind == "version"
    assert (card.swaps, card.versions, card.some_add, card.variations) == ((), (), (), ())
    assert any("leeks -> onions" in note.text for note in card.notes)
    assert len(card.undecided) == len(card.settled) == 1


def test_a_card_in_family_without_a_path_is_a_version() -> None:
    """A Versions section that names no path makes no family recipe."""
    text = FAMILY[: FAMILY.index("Versions")] + "Versions\n  as Brigid makes it\n"
    assert one(text, "family/a.txt").kind == "version"


def test_wordings_are_kept_to_the_letter() -> None:
    """Marks, numbers and strokes in a wording belong to it."""
    entry = "  step: Heat the oven\n    - 1. Heat *the* oven | now\n    - chosen: - [ ] x\n"
    card = one(f"A\n\nIngredients\n  1 egg\n\nUndecided\n{entry}")
    (found,) = card.undecided
    assert found.about == "step: Heat the oven"
    assert found.wordings == (Wording("1. Heat *the* oven | now"), Wording("- [ ] x", chosen=True))


def test_entries_in_markdown_sections_are_read() -> None:
    """`## Undecided` holds the same entries."""
    card = one("# A\n\n## Ingredients\n- 1 egg\n\n## Undecided\n  eggs\n    - 1 egg\n    - 2 eggs\n")
    assert [(e.about, [w.text for w in e.wordings]) for e in card.undecided] == [("eggs", ["1 egg", "2 eggs"])]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "empty"),
        (" \n\t\n", "empty"),
        ("# Just a title\n", "only a title"),
        ("# Shopping\n\nRemember to call Ann back.\n", "no ingredients"),
    ],
)
def test_other_texts_are_refused_with_a_reason(text: str, why: str) -> None:
    """A text that is no card is refused with one reason for a person."""
    with pytest.raises(NotACardError, match=why):
        read_cards(text.encode(), "a.txt")


def test_a_picture_is_refused_as_no_text() -> None:
    """Bytes that are no text are no card."""
    with pytest.raises(NotACardError, match="not text"):
        read_cards(b"\x89PNG\0\0", "a.txt")


@pytest.mark.parametrize("text", ["Toast\n1 slice bread\n", "Toast\n\n1. Cut the bread.\n2. Toast it.\n"])
def test_a_title_and_an_ingredient_or_two_steps_make_a_card(text: str) -> None:
    """One ingredient line is enough, and so are two steps."""
    assert one(text, "a.txt").title == "Toast"


def test_unsure_bytes_are_told() -> None:
    """Windows-1252 is read and a trouble says so."""
    (card,) = read_cards("Café cake\n\nIngredients\n1 egg\n\nMethod\nBake it.\n".encode("cp1252"), "a.txt")
    assert card.title == "Café cake"
    assert "UTF-8" in card.trouble[0].what


def check_lines(data: bytes, cards: list[Card]) -> None:
    """Every source line has one role, in order, and no line with words is blank."""
    lines = decode(data).lines
    numbers = [line.number for card in cards for line in card.lines]
    if len(numbers) == len(lines):
        assert numbers == list(range(1, len(lines) + 1))
    for card in cards:
        for line in card.lines:
            words = lines[line.number - 1].words
            assert (line.role is Role.BLANK) <= (not any(character.isalnum() for character in words))
            assert 0 <= line.start <= line.end <= len(words)


ODDS = st.sampled_from(
    [
        "# ",
        "## Ingredients",
        "Method:",
        "- ",
        "1. ",
        "> ",
        "|---|",
        "===",
        "```",
        "~~~",
        "<!--",
        "-->",
        "<li>",
        "</li>",
        "<br>",
        "<td>",
        "\t",
        "    ",
        "  ",
        "* ",
        "**",
        "_",
        "[ ] ",
        "[x](y)",
        "Serves 4",
        "oven: 425 F",
        "2 cups flour",
        "Mix it.",
        "½",
        "\r",
        "\n",
        "\n\n",
        "Undecided",
        "Versions",
        "a/b.txt",
        ":",
        "title: x",
        "from: Ann",
        "| a | b |",
        "Love, Jo",
        "9 x 13 pan",
        "for 1 1/2 hours",
        "350F",
        "é",
        "ß",
        "\u2028",
        "\ufeff",
        "\\",
        "$\\frac{1}{2}$",
        "(((",
        "]]",
        "---\n",
        "You need 1 egg, 2 figs, salt.",
        "|",
        " | ",
        "Subject: x\nFrom: y\n",
        "**1.**",
        "{#a}",
        "\u00a0",
    ]
)


@given(
    st.lists(ODDS | st.text(max_size=6), max_size=60).map("".join), st.sampled_from(["a.md", "family/a.txt", "b.txt"])
)
def test_no_text_breaks_the_reader(text: str, path: str) -> None:
    """Any mix of marks is a card or refused by name, and every line of a card has a role."""
    data = text.encode("utf-8", "surrogatepass")
    try:
        cards = read_cards(data, path)
    except NotACardError as error:
        assert error.path == path
        assert str(error).startswith("not a card: ")
        return
    check_lines(data, cards)


@given(st.binary(max_size=400))
def test_no_bytes_break_the_reader(data: bytes) -> None:
    """Any bytes are a card or refused by name."""
    try:
        check_lines(data, read_cards(data, "a.txt"))
    except NotACardError as error:
        with pytest.raises((NotACardError, NotTextError)):
            raise error


@given(
    st.lists(st.sampled_from(["zanzibar", "quokka", "velvet", "marmot"]), min_size=1, max_size=4).map(" ".join),
    st.integers(0, 30),
)
def test_a_stray_line_is_never_dropped(words: str, place: int) -> None:
    """A line nobody understands, put anywhere in a card, is found again in its data."""
    lines = FAMILY.split("\n")[:16]
    lines.insert(min(place, len(lines)), words)
    card = one("\n".join(lines), "a.txt")
    held = " ".join(
        [
            card.title,
            *(i.text + " " + (i.group or "") for i in card.ingredients),
            *(s.text for s in card.steps),
            *(n.text for n in card.notes),
        ]
    )
    held += " ".join(h.value for h in card.headers)
    assert words in held or Role.GROUP in {line.role for line in card.lines}


HOSTILE = [
    "#", "- ", "**a", "[a](", "<b>", "</b>", "`", "| ", "|---|\n", "1. a\n", "2 cups x, ", "> ", "a\n", "_a ", "*a ",
    "<!--", "\r\r\r x", "Serves 4\n", "9 x ", "bake 350 ", "a. ", "&amp;", "<td>", "1 egg; ",
]  # fmt: skip


@pytest.mark.parametrize("unit", HOSTILE)
def test_time_grows_with_length_only(unit: str) -> None:
    """Four times a hostile text takes about four times as long: no pattern runs away."""

    def seconds(size: int) -> float:
        text = ("# T\n\n1 egg\n\n" + unit * (size // len(unit))).encode()
        best = 9.0
        for _ in range(2):
            start = time.process_time()
            with suppress(NotACardError):
                read_cards(text, "a.md")
            best = min(best, time.process_time() - start)
        return best

    small, large = seconds(5_000), seconds(20_000)
    assert large < max(0.25, small * 12)


@pytest.mark.parametrize(
    ("path", "could"),
    [
        ("a.txt", True),
        ("A.TXT", True),
        ("pies/a.md", True),
        ("pies/dishes.txt", True),
        ("a.html", False),
        ("as-sent/a.txt", False),
        ("dishes.txt", False),
        ("on-hand.txt", False),
        ("on-hand-cabin.txt", False),
        (".recipebox/a.txt", False),
        ("pies/.hidden.md", False),
    ],
)
def test_which_files_could_be_cards(path: str, could: bool) -> None:
    """A file may be a card by its name alone."""
    assert could_be_card(path) is could


def test_a_part_named_behind_the_method_adds_to_the_list() -> None:
    """ "Icing: 8 oz cream cheese, ..." at the end is one more group: the list above it stays the list."""
    text = (
        "Carrot Sheet Cake\n\n2 c sugar\n4 eggs\n3 c grated carrots\n\nMix all. Add carrots. Bake 1 hour.\n\n"
        "Icing: 8 oz cream cheese, 1 lb powdered sugar\n"
    )
    (card,) = read_cards(text.encode(), "cake.txt")
    assert [(one.group, one.text) for one in card.ingredients] == [
        (None, "2 c sugar"),
        (None, "4 eggs"),
        (None, "3 c grated carrots"),
        ("Icing", "8 oz cream cheese"),
        ("Icing", "1 lb powdered sugar"),
    ]


@pytest.mark.parametrize("unit", ["Mix it well.\n", "Bake at 350 for 20 minutes\n", "Mix.\n\n", "2 eggs\n", "Tip: a\n"])
def test_many_lines_take_no_more_than_their_share(unit: str) -> None:
    """Four times as many lines of one kind take about four times as long, not sixteen."""

    def seconds(count: int) -> float:
        """The least of three: in a long run of tests the garbage of all others is collected now and then."""
        data = b"Cake\n\n2 eggs\n\n" + unit.encode() * count
        times = []
        for _ in range(3):
            start = time.process_time()
            read_cards(data, "cake.md")
            times.append(time.process_time() - start)
        return min(times)

    seconds(100)
    assert seconds(4000) < 9 * max(seconds(1000), 0.02)


def test_what_is_served_with_it_stays_on_the_list() -> None:
    """Lines at the list's end without an amount are things, however long their name, where they are "to serve"."""
    text = (
        "Chilli\n\n1 onion\n500 g minced beef\nplain boiled long grain rice, to serve\n\nFry the onion. Add the beef.\n"
    )
    (card,) = read_cards(text.encode(), "chilli.txt")
    assert [one.text for one in card.ingredients][-1] == "plain boiled long grain rice, to serve"
