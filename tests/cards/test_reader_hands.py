"""Cards in many hands: recipes whose title, ingredients and steps are known, written out in every manner we know of.

The recipes are put together from invented lines; a hand is a function that writes one out as Markdown.
"""

import random
import re
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards

INGREDIENTS = [
    "2 cups flour", "1 1/2 cups all-purpose flour, sifted", "250 g plain flour", "½ tsp salt", "1 ½ tbsp olive oil",
    "3 large eggs, beaten", "1 can (14.5 oz) chopped tomatoes, drained", "salt and pepper to taste", "Salt", "a pinch of nutmeg",
    "2-3 cloves garlic, minced", "1 onion, finely chopped", "500ml whole milk", "1 kg floury potatoes, peeled and cubed",
    "4 tablespoons butter (1/2 stick), softened", "fresh parsley, to garnish", "Black pepper", "1 bay leaf", "juice of 1 lemon",
    "200g/7oz caster sugar", "2 x 400g tins chickpeas", "1 tablespoon honey or maple syrup", "a handful of basil leaves",
    "1 bunch spring onions, sliced thin", "6 chicken thighs, bone in", "1/4 cup grated hard cheese (about 1 oz)", "ice water, as needed",
    "vegetable oil for frying", "100 g dark chocolate (70%)", "1 packet dry yeast", "2 leeks, white part only", "cooked rice, for serving",
    "1 to 2 tsp chilli flakes (optional)", "zest of two oranges", "1 pint cream", "3 ripe bananas", "Cinnamon", "1 tsp vanilla extract",
    "2 stalks celery, diced", "8 oz cream cheese, at room temperature", "1/2 cup + 2 tbsp sugar", "1,5 kg beef shin", "butter for the pan",
    "12 small tortillas", "one 9-inch pie crust", "~ 300 g mushrooms", "Cooking spray", "1 c. buttermilk", "bread crumbs", "Oil",
    "1 head of cabbage, shredded", "2 carrots", "0.5 l stock", "1 stick cinnamon", "Chopped walnuts (about a cup)", "lemon wedges",
]  # fmt: skip
STEPS = [
    "Preheat the oven to 350 F and grease a 9 x 13 inch pan.", "Mix the flour, sugar and salt in a large bowl.", "Add the eggs one at a time, beating well.",
    "Bake for 25 to 30 minutes, or until golden brown on top.", "Let it cool for 10 minutes before slicing.", "Meanwhile, bring a large pot of salted water to a boil.",
    "In a small saucepan over medium heat, melt the butter. Stir in the garlic and cook until fragrant, about 1 minute.", "Fold in the chocolate.",
    "Season with salt and pepper and serve at once.", "Knead on a floured board for 8 minutes; the dough should be smooth and springy.", "Cover and let rise until doubled, about an hour.",
    "Once the onions are soft, add the tomatoes and simmer gently, stirring now and then, for 20 minutes.", "Pour the batter into the tin and level the top.",
    "Drain and set aside.", "Serve with the rice.", "Combine everything in a blender and blitz until smooth.", "Roast 40 minutes, turning once halfway through (don't skip this).",
    "When it comes together, turn it out and shape into a ball.", "Whisk the milk with the honey, then pour it slowly over the oats.", "Refrigerate for at least 4 hours or overnight.",
    "Using a slotted spoon, lift out the dumplings.", "Sprinkle over the cheese and brown under a hot grill.", "Toss well.", "The sauce is ready when it coats a spoon; take it off the heat.",
    "Repeat with the rest of the batter.", "Carefully flip and cook the other side for 2-3 minutes.", "Rub the butter into the flour until it looks like crumbs.",
]  # fmt: skip
TITLES = [
    "Harbour Fish Pie", "Grandmother's Plum Cake", "Red Lentil Soup", "Aunt Oda's Potato Rolls", "Pasta with Peas & Mint", "Quick Flatbreads (no yeast)", "Bean stew",
    "Lemon Drizzle Loaf", "The Best Oat Biscuits", "Chicken & Leek Bake", "Käsespätzle", "Crème caramel", "Pickled Beets", "Sunday Roast Carrots", "5-Minute Salad", "Salt Cod Fritters",
]  # fmt: skip
PARTS = [
    "For the sauce",
    "For the dough",
    "Topping",
    "Filling",
    "Dressing",
    "For the crust",
    "Marinade",
    "To serve",
    "Icing",
]
INTROS = [
    "This is what my neighbour makes when it rains. It feeds a crowd and freezes well.",
    "A family favourite since 1974.",
    "I got this from Ilse, who got it from her aunt.\nIt never fails.",
]
FACTS = [
    "Serves 4",
    "Makes 2 loaves",
    "Prep time: 10 min",
    "Cook time: 30 minutes",
    "**Servings:** 6",
    "Total time: 1 hour 10 minutes",
    "*Serves 4-6*",
    "Yield: 12 rolls",
]
NOTES = ["You can freeze it for up to a month.", "Best eaten the same day.", "My mother used lard."]


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


