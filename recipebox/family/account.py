"""Where every ingredient line of every version went: into the recipe, to Swaps, Some add or a variation, or nowhere."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from recipebox.cards.model import Ingredient, SomeAdd, Variation
from recipebox.cards.shape import batch_words
from recipebox.cards.things import thing
from recipebox.family.groups import Groups, variation_name
from recipebox.family.lineup import LineUp
from recipebox.family.model import Choices, FoundSwap, NotTaken, Source, aside, plain_item
from recipebox.family.rows import alike
from recipebox.family.sentences import calm
from recipebox.family.swaps import amounts_of, chosen_swaps, stands_in, swap_between, swaps_together
from recipebox.family.taking import Listed, Taken, cuts_whole, kin, most_like_base, one_of, written_for
from recipebox.family.told import told_swaps


@dataclass(frozen=True)
class Account:
    """`sources` has, for each listed line, the versions' lines that say the same."""

    sources: tuple[tuple[Source, ...], ...]
    swaps: tuple[FoundSwap, ...]
    some_add: tuple[tuple[SomeAdd, tuple[str, ...]], ...]
    variations: tuple[tuple[Variation, tuple[str, ...]], ...]
    not_taken: tuple[NotTaken, ...]


def account_for(lineup: LineUp, groups: Groups, taken: Taken, choices: Choices, asked: Collection[str] = ()) -> Account:
    """Follow each ingredient line of each version to one place, and gather what goes below the method.

    `asked` are items chosen just now. Raises FamilyError for a chosen swap that has nothing to stand in for.
    """
    book = _Book(lineup, groups, taken, chosen_swaps(lineup, taken, choices, asked))
    for called in sorted(lineup.cards):
        for line in lineup.cards[called].ingredients:
            book.enter(called, line)
    return Account(
        tuple(tuple(found) for found in book.sources),
        tuple(swaps_together(found for _, found in sorted(book.swaps, key=lambda pair: pair[0]))),
        tuple(_some_add(lineup, book.added)),
        tuple(_variations(lineup, groups)),
        tuple(book.not_taken),
    )


class _Book:
    def __init__(
        self, lineup: LineUp, groups: Groups, taken: Taken, swapped: Mapping[tuple[str, int], Sequence[int]]
    ) -> None:
        self.lineup, self.groups, self.taken, self.swapped = lineup, groups, taken, swapped
        self.sources: list[list[Source]] = [[] for _ in taken.listed]
        self.swaps: list[tuple[int, FoundSwap]] = []
        self.added: list[tuple[int, str, Ingredient]] = []
        self.not_taken: list[NotTaken] = []
        self.of_row = {at: number for number, one in reversed(list(enumerate(taken.listed))) for at in one.rows}
        self.told = _told_of(lineup, taken)

    def enter(self, called: str, line: Ingredient) -> None:
        source = Source(called, line.line, line.text)
        own = next((n for n, one in enumerate(self.taken.listed) if one.called == called and one.line is line), None)
        if own is not None:
            self.sources[own].append(source)
        elif self.groups.apart(called, (line,)) or self._replaced_group(called, line):
            why = f"{self.lineup.cards[called].name}'s own {self.groups.kind_of(called)}, whole"
            self.not_taken.append(NotTaken(source, "variation", why))
        elif any(one is line for one in self.groups.with_it.get(called, ())):
            self.not_taken.append(NotTaken(source, "swap", "it goes with what stands in"))
        else:
            self._by_row(called, line, source)

    def _by_row(self, called: str, line: Ingredient, source: Source) -> None:
        rows = self.lineup.rows_of(called, line)
        met = [(at, self.of_row[at]) for at in rows if at in self.of_row]
        for at, number in met:
            listed = self.taken.listed[number]
            if not self.lineup.same_amount(self.lineup.rows[at], listed.called, called):
                continue
            if any(one.path == called for one in self.sources[number]):
                why = f'the same, with others, as "{listed.written.text}"'
                self.not_taken.append(NotTaken(source, "version", why, listed.written.text))
            else:
                self.sources[number].append(source)
            return
        things = [thing(item) for item in line.items]
        extra = next((number for at in rows for number in self.swapped.get((called, at), ())), None)
        extra = next((self.told[called, name] for name in things if (called, name) in self.told), extra)
        if extra is not None:
            self._swap(called, line, source, self.taken.listed[extra], rows[0])
        elif met:
            self._otherwise(called, line, source, *met[0])
        elif aside(line):
            self.not_taken.append(NotTaken(source, "version", "not a part of the dish itself"))
        else:
            why = next((self.taken.out[at] for at in rows if at in self.taken.out), "few have it")
            self.added.append((rows[0], called, line))
            self.not_taken.append(NotTaken(source, "some add", why))

    def _otherwise(self, called: str, line: Ingredient, source: Source, at: int, number: int) -> None:
        """A line that meets a listed one, but names another thing or amount."""
        listed = self.taken.listed[number]
        row = self.lineup.rows[at]
        if not alike(row.cells[called].thing, row.cells[listed.called].thing):
            own, other = row.cells[listed.called], row.cells[called]
            factor = self.lineup.batch[called] / self.lineup.batch[listed.called]
            if kin(own.thing, other.thing) or stands_in(own.ingredient, other.ingredient, factor):
                self._swap(called, line, source, listed, at)
            else:
                self.added.append((at, called, line))
                why = f'too much or too little to stand in for "{listed.written.text}"'
                self.not_taken.append(NotTaken(source, "some add", why))
            return
        much = amounts_of(listed.written, row.cells[called].ingredient, self.lineup.batch[called])
        why = f'another amount than "{listed.written.text}"' + (f": {much}" if much else "")
        self.not_taken.append(NotTaken(source, "version", why, listed.written.text))

    def _swap(self, called: str, line: Ingredient, source: Source, listed: Listed, at: int) -> None:
        cells = self.lineup.rows[at].cells
        item = listed.written
        if at in listed.rows and listed.called in cells:
            item = one_of(item, cells[listed.called].thing)
        instead = one_of(line, cells[called].thing)
        if instead is line:
            # Two lines of one thing ("3 tbsp oil", "1 tbsp oil") stand in together.
            instead = replace(line, **_amounts(cells[called].ingredient))
        more = self.groups.with_it.get(called, ()) if at in listed.rows else ()
        swap = swap_between(self.lineup.cards[called], item, instead, self.lineup.batch[called], more)
        self.swaps.append((self.taken.listed.index(listed), FoundSwap(swap, (called,))))
        self.not_taken.append(NotTaken(source, "swap", f"in place of {swap.item}", listed.written.text))

    def _replaced_group(self, called: str, line: Ingredient) -> bool:
        return called == self.lineup.base.called and self.groups.called != called and self.groups.holds(called, line)


