"""A family that adds, edits, moves and deletes versions and its own card, merges, and brings editions back."""

import os
import shutil
import tempfile
from collections import Counter
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, precondition, rule

from recipebox.box import create
from recipebox.cards.reader import read_cards
from recipebox.family import history_data, merge_dish
from recipebox.history import open_history
from recipebox.index import open_index

_LONG = os.environ.get("RECIPEBOX_LONG") == "1"
_CORE = {
    "potatoes": (800, "Boil the potatoes until soft and drain them."),
    "white beans": (400, "Rinse the white beans under cold water."),
    "spinach": (250, "Wilt the spinach in a hot pan."),
    "pumpkin": (600, "Roast the pumpkin for half an hour."),
    "ham": (180, "Fry the ham until crisp."),
    "rice": (200, "Simmer the rice until it is tender."),
}
_EXTRA = {
    "olives": (60, "Scatter the olives over."),
    "mushrooms": (150, "Slice the mushrooms thinly."),
    "sweetcorn": (120, "Tip in the sweetcorn."),
}
_NAMES = ("Ada", "Bo", "Cleo", "Dov", "Edda", "Finn")
_FAMILY = "family/tray-supper.txt"

places = st.integers(0, 5)


class Families(RuleBasedStateMachine):
    """What a family does with one dish, with a ledger of what it wrote into its own card by hand."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.box = create(self.folder / "box", "kitchen")
        self.index = open_index(self.box)
        self.history = open_history(self.box)
        self.versions: list[Path] = []
        self.by_hand: list[str] = []
        self.editions: list[str] = []
        self.count = 0

    @initialize()
    def two_to_start(self) -> None:
        """Every family starts with two versions."""
        self.add(None, [], 1)
        self.add("ham", ["olives"], 2)

    @precondition(lambda self: self.count < len(_NAMES))
    @rule(
        dropped=st.sampled_from([None, *_CORE]),
        added=st.lists(st.sampled_from(sorted(_EXTRA)), max_size=2, unique=True),
        times=st.sampled_from((1, 1, 2)),
    )
    def add(self, dropped: str | None, added: list[str], times: int) -> None:
        """Somebody's version arrives."""
        name = _NAMES[self.count]
        self.count += 1
        have = [one for one in _CORE if one != dropped] + added
        foods = {**_CORE, **_EXTRA}
        lines = "\n".join(f"  {foods[one][0] * times} g {one}" for one in have)
        steps = [foods[one][1] for one in have] + [f"Put all in a dish the way {name} likes it and bake."]
        method = "\n".join(f"  {number}. {step}" for number, step in enumerate(steps, start=1))
        text = f"Tray Supper\nfrom: {name}\nserves: {4 * times}\n\nIngredients\n{lines}\n\nMethod\n{method}\n"
        file = self.box.root / "versions" / f"{name.lower()}.txt"
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
        self.versions.append(file)

    @rule(whose=places, which=places, grams=st.integers(1, 40))
    def edit_version(self, whose: int, which: int, grams: int) -> None:
        """Somebody changes an amount in a version."""
        file = self.versions[whose % len(self.versions)]
        lines = file.read_text("utf-8").split("\n")
        amounts = [at for at, line in enumerate(lines) if line.startswith("  ") and " g " in line]
        at = amounts[which % len(amounts)]
        lines[at] = f"  {grams * 25} g {lines[at].split(' g ')[1]}"
        file.write_text("\n".join(lines), encoding="utf-8")

    @precondition(lambda self: self.editions)
    @rule(which=places, what=st.sampled_from(("amount", "step", "note")))
    def edit_family(self, which: int, what: str) -> None:
        """Somebody changes the family's card in an editor: an amount, a step, a remark."""
        lines = self._family().split("\n")
        mark = f"by hand {len(self.by_hand) + 1}"
        if what == "note":
            at = lines.index("Versions")
            new = f"  Easter {2000 + len(self.by_hand)}, Ada: {mark}"
            lines[at:at] = ["Notes", new, ""] if "Notes" not in lines else []
            if new not in lines:
                lines.insert(lines.index("Notes") + 1, new)
                lines.insert(lines.index("Notes") + 2, "")
        else:
            start, end = ("Ingredients", "Method") if what == "amount" else ("Method", "Versions")
            there = range(lines.index(start) + 1, lines.index(end))
            fit = [at for at in there if lines[at].startswith("  ") and (what == "amount" or lines[at][2:3].isdigit())]
            fit = [at for at in fit if what == "amount" or ". " in lines[at][:5]]
            at = fit[which % len(fit)]
            self.by_hand = [one for one in self.by_hand if one not in lines[at]]
            new = f"{lines[at].rstrip('.')}, {mark}" if what == "amount" else f"{lines[at].rstrip('.')}, {mark}."
            lines[at] = new
        self.by_hand.append(mark)
        (self.box.root / _FAMILY).write_text("\n".join(lines), encoding="utf-8")

    @rule(whose=places)
    def move(self, whose: int) -> None:
        """Somebody tidies a version into another folder."""
        at = whose % len(self.versions)
        old = self.versions[at]
        new = self.box.root / ("letters" if old.parent.name == "versions" else "versions") / old.name
        new.parent.mkdir(exist_ok=True)
        old.rename(new)
        self.versions[at] = new
        self.history.snapshot("Edited by hand")

    @precondition(lambda self: len(self.versions) > 2 and self.editions)
    @rule(whose=places)
    def delete(self, whose: int) -> None:
        """Somebody throws a version away."""
        self.history.snapshot("Edited by hand")
        self.versions.pop(whose % len(self.versions)).unlink()

    @rule(why=st.sampled_from((None, "for Easter")))
    def merge(self, why: str | None) -> None:
        """The family merges: hand edits stay, every line is accounted for, versions are untouched, once is enough."""
        before = {file: file.read_bytes() for file in self.versions}
        made = merge_dish(self.box, self.index, self.history, "Tray Supper", write=True, why=why)
        assert made.data["path"] == _FAMILY
        assert before == {file: file.read_bytes() for file in self.versions}
        text = self._family()
        for mark in self.by_hand:
            assert mark in text, f"lost: {mark}"
        assert made.data["undecided"] == []
        self._accounted(made.data)
        again = merge_dish(self.box, self.index, self.history, "Tray Supper", write=True)
        assert (again.changed, again.written, self._family()) == (False, False, text)
        self._remember(text)

    @precondition(lambda self: self.editions)
    @rule(which=st.integers(1, 30))
    def bring_back(self, which: int) -> None:
        """The family makes an earlier edition current: its bytes are back, as a new edition."""
        self.history.snapshot("Edited by hand")
        self._remember(self._family())
        number = which % len(self.editions) + 1
        history_data(self.box, self.index, self.history, _FAMILY, bring_back=str(number))
        text = self._family()
        assert _words(text) == _words(self.editions[number - 1])
        self.by_hand = [mark for mark in self.by_hand if mark in text]
        self._remember(text)

    @precondition(lambda self: self.editions)
    @rule()
    def look(self) -> None:
        """Every text the family's card ever had at a merge or a bringing back is one of its editions, in order."""
        self.history.snapshot("Edited by hand")
        self._remember(self._family())
        kept = [edition.text.decode() for edition in self.history.editions(_FAMILY)]
        assert kept == self.editions
        whose = history_data(self.box, self.index, self.history, _FAMILY, whose=True).data
        assert all(line["since"] for line in whose["lines"])

    def teardown(self) -> None:
        """Leave nothing behind."""
        self.index.close()
        shutil.rmtree(self.folder)

    def _family(self) -> str:
        return (self.box.root / _FAMILY).read_text("utf-8")

    def _remember(self, text: str) -> None:
        kept = [edition.text.decode() for edition in self.history.editions(_FAMILY)]
        assert kept[: len(self.editions)] == self.editions, "an edition is gone"
        assert kept[-1] == text
        self.editions = kept

    def _accounted(self, data: dict[str, object]) -> None:
        """Each ingredient line and step of each version once, in `lines` or `not_taken`."""
        lines, not_taken = data["lines"], data["not_taken"]
        assert isinstance(lines, list)
        assert isinstance(not_taken, list)
        left = Counter(one["path"] for one in not_taken)
        taken = Counter(path for line in lines if line["part"] in ("ingredient", "step") for path in line["from"])
        for file in self.versions:
            path = file.relative_to(self.box.root).as_posix()
            card = read_cards(file.read_bytes(), path)[0]
            assert left[path] + taken[path] == len(card.ingredients) + len(card.steps), path
            rows = [(one["line"], one["text"]) for one in not_taken if one["path"] == path]
            assert len(set(rows)) == len(rows)
            assert set(rows) <= {(one.line, one.text) for one in (*card.ingredients, *card.steps)}


def _words(text: str) -> list[str]:
    """What stands in a card, the paths of versions aside: they follow moves."""
    return [line.partition(": ")[0] if ".txt" in line else line for line in text.split("\n")]


TestFamilies = Families.TestCase
TestFamilies.settings = settings(
    max_examples=200 if _LONG else 6,
    stateful_step_count=30 if _LONG else 12,
    deadline=None,
)
