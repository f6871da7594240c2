"""Cards in many hands: recipes whose title, ingredients and steps are known, written out in every manner we know of.

The recipes are put together from the invented lines in hands.json; a hand is a function that writes one out.
"""

import json
import random
import re
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards

WORDS = json.loads(Path(__file__).with_name("hands.json").read_text("utf-8"))
INGREDIENTS = WORDS["ingredients"]
STEPS = WORDS["steps"]
TITLES = WORDS["titles"]
PARTS = WORDS["parts"]
INTROS = WORDS["intros"]
FACTS = WORDS["facts"]
NOTES = WORDS["notes"]
INGREDIENT_HEADINGS = WORDS["ingredient_headings"]
METHOD_HEADINGS = WORDS["method_headings"]
FOREIGN = WORDS["foreign"]


@dataclass
class Recipe:
    """What is true: groups of ingredients and of steps, each with its name or None."""

    title: str
    lists: list[tuple[str | None, list[str]]]
    methods: list[tuple[str | None, list[str]]]
    intro: str | None
    facts: list[str]
    notes: list[str]

    @property
    def ingredients(self) -> list[str]:
        return [line for _, lines in self.lists for line in lines]

    @property
    def steps(self) -> list[str]:
        return [step for _, steps in self.methods for step in steps]


def a_recipe(rng: random.Random) -> Recipe:
    """A recipe of 3 to 12 ingredients and 2 to 7 steps; one in three has groups."""
    ingredients = rng.sample(INGREDIENTS, rng.randint(3, 12))
    steps = rng.sample(STEPS, rng.randint(2, 7))
    lists: list[tuple[str | None, list[str]]] = [(None, ingredients)]
    methods: list[tuple[str | None, list[str]]] = [(None, steps)]
    if len(ingredients) > 5 and rng.random() < 0.5:
        names = rng.sample(PARTS, 2)
        cut = rng.randint(2, len(ingredients) - 2)
        lists = [(names[0] if rng.random() < 0.5 else None, ingredients[:cut]), (names[1], ingredients[cut:])]
    return Recipe(
        rng.choice(TITLES), lists, methods,
        rng.choice(INTROS) if rng.random() < 0.4 else None,
        rng.sample(FACTS, rng.randint(0, 2)),
        rng.sample(NOTES, rng.randint(0, 2)),
    )  # fmt: skip


def _heads(rng: random.Random, level: int = 2) -> tuple[str, str]:
    return "#" * level + " " + rng.choice(INGREDIENT_HEADINGS), "#" * level + " " + rng.choice(METHOD_HEADINGS)


def _page(*blocks: str) -> str:
    return "\n\n".join(block for block in blocks if block) + "\n"


def _top(r: Recipe, title: str | None = None) -> str:
    facts = "\n".join(f"- {fact}" for fact in r.facts)
    return _page(title if title is not None else f"# {r.title}", r.intro or "", facts).rstrip()


def _end(r: Recipe, heading: str = "## Notes") -> str:
    return f"{heading}\n\n" + "\n".join(f"- {note}" for note in r.notes) if r.notes else ""


def _list(r: Recipe, form: str = "- {t}", group: str = "### {g}\n", between: str = "\n\n") -> str:
    """The ingredients, each in this form, with the names of their groups."""
    return _listed(r, lambda n, t: form.format(n=n, t=t), group, between)


def _listed(r: Recipe, line: Callable[[int, str], str], group: str = "### {g}\n", between: str = "\n\n") -> str:
    blocks = []
    count = 0
    for name, lines in r.lists:
        block = [group.format(g=name)] if name else []
        block += [line(count + n, text) for n, text in enumerate(lines, 1)]
        count += len(lines)
        blocks.append("\n".join(block))
    return between.join(blocks)


def _steps(r: Recipe, form: str = "{n}. {t}", between: str = "\n") -> str:
    return between.join(form.format(n=number, t=step) for number, step in enumerate(r.steps, 1))