def _told_of(lineup: LineUp, taken: Taken) -> dict[tuple[str, str], int]:
    """What versions tell in words: (version, the thing it used) to the listed line that it stood in for."""
    listed = [one.written for one in taken.listed]
    found: dict[tuple[str, str], int] = {}
    for called, card in sorted(lineup.cards.items()):
        for told in told_swaps(card, listed):
            for number, line in enumerate(listed):
                if plain_item(line) == told.swap.item:
                    found.setdefault((called, thing(told.swap.instead)), number)
    return found


def _amounts(line: Ingredient) -> dict[str, Any]:
    return {name: getattr(line, name) for name in ("amount", "unit", "container", "plus", "also")}


def _some_add(lineup: LineUp, added: Sequence[tuple[int, str, Ingredient]]) -> list[tuple[SomeAdd, tuple[str, ...]]]:
    """One entry a thing, in the words of the version fittest to stand among the base's lines."""
    entries: list[tuple[int, str, list[tuple[str, Ingredient]]]] = []
    for at, called, line in sorted(added, key=lambda one: one[:2]):
        common = lineup.rows[at].cells[called].thing
        alike_ones = [e for e in entries if alike(e[1], common)]
        found = next((e for e in alike_ones if e[0] == at), None)
        if found is None:
            found = next((e for e in alike_ones if called not in [path for path, _ in e[2]]), None)
        if found is None:
            entries.append((at, common, [(called, line)]))
        else:
            found[2].append((called, line))
    result = []
    for at, common, having in sorted(entries, key=lambda entry: entry[0]):
        called, line = min(having, key=lambda pair: most_like_base(lineup, pair[0]))
        paths = tuple(dict.fromkeys(sorted(path for path, _ in having)))
        who = tuple(sorted(dict.fromkeys(lineup.cards[path].name for path in paths)))
        written = written_for(lineup, called, line, None)
        if line.group and any(other[0] != at and alike(other[1], common) for other in entries):
            written = replace(written, text=f"{written.text}, {_for_group(line.group)}")
        result.append((SomeAdd(written, who), paths))
    return result


def _for_group(group: str) -> str:
    """ "for the frosting", of a group called "Frosting" or "For the frosting"."""
    return f"for the {re.sub(r'^for (?:the )?', '', group.strip().rstrip(':'), flags=re.IGNORECASE).lower()}"


def _variations(lineup: LineUp, groups: Groups) -> list[tuple[Variation, tuple[str, ...]]]:
    varied = dict(groups.varied)
    base = lineup.base.called
    if groups.called != base and groups.own.get(base):
        varied[base] = groups.own[base]
    return [(_variation(lineup, called, lines), (called,)) for called, lines in sorted(varied.items())]


def _variation(lineup: LineUp, called: str, lines: Sequence[Ingredient]) -> Variation:
    """A version's own batter on the base's batch; where that would take half an egg, as its cook makes it."""
    batch = lineup.batch[called]
    name = variation_name(lineup.cards[called], lines)
    if batch == 1 or not any(cuts_whole(line, batch) for line in lines):
        return Variation(name, tuple(written_for(lineup, called, line, None) for line in lines))
    who, colon, what = name.partition(": ")
    return Variation(
        f"{who}, {batch_words(batch)}{colon}{what}",
        tuple(replace(line, text=calm(line.text.strip()), group=None) for line in lines),
    )