INGREDIENT_HEADINGS = [
    "Ingredients",
    "INGREDIENTS",
    "What you need",
    "You will need",
    "Ingredients:",
    "🛒 Ingredients",
    "Ingredients (serves 4)",
    "Ingredient list",
]
METHOD_HEADINGS = [
    "Method",
    "Directions",
    "Instructions",
    "Preparation",
    "Steps",
    "How to make it",
    "Procedure",
    "What to do",
    "👩‍🍳 Directions",
    "Cooking",
    "Making it",
    "Instructions:",
]
FOREIGN = [
    ("Zutaten", "Zubereitung"), ("Ingrédients", "Préparation"), ("Ingredientes", "Preparación"), ("Ingredienti", "Preparazione"), ("Ingrediënten", "Bereiding"),
    ("Ingredienser", "Fremgangsmåde"), ("Ingredienser", "Gör så här"), ("Ingredientes", "Modo de preparo"), ("Składniki", "Sposób przygotowania"), ("Zutaten für 4 Personen", "Anleitung"),
]  # fmt: skip


def _heads(rng: random.Random, level: int = 2) -> tuple[str, str]:
    return "#" * level + " " + rng.choice(INGREDIENT_HEADINGS), "#" * level + " " + rng.choice(METHOD_HEADINGS)


def _top(r: Recipe, title: str | None = None) -> str:
    parts = [title if title is not None else f"# {r.title}"]
    if r.intro:
        parts.append(r.intro)
    if r.facts:
        parts.append("\n".join(f"- {fact}" for fact in r.facts))
    return "\n\n".join(parts)


def _end(r: Recipe, heading: str = "## Notes") -> str:
    return f"\n\n{heading}\n\n" + "\n".join(f"- {note}" for note in r.notes) + "\n" if r.notes else "\n"


def _grouped(r: Recipe, group: Callable[[str], str], line: Callable[[int, str], str], between: str = "\n\n") -> str:
    blocks = []
    count = 0
    for name, lines in r.lists:
        block = []
        for text in lines:
            count += 1
            block.append(line(count, text))
        blocks.append((group(name) + "\n" if name else "") + "\n".join(block))
    return between.join(blocks)


def _method(r: Recipe, line: Callable[[int, str], str], between: str = "\n") -> str:
    return between.join(line(number, step) for number, step in enumerate(r.steps, 1))


def atx(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    bullet = rng.choice("-*+")
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}' + chr(10), lambda n, t: f'{bullet} {t}')}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}{_end(r)}"


def atx_tight(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng, 3)
    return f"{_top(r)}\n{a}\n{_grouped(r, lambda g: f'**{g}**', lambda n, t: f'- {t}', chr(10))}\n{b}\n{_method(r, lambda n, t: f'1. {t}')}{_end(r, '### Tips')}"