def atx(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return _page(_top(r), a, _list(r, rng.choice("-*+") + " {t}"), b, _steps(r), _end(r))


def atx_tight(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng, 3)
    return "\n".join([_top(r), a, _list(r, group="**{g}**", between="\n"), b, _steps(r, "1. {t}"), _end(r, "### Tips")])


def setext(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(INGREDIENT_HEADINGS) + "\n-----------", rng.choice(METHOD_HEADINGS) + "\n------"
    top = _top(r, f"{r.title}\n{'=' * len(r.title)}")
    return _page(top, a, _list(r, "* {t}", "*{g}:*\n"), b, _steps(r, "{t}", "\n\n"), _end(r))


def bold_heads(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(["Ingredients", "Ingredients:", "You need"]), rng.choice(["Method", "Directions:", "Preparation"])
    return _page(_top(r, f"**{r.title}**"), f"**{a}**", _list(r, group="*{g}*\n"), f"**{b}**", _steps(r, "{n}) {t}"))


def plain_heads(r: Recipe, rng: random.Random) -> str:
    a = rng.choice(["Ingredients:", "INGREDIENTS", "You need:", "Ingredients"])
    b = rng.choice(["Method:", "DIRECTIONS", "Instructions", "What to do:"])
    return _page(_top(r, r.title), a, _list(r, "{t}", "{g}:"), b, _steps(r))


def front_matter(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    quote = rng.choice(['"', "", "'"]) if "'" not in r.title else ""
    head = f"---\ntitle: {quote}{r.title}{quote}\ntags: [dinner, easy]\nservings: 4\nprep_time: 10 min\n---"
    return _page(head, a, _list(r), b, _steps(r), _end(r))


def all_in_front(r: Recipe, rng: random.Random) -> str:
    def quoted(text: str) -> str:
        return '"' + text.replace('"', '\\"') + '"'

    lists = "\n".join(f"  - {quoted(t)}" for t in r.ingredients)
    steps = "\n".join(f"  - {quoted(t)}" for t in r.steps)
    key = rng.choice(["directions", "instructions", "method", "steps"])
    head = f"---\ntitle: {quoted(r.title)}\ndate: 2024-03-01\ncategories:\n  - soups\n  - quick\nyield: 4 servings"
    return f"{head}\ningredients:\n{lists}\n{key}:\n{steps}\n---\n\n{r.intro or 'Good.'}\n"


def checkboxes(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return _page(_top(r), a, _list(r, "- [ ] {t}", "#### {g}"), b, _steps(r, "- [ ] {t}"), _end(r))


def numbered_ingredients(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return _page(_top(r), a, _list(r, "{n}. {t}"), b, _steps(r, between="\n\n"), _end(r))


def table(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    rows = []
    for text in r.ingredients:
        match = re.match(r"((?:\d|½|~|a |one ).*?) (.*)", text)
        rows.append(f"| {match[1]} | {match[2]} |" if match else f"| | {text} |")
    border = rng.choice(["|---|:---|", "| -: | - |", "|:-:|-----|"])
    return _page(_top(r), a, "\n".join(["| Amount | Ingredient |", border, *rows]), b, _steps(r), _end(r))


def blank_lines_between(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return _page(_top(r), a, _list(r, "{t}\n"), b, _steps(r, "{t}", "\n\n"), _end(r))


def hard_breaks(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    stop = rng.choice(["  ", "\\", "<br>", "<br/>"])
    return _page(_top(r), a, _list(r, "{t}" + stop, "**{g}**" + stop), b, _steps(r, "{t}", "\n\n"), _end(r))


def bold_amounts(r: Recipe, rng: random.Random) -> str:
    def line(_: int, text: str) -> str:
        match = re.match(r"([\d½][^ ]*(?: \d/\d)?(?: (?:cups?|tsp|tbsp|g|tablespoons?))?) (.*)", text)
        return f"- **{match[1]}** {match[2]}" if match else f"- {text}"

    a, b = _heads(rng)
    return _page(_top(r), a, _listed(r, line, "_{g}_\n"), b, _steps(r, "**{n}.** {t}", "\n\n"), _end(r))


def step_words(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    forms = [
        "Step {n}: {t}",
        "**Step {n}:** {t}",
        "{n}\\. {t}",
        "Step {n} - {t}",
        "{n}: {t}",
        "({n}) {t}",
        "**Step {n}.** {t}",
    ]
    return _page(_top(r), a, _list(r, "• {t}", "{g}:\n"), b, _steps(r, rng.choice(forms), "\n\n"), _end(r))


def step_headings(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    forms = ["### Step {n}\n\n{t}", "### Step {n}: On we go\n\n{t}", "**Step {n}**\n\n{t}", "#### {n}.\n{t}"]
    return _page(_top(r), a, _list(r), b, _steps(r, rng.choice(forms), "\n\n"), _end(r))


def step_groups(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    cut = max(1, len(r.steps) // 2)
    mark = rng.choice(["1. ", "", "- "])
    halves = [("\n" if mark else "\n\n").join(mark + t for t in part) for part in (r.steps[:cut], r.steps[cut:])]
    name = rng.choice(["### {}", "**{}**", "#### {}:"])
    groups = [name.format("Make the dough"), halves[0], name.format("Finish"), halves[1]]
    return _page(_top(r), a, _list(r), b, *groups, _end(r))


def wrapped(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    width, lazy = rng.choice([30, 44, 60]), rng.choice(["", "   "])
    if rng.random() < 0.5:
        steps = [textwrap.fill(f"{n}. {t}", width, subsequent_indent=lazy) for n, t in enumerate(r.steps, 1)]
        body = "\n".join(steps)
    else:
        body = "\n\n".join(textwrap.fill(t, width) for t in r.steps)
    listed = _listed(r, lambda n, t: textwrap.fill(f"- {t}", 27, subsequent_indent="  ", break_on_hyphens=False))
    return _page(_top(r), a, listed, b, body, _end(r))


def nested_groups(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    blocks = []
    for name, lines in r.lists:
        blocks += [f"- {name}:"] if name else []
        blocks += [("    " if name else "") + f"- {t}" for t in lines]
    return _page(_top(r), a, "\n".join(blocks), b, _steps(r), _end(r))


def links_and_pictures(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)

    def line(n: int, t: str) -> str:
        head, _, last = t.rpartition(" ")
        plain = head and n % 3 == 0 and "(" not in last and ")" not in last
        return f"- {head} [{last}](https://example.org/{n})" if plain else f"- {t}"

    steps = [
        f"{n}. {t}" + (f"\n\n   ![step {n}](img/{n}.jpg)\n" if n % 2 == 0 else "") for n, t in enumerate(r.steps, 1)
    ]
    top = f"<!-- imported -->\n# {r.title}\n\n![the dish](dish.jpg)\n\n> It was good.\n\n---"
    end = "Source: <https://example.org>[^1]\n\n[^1]: An old book."
    return _page(top, a, _listed(r, line), "---", b, "\n".join(steps), "---", end)


def foreign(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(FOREIGN)
    form = rng.choice(["## {}", "**{}**", "{}:", "### {}"])
    return _page(_top(r), form.format(a), _list(r, group="*{g}*\n"), form.format(b), _steps(r))


def no_headings(r: Recipe, rng: random.Random) -> str:
    listed = _list(r, group="**{g}**\n")
    return _page(f"# {r.title}", listed, _steps(r) if rng.random() < 0.5 else _steps(r, "{t}", "\n\n"))


def only_ingredients_headed(r: Recipe, rng: random.Random) -> str:
    return _page(f"# {r.title}", "## Ingredients", _list(r), _steps(r))


def components(r: Recipe, rng: random.Random) -> str:
    if len(r.lists) < 2 or len(r.steps) < 2:
        return atx(r, rng)
    cut = max(1, len(r.steps) // 2)
    blocks = [f"# {r.title}"]
    for (name, lines), steps in zip(r.lists, [r.steps[:cut], r.steps[cut:]], strict=True):
        items = "\n".join(f"- {t}" for t in lines)
        numbered = "\n".join(f"{n}. {t}" for n, t in enumerate(steps, 1))
        blocks += [f"## {name or 'Base'}", "### Ingredients", items, "### Method", numbered]
    return _page(*blocks)


def html_parts(r: Recipe, rng: random.Random) -> str:
    items = "\n".join(f"<li>{t}</li>" for t in r.ingredients)
    steps = "\n".join(f"  <li>{t}</li>" for t in r.steps)
    lists = f"<h2>Ingredients</h2>\n<ul>\n{items}\n</ul>\n\n<h2>Method</h2>\n<ol>\n{steps}\n</ol>"
    return _page(f"<h1>{r.title}</h1>", lists)


def method_first(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return _page(_top(r), b, _steps(r), a, _list(r))


def title_of_level_two(r: Recipe, rng: random.Random) -> str:
    listed = "#### Ingredients\n" + _list(r, "* {t}", "##### {g}")
    return _page(
        f"## {r.title}", r.intro or "", listed, "#### Directions\n" + _steps(r, "* {t}"), _end(r, "#### Notes")
    )


def facts_table(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    facts = "| Prep | Cook | Serves |\n|------|------|--------|\n| 10 min | 1 hour | 4 |"
    return _page(f"# {r.title}", facts, a, _list(r, "+ {t}"), b, _steps(r, "{t}", "\n\n"), _end(r))


def windows_ends(r: Recipe, rng: random.Random) -> str:
    return atx(r, rng).replace("\n", "\r\n")


def nested_sections(r: Recipe, rng: random.Random) -> str:
    items = "\n".join(f"  - {t}" for t in r.ingredients)
    steps = "\n".join(f"  {n}. {t}" for n, t in enumerate(r.steps, 1))
    return _page(f"# {r.title}", f"- **Ingredients**\n{items}\n- **Directions**\n{steps}")


def sub_notes(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    note = "\n  - or whatever is in the cupboard"
    return _page(_top(r), a, _listed(r, lambda n, t: f"- {t}" + note * (n % 4 == 0)), b, _steps(r), _end(r))


def under_a_recipe_heading(r: Recipe, rng: random.Random) -> str:
    parts = ["## Recipe", "### Ingredients", _list(r, group="#### {g}"), "### Instructions", _steps(r)]
    return _page(f"# {r.title}", r.intro or "Hello.", *parts, "## Why I like it", "It is quick.")


def quoted_mail(r: Recipe, rng: random.Random) -> str:
    letter = f"Hello you,\n\n{r.title}\n\nYou need:\n{_list(r, '{t}', '{g}:')}\n\nMethod:\n{_steps(r)}\n\nLove,\nOda"
    return "\n".join(f"> {line}".rstrip() for line in letter.split("\n")) + "\n"


def rules_between(r: Recipe, rng: random.Random) -> str:
    return _page(f"# {r.title}", "*dinner, quick*", "---", _list(r, group="## {g}\n"), "---", _steps(r, "{t}", "\n\n"))


def html_table(r: Recipe, rng: random.Random) -> str:
    rows = "\n".join(f"<tr><td>{t}</td></tr>" for t in r.ingredients)
    return _page(f"# {r.title}", "## Ingredients", f"<table>\n{rows}\n</table>", "## Method", _steps(r))


HANDS = [
    atx, atx_tight, setext, bold_heads, plain_heads, front_matter, all_in_front, checkboxes, numbered_ingredients,
    table, blank_lines_between, hard_breaks, bold_amounts, step_words, step_headings, step_groups, wrapped,
    nested_groups, links_and_pictures, foreign, no_headings, only_ingredients_headed, components, html_parts,
    method_first, title_of_level_two, facts_table, windows_ends, nested_sections, sub_notes, under_a_recipe_heading,
    quoted_mail, rules_between, html_table,
]  # fmt: skip


def words_of(text: str) -> str:
    """Letters and digits alone, so that marks and spaces make no difference."""
    return re.sub(r"\W+", "", text.casefold())


def misread(recipe: Recipe, cards: list[Card]) -> list[str]:
    """What of a recipe was not read exactly: "title", "ingredients", "steps"."""
    if len(cards) != 1:
        return ["parts"]
    card = cards[0]
    wrong = []
    if words_of(card.title) != words_of(recipe.title):
        wrong.append("title")
    if [words_of(i.text) for i in card.ingredients] != [words_of(line) for line in recipe.ingredients]:
        wrong.append("ingredients")
    if [words_of(s.text) for s in card.steps] != [words_of(step) for step in recipe.steps]:
        wrong.append("steps")
    return wrong


@pytest.mark.parametrize("hand", HANDS, ids=lambda hand: hand.__name__)
def test_every_hand_is_read_whole(hand: Callable[[Recipe, random.Random], str]) -> None:
    """Of 40 recipes in each hand at least 39 are read with their title, every ingredient line and every step."""
    rng = random.Random(hand.__name__)
    failures = []
    for number in range(40):
        recipe = a_recipe(rng)
        text = hand(recipe, rng)
        try:
            wrong = misread(recipe, read_cards(text.encode(), "cards/a.md"))
        except NotACardError as error:
            wrong = [str(error)]
        if wrong:
            failures.append((number, wrong, text))
    assert len(failures) <= 1, failures[0]
