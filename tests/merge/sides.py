"""Strategies: an invented card, and what several people do to it."""

from dataclasses import dataclass, replace
from unicodedata import normalize

from hypothesis import strategies as st

AMOUNTS = ("1", "2", "3", "1/2", "1 1/2", "0.5", "4")
UNITS = ("cup", "tbsp", "lb", "g", "can (14.5 oz)")
ITEMS = ("flour", "white fish", "butter", "milk", "leeks", "bread crumbs", "salt", "crème fraîche", "eggs", "parsley")
PREPARATIONS = ("", ", chopped", ", sifted", ", at room temperature")
STEPS = (
    "Heat the oven until it is very hot.",
    "Mix everything in a large bowl with a wooden spoon.",
    "Pour into the pan and smooth the top with a knife.",
    "Bake until golden and bubbling at the edges, about 25 minutes.",
    "Leave to stand for ten minutes before serving.",
    "Stir in the parsley at the very end.",
)
NOTES = ("Too salty at Easter.", "Freezes well.", "Grandmother used lard.", "Good with peas.")
EDITS = (
    "amount", "preparation", "add", "remove", "step", "add step", "remove step", "note", "tags", "serves", "title",
    "order",
)  # fmt: skip
TAGS = ("casserole", "quick", "freezes well", "Sunday")


@dataclass(frozen=True)
class Made:
    """A card as its parts: lines are (amount, unit, item, preparation)."""

    title: str = "Harbour Bake"
    serves: str = "6"
    tags: tuple[str, ...] = ("casserole",)
    lines: tuple[tuple[str, str, str, str], ...] = ()
    steps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def text(self, bullet: str = "  ", end: str = "\n", form: str = "NFC") -> bytes:
        """The card as somebody types it."""
        head = [self.title, f"serves: {self.serves}"]
        head += [f"tags: {', '.join(self.tags)}"] if self.tags else []
        body = ["", "Ingredients", *(bullet + line_text(*line) for line in self.lines)]
        body += ["", "Method", *(f"  {n}. {step}" for n, step in enumerate(self.steps, start=1))]
        body += ["", "Notes", *(f"  {note}" for note in self.notes)] if self.notes else []
        return normalize(form, end.join([*head, *body, ""])).encode()


def line_text(amount: str, unit: str, item: str, preparation: str) -> str:
    """An ingredient line."""
    if unit == "cup" and amount not in ("1", "1/2", "0.5"):
        unit = "cups"
    return f"{amount} {unit} {item}{preparation}"


@st.composite
def cards(draw: st.DrawFn) -> Made:
    """A card of two to five ingredients and two to four steps."""
    items = draw(st.lists(st.sampled_from(ITEMS), min_size=2, max_size=5, unique=True))
    lines = tuple(draw(lines_of(item)) for item in items)
    steps = tuple(draw(st.lists(st.sampled_from(STEPS), min_size=2, max_size=4, unique=True)))
    notes = tuple(draw(st.lists(st.sampled_from(NOTES), max_size=2, unique=True)))
    return Made(lines=lines, steps=steps, notes=notes)


def lines_of(item: str) -> st.SearchStrategy[tuple[str, str, str, str]]:
    """A line about one thing."""
    return st.tuples(st.sampled_from(AMOUNTS), st.sampled_from(UNITS), st.just(item), st.sampled_from(PREPARATIONS))


@st.composite
def edited(draw: st.DrawFn, base: Made, kinds: tuple[str, ...] = EDITS) -> Made:
    """The card after one person's edits."""
    made = base
    for _ in range(draw(st.integers(1, 3))):
        made = _edit(draw, made, kinds)
    return made


@st.composite
def texts(draw: st.DrawFn, base: Made, laid_out: bool = True) -> bytes:
    """The bytes of the card after one person's edits, now and then laid out anew."""
    if not laid_out:
        return draw(edited(base, EDITS[:-1])).text()
    made = draw(edited(base))
    bullet = draw(st.sampled_from(("  ", "  ", "  ", "- ")))
    end = draw(st.sampled_from(("\n", "\n", "\n", "\r\n")))
    form = draw(st.sampled_from(("NFC", "NFC", "NFC", "NFD")))
    return made.text(bullet, end, form)


@st.composite
def meetings(draw: st.DrawFn, sides: int = 2, layouts: int = 9) -> tuple[bytes, list[bytes]]:
    """A base and several people's edits of it, of whom the first `layouts` may lay it out anew."""
    base = draw(cards())
    return base.text(), [draw(texts(base, laid_out=n < layouts)) for n in range(sides)]


def _edit(draw: st.DrawFn, made: Made, kinds: tuple[str, ...]) -> Made:
    kind = draw(st.sampled_from(kinds))
    at = draw(st.integers(0, max(len(made.lines) - 1, 0)))
    step = draw(st.integers(0, max(len(made.steps) - 1, 0)))
    if kind in ("amount", "preparation") and made.lines:
        amount, unit, item, preparation = made.lines[at]
        if kind == "amount":
            amount = draw(st.sampled_from(AMOUNTS))
            unit = draw(st.sampled_from((unit, unit, "g", "cup")))
        else:
            preparation = draw(st.sampled_from(PREPARATIONS))
        return replace(made, lines=(*made.lines[:at], (amount, unit, item, preparation), *made.lines[at + 1 :]))
    if kind == "add":
        free = [item for item in ITEMS if item not in {line[2] for line in made.lines}]
        line = draw(lines_of(draw(st.sampled_from(free))))
        return replace(made, lines=(*made.lines[:at], line, *made.lines[at:]))
    if kind == "remove" and len(made.lines) > 1:
        return replace(made, lines=(*made.lines[:at], *made.lines[at + 1 :]))
    if kind == "step" and made.steps:
        words = made.steps[step].rstrip(".") + draw(st.sampled_from((", gently.", ", for a minute or two.", "!")))
        return replace(made, steps=(*made.steps[:step], words, *made.steps[step + 1 :]))
    if kind == "add step":
        free = [text for text in STEPS if text not in made.steps]
        if free:
            return replace(made, steps=(*made.steps[:step], draw(st.sampled_from(free)), *made.steps[step:]))
    if kind == "remove step" and len(made.steps) > 1:
        return replace(made, steps=(*made.steps[:step], *made.steps[step + 1 :]))
    if kind == "note":
        return replace(made, notes=tuple(draw(st.lists(st.sampled_from(NOTES), max_size=3, unique=True))))
    if kind == "tags":
        return replace(made, tags=tuple(draw(st.lists(st.sampled_from(TAGS), max_size=3, unique=True))))
    if kind == "serves":
        return replace(made, serves=draw(st.sampled_from(("6", "8", "12"))))
    if kind == "title":
        return replace(made, title=draw(st.sampled_from(("Harbour Bake", "Harbour Fish Bake", "Quayside Bake"))))
    if kind == "order":
        return replace(made, lines=tuple(reversed(made.lines)))
    return made