def setext(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(INGREDIENT_HEADINGS), rng.choice(METHOD_HEADINGS)
    top = _top(r, f"{r.title}\n{'=' * len(r.title)}")
    return f"{top}\n\n{a}\n{'-' * 12}\n\n{_grouped(r, lambda g: f'*{g}:*' + chr(10), lambda n, t: f'* {t}')}\n\n{b}\n------\n\n{_method(r, lambda n, t: t, chr(10) * 2)}{_end(r)}"


def bold_heads(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(["Ingredients", "Ingredients:", "You need"]), rng.choice(["Method", "Directions:", "Preparation"])
    return f"{_top(r, f'**{r.title}**')}\n\n**{a}**\n\n{_grouped(r, lambda g: f'*{g}*' + chr(10), lambda n, t: f'- {t}')}\n\n**{b}**\n\n{_method(r, lambda n, t: f'{n}) {t}')}\n"


def plain_heads(r: Recipe, rng: random.Random) -> str:
    a, b = (
        rng.choice(["Ingredients:", "INGREDIENTS", "You need:", "Ingredients"]),
        rng.choice(["Method:", "DIRECTIONS", "Instructions", "What to do:"]),
    )
    return f"{_top(r, r.title)}\n\n{a}\n\n{_grouped(r, lambda g: f'{g}:', lambda n, t: t)}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}\n"


def front_matter(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    quote = rng.choice(['"', "", "'"]) if "'" not in r.title and '"' not in r.title else ""
    return f"---\ntitle: {quote}{r.title}{quote}\ntags: [dinner, easy]\nservings: 4\nprep_time: 10 min\n---\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: f'- {t}')}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}{_end(r)}"


def all_in_front(r: Recipe, rng: random.Random) -> str:
    def quoted(text: str) -> str:
        return '"' + text.replace('"', '\\"') + '"'

    lists = "\n".join(f"  - {quoted(t)}" for t in r.ingredients)
    steps = "\n".join(f"  - {quoted(t)}" for t in r.steps)
    return f"---\ntitle: {quoted(r.title)}\ndate: 2024-03-01\ncategories:\n  - soups\n  - quick\nyield: 4 servings\ningredients:\n{lists}\ndirections:\n{steps}\n---\n\n{r.intro or 'Good.'}\n"


def checkboxes(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'#### {g}', lambda n, t: f'- [ ] {t}')}\n\n{b}\n\n{_method(r, lambda n, t: f'- [ ] {t}')}{_end(r)}"


def numbered_ingredients(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}' + chr(10), lambda n, t: f'{n}. {t}')}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}', chr(10) * 2)}{_end(r)}"


def table(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    rows = []
    for text in r.ingredients:
        match = re.match(r"((?:\d|½|~|a |one ).*?) (.*)", text)
        rows.append(f"| {match[1]} | {match[2]} |" if match else f"| | {text} |")
    return (
        f"{_top(r)}\n\n{a}\n\n| Amount | Ingredient |\n|---|:---|\n"
        + "\n".join(rows)
        + f"\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}{_end(r)}"
    )


def blank_lines_between(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}' + chr(10), lambda n, t: t + chr(10))}\n{b}\n\n{_method(r, lambda n, t: t, chr(10) * 2)}{_end(r)}"


def hard_breaks(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    stop = rng.choice(["  ", "\\", "<br>", "<br/>"])
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'**{g}**{stop}', lambda n, t: t + stop)}\n\n{b}\n\n{_method(r, lambda n, t: t, chr(10) * 2)}{_end(r)}"


def bold_amounts(r: Recipe, rng: random.Random) -> str:
    def line(_: int, text: str) -> str:
        match = re.match(r"([\d½][^ ]*(?: \d/\d)?(?: (?:cups?|tsp|tbsp|g|tablespoons?))?) (.*)", text)
        return f"- **{match[1]}** {match[2]}" if match else f"- {text}"

    a, b = _heads(rng)
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'_{g}_' + chr(10), line)}\n\n{b}\n\n{_method(r, lambda n, t: f'**{n}.** {t}', chr(10) * 2)}{_end(r)}"


def step_words(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    form = rng.choice(
        [
            "Step {n}: {t}",
            "**Step {n}:** {t}",
            "{n}\\. {t}",
            "Step {n} - {t}",
            "{n}: {t}",
            "({n}) {t}",
            "**Step {n}.** {t}",
        ]
    )
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'{g}:' + chr(10), lambda n, t: f'• {t}')}\n\n{b}\n\n{_method(r, lambda n, t: form.format(n=n, t=t), chr(10) * 2)}{_end(r)}"


