"""Meetings that once went wrong, each as the story it was."""

from recipebox.cards.reader import read_cards
from recipebox.merge import merge_card
from tests.merge.typed import BOLD, FAMILY, MARKDOWN, TIDY

PATH = "versions/bake.txt"


def met(base: str, *sides: str, path: str = PATH) -> str:
    """The merge, alike in both orders, and unchanged where a side meets it once more."""
    texts = [side.encode() for side in sides]
    merged = merge_card(base.encode(), texts, path)
    assert merge_card(base.encode(), texts[::-1], path) == merged
    for side in texts:
        assert merge_card(base.encode(), [merged, side], path) == merged
    return merged.decode()


def steps(text: str) -> list[str]:
    """The steps as they stand."""
    return [step.text for step in read_cards(text.encode(), PATH)[0].steps]


def test_a_step_put_in_beside_one_that_is_reworded() -> None:
    """One rewords a step; another keeps it and puts in one nearly like the new wording: both stand, and stay."""
    reworded = TIDY.replace("Heat the oven to 425 F.", "Heat the oven to 425 F, for a minute or two.")
    put_in = TIDY.replace(
        "  1. Heat the oven to 425 F.", "  1. Heat the oven to 425 F.\n  1. Heat the oven to 425 F, !"
    )
    assert steps(met(TIDY, reworded, put_in))[:2] == [
        "Heat the oven to 425 F, for a minute or two.",
        "Heat the oven to 425 F, !",
    ]


def test_a_first_line_of_some_add_and_a_new_note() -> None:
    """The family's first "some add" and another's note behind the last one: each under its own heading."""
    base = FAMILY.replace("Some add\n  1/2 tsp nutmeg | Ines, Tomasz\n  1 tbsp mustard | Rui\n\n", "")
    base = base.replace("Variations\n  Tomasz: flour, milk\n    2 cups flour\n    1 cup milk\n\n", "")
    base = base.replace("Swaps\n  leeks -> onions, half the weight | Tomasz | sweeter\n\n", "")
    some_add = base.replace("Notes\n", "Some add\n  1 tsp mace | Rui\n\nNotes\n")
    step = base.replace("over and bake.\n", "over and bake.\n  5. Zest a lemon over it.\n")
    card = read_cards(met(base, some_add, step, path="family/bake.txt").encode(), "family/bake.txt")[0]
    assert [one.ingredient.text for one in card.some_add] == ["1 tsp mace"]
    assert card.steps[-1].text == "Zest a lemon over it."
    assert len(card.notes) == 1


def test_a_line_without_a_group_beside_a_new_group() -> None:
    """One adds a group below the list, another a line to the list: the line does not slip into the group."""
    base = TIDY.replace("\nTopping\n  2 cups bread crumbs\n", "")
    group = base.replace("cheese, grated\n", "cheese, grated\n\nGlaze\n  1 tbsp apricot jam\n")
    line = base.replace("cheese, grated\n", "cheese, grated\n  1 tsp zest\n")
    card = read_cards(met(base, group, line).encode(), PATH)[0]
    assert {i.item: i.group for i in card.ingredients}["zest"] is None
    assert {i.item: i.group for i in card.ingredients}["apricot jam"] == "Glaze"


def test_a_title_said_twice() -> None:
    """Front matter and heading both say the title; one of them changed is that one changed, the other stays."""
    merged = met(
        MARKDOWN, MARKDOWN.replace("title: Barley Supper", "title: Barley Pot"), MARKDOWN.replace("30 g", "40 g")
    )
    assert "title: Barley Pot" in merged
    assert "# Barley Supper" in merged
    assert "40 g butter" in merged


def test_a_rule_and_a_table_are_carried() -> None:
    """What is layout to us is kept where it stood: a rule that one put in, another's table with its border."""
    ruled = MARKDOWN.replace("[more of hers]", "---\n\n[more of hers]")
    table = MARKDOWN.replace("![the pot](pot.jpg)\n", "![the pot](pot.jpg)\n\n| a | b |\n|:--|---|\n| x | y |\n")
    merged = met(MARKDOWN, ruled, table)
    assert "---\n\n[more of hers]" in merged
    assert "| a | b |\n|:--|---|\n| x | y |\n" in merged


def test_a_line_without_wordings_among_the_questions() -> None:
    """Somebody writes a line between the questions; another edits the card: the line stands, and nothing breaks."""
    loose = FAMILY.replace("Settled\n", "ask Wanda about the leeks\n\nSettled\n")
    other = FAMILY.replace("2 leeks, sliced", "3 leeks, sliced")
    merged = met(FAMILY, loose, other, path="family/bake.txt")
    assert "ask Wanda about the leeks" in merged
    assert "3 leeks, sliced" in merged


def test_a_paragraph_goes_on() -> None:
    """A sentence added below a step's line stays a line of its own."""
    base = "Potato Rolls\n\n3 cups flour\n1 cup mashed potato\n2 tsp yeast\n\nKnead to a dough.\n\nBake until brown.\n"
    longer = base.replace("Bake until brown.\n", "Bake until brown.\nStir nothing.\n")
    merged = met(base, longer, base.replace("2 tsp yeast", "3 tsp yeast"))
    assert merged.endswith("\nBake until brown.\nStir nothing.\n")


def test_emphasis_is_no_bullet() -> None:
    """A note in a card whose only note is set in italics is not given half of those marks."""
    merged = met(
        BOLD,
        BOLD.replace("_A good one for Sundays_\n", "_A good one for Sundays_\n\nFrom the old book.\n"),
        BOLD.replace("**3** leeks", "**4** leeks"),
    )
    assert "\nFrom the old book.\n" in merged


def test_a_heading_with_nothing_left_below_it() -> None:
    """One takes out the only line of a group and leaves its heading, which then reads as a line: the rest merges."""
    merged = met(TIDY, TIDY.replace("  2 cups bread crumbs\n", ""), TIDY.replace("2 cups flour", "3 cups flour"))
    assert "3 cups flour" in merged
    assert "Topping" in merged