def step_headings(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    form = rng.choice(["### Step {n}\n\n{t}", "### Step {n}: On we go\n\n{t}", "**Step {n}**\n\n{t}", "#### {n}.\n{t}"])
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}' + chr(10), lambda n, t: f'- {t}')}\n\n{b}\n\n{_method(r, lambda n, t: form.format(n=n, t=t), chr(10) * 2)}{_end(r)}"


def step_groups(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    cut = max(1, len(r.steps) // 2)
    mark = rng.choice(["1. ", "", "- "])
    between = "\n\n" if not mark else "\n"
    first = between.join(mark + t for t in r.steps[:cut])
    second = between.join(mark + t for t in r.steps[cut:])
    name = rng.choice(["### {}", "**{}**", "#### {}:"])
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: f'- {t}')}\n\n{b}\n\n{name.format('Make the dough')}\n\n{first}\n\n{name.format('Finish')}\n\n{second}{_end(r)}"


def _wrapped(text: str, width: int, indent: str) -> str:
    lines, line = [], ""
    for word in text.split():
        if line and len(line) + 1 + len(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return ("\n" + indent).join([*lines, line])


def wrapped(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    width = rng.choice([30, 44, 60])
    lazy = rng.choice(["", "   "])
    listed = rng.random() < 0.5
    body = (
        _method(r, lambda n, t: f"{n}. {_wrapped(t, width, lazy)}")
        if listed
        else _method(r, lambda n, t: _wrapped(t, width, ""), "\n\n")
    )
    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: '- ' + _wrapped(t, 25, '  '))}\n\n{b}\n\n{body}{_end(r)}"


def nested_groups(r: Recipe, rng: random.Random) -> str:
    blocks = []
    for name, lines in r.lists:
        if name:
            blocks.append(f"- {name}:")
        blocks += [("    " if name else "") + f"- {t}" for t in lines]
    a, b = _heads(rng)
    return f"{_top(r)}\n\n{a}\n\n" + "\n".join(blocks) + f"\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}{_end(r)}"


def links_and_pictures(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)

    def line(n: int, t: str) -> str:
        head, _, last = t.rpartition(" ")
        return (
            f"- {head} [{last}](https://example.org/{n})"
            if head and n % 3 == 0 and "(" not in last and ")" not in last
            else f"- {t}"
        )

    def step(n: int, t: str) -> str:
        return f"{n}. {t}" + (f"\n\n   ![step {n}](img/{n}.jpg)\n" if n % 2 == 0 else "")

    return f"<!-- imported -->\n# {r.title}\n\n![the dish](dish.jpg)\n\n> It was good.\n\n---\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', line)}\n\n---\n\n{b}\n\n{_method(r, step)}\n\n---\n\nSource: <https://example.org>[^1]\n\n[^1]: An old book.\n"


def foreign(r: Recipe, rng: random.Random) -> str:
    a, b = rng.choice(FOREIGN)
    form = rng.choice(["## {}", "**{}**", "{}:", "### {}"])
    return f"{_top(r)}\n\n{form.format(a)}\n\n{_grouped(r, lambda g: f'*{g}*' + chr(10), lambda n, t: f'- {t}')}\n\n{form.format(b)}\n\n{_method(r, lambda n, t: f'{n}. {t}')}\n"


def no_headings(r: Recipe, rng: random.Random) -> str:
    mark = rng.choice(["1. ", ""])
    return f"# {r.title}\n\n{_grouped(r, lambda g: f'**{g}**' + chr(10), lambda n, t: f'- {t}')}\n\n{_method(r, lambda n, t: mark + t, chr(10) * (1 if mark else 2))}\n"


def only_ingredients_headed(r: Recipe, rng: random.Random) -> str:
    return f"# {r.title}\n\n## Ingredients\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: f'- {t}')}\n\n{_method(r, lambda n, t: f'{n}. {t}')}\n"


def components(r: Recipe, rng: random.Random) -> str:
    if len(r.lists) < 2 or len(r.steps) < 2:
        return atx(r, rng)
    cut = max(1, len(r.steps) // 2)
    parts = [r.steps[:cut], r.steps[cut:]]
    out = f"# {r.title}\n"
    for (name, lines), steps in zip(r.lists, parts, strict=True):
        items = "\n".join(f"- {t}" for t in lines)
        numbered = "\n".join(f"{n}. {t}" for n, t in enumerate(steps, 1))
        out += f"\n## {name or 'Base'}\n\n### Ingredients\n\n{items}\n\n### Method\n\n{numbered}\n"
    return out


def html_parts(r: Recipe, rng: random.Random) -> str:
    items = "\n".join(f"<li>{t}</li>" for t in r.ingredients)
    steps = "\n".join(f"  <li>{t}</li>" for t in r.steps)
    return (
        f"<h1>{r.title}</h1>\n\n<h2>Ingredients</h2>\n<ul>\n{items}\n</ul>\n\n<h2>Method</h2>\n<ol>\n{steps}\n</ol>\n"
    )


def method_first(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return f"{_top(r)}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: f'- {t}')}\n"


def title_last_level(r: Recipe, rng: random.Random) -> str:
    return f"## {r.title}\n\n{r.intro or ''}\n\n#### Ingredients\n{_grouped(r, lambda g: f'##### {g}', lambda n, t: f'* {t}')}\n\n#### Directions\n{_method(r, lambda n, t: f'* {t}')}{_end(r, '#### Notes')}"


def facts_table(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)
    return f"# {r.title}\n\n| Prep | Cook | Serves |\n|------|------|--------|\n| 10 min | 1 hour | 4 |\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', lambda n, t: f'+ {t}')}\n\n{b}\n\n{_method(r, lambda n, t: t, chr(10) * 2)}{_end(r)}"


def windows_ends(r: Recipe, rng: random.Random) -> str:
    return atx(r, rng).replace("\n", "\r\n")


def nested_sections(r: Recipe, rng: random.Random) -> str:
    items = "\n".join(f"  - {t}" for t in r.ingredients)
    steps = "\n".join(f"  {n}. {t}" for n, t in enumerate(r.steps, 1))
    return f"# {r.title}\n\n- **Ingredients**\n{items}\n- **Directions**\n{steps}\n"


def sub_notes(r: Recipe, rng: random.Random) -> str:
    a, b = _heads(rng)

    def line(n: int, t: str) -> str:
        return f"- {t}" + ("\n  - or whatever is in the cupboard" if n % 4 == 0 else "")

    return f"{_top(r)}\n\n{a}\n\n{_grouped(r, lambda g: f'### {g}', line)}\n\n{b}\n\n{_method(r, lambda n, t: f'{n}. {t}')}{_end(r)}"


def sub_headed_recipe(r: Recipe, rng: random.Random) -> str:
    return f"# {r.title}\n\n{r.intro or 'Hello.'}\n\n## Recipe\n\n### Ingredients\n\n{_grouped(r, lambda g: f'#### {g}', lambda n, t: f'- {t}')}\n\n### Instructions\n\n{_method(r, lambda n, t: f'{n}. {t}')}\n\n## Why I like it\n\nIt is quick.\n"


def quoted_mail(r: Recipe, rng: random.Random) -> str:
    body = f"Hello you,\n\n{r.title}\n\nYou need:\n{_grouped(r, lambda g: f'{g}:', lambda n, t: t)}\n\nMethod:\n{_method(r, lambda n, t: f'{n}. {t}')}\n\nLove,\nOda"
    return "\n".join(f"> {line}".rstrip() for line in body.split("\n")) + "\n"


HANDS = [
    atx, atx_tight, setext, bold_heads, plain_heads, front_matter, all_in_front, checkboxes, numbered_ingredients, table, blank_lines_between, hard_breaks, bold_amounts, step_words,
    step_headings, step_groups, wrapped, nested_groups, links_and_pictures, foreign, no_headings, only_ingredients_headed, components, html_parts, method_first, title_last_level, facts_table,
    windows_ends, nested_sections, sub_notes, sub_headed_recipe, quoted_mail,
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
