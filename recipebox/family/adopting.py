"""Weaving into the base's method what was adopted from other versions: in their words, else in a plain sentence."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from recipebox.cards.model import Card, Ingredient
from recipebox.cards.things import part_in_dish, thing
from recipebox.family.crediting import Method, Step, pairs
from recipebox.family.joining import SEASONING, beside, named, placed, sentence_after, sentence_of_our_own, verb_before
from recipebox.family.lineup import LineUp
from recipebox.family.model import Source
from recipebox.family.sentences import calm, mentions, said, sentences
from recipebox.family.taking import Listed, Taken
from recipebox.family.weaving import names, takes_everything

_FAT = ("fat", "pan coating")
# Words of one cook's method that mean nothing in another's: what is left of a thing, and what it is cooked in.
_LEFT = re.compile(
    r"^(?:remove|discard|take out|fish out|drain)\b|\b(?:remaining|rest|other half|reserved|leftover|set aside"
    r"|step|above|below|second|third|another)\b",
    re.IGNORECASE,
)
_OTHERS = re.compile(
    r"\b(?:meat|mixture|batter|dough|sauce|juices|drippings|everything|it|them|vegetables|veg|pasta|filling|topping|cheese"
    r"|ingredients|rest|mix|glaze|icing|pastry|crust|fruit|salad|stew|soup|casserole)\b",
    re.IGNORECASE,
)
_COOKED_IN = re.compile(
    r"\b(?:slow cooker|pressure cooker|crock|microwave|griddle|grill|broiler|blender|processor|air fryer|wok)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Told:
    """A sentence of another version that names a thing: the version's sentences in order, and which of them."""

    card: Card
    whole: Sequence[tuple[int, str]]
    at: int

    @property
    def text(self) -> str:
        return self.whole[self.at][1]

    @property
    def source(self) -> Source:
        passage = self.card.steps[self.whole[self.at][0]]
        return Source(self.card.called, passage.line, passage.text)


def weave_in(
    lineup: LineUp, taken: Taken, foreign_of: dict[str, list[Ingredient]], method: Method
) -> list[tuple[Step, Source]]:
    """Give each listed ingredient that no step names a place, from the version it came from; a note where none fits.

    `foreign_of` has, for each version, its things that are not listed. Returns the steps with the sources they gained.
    """
    credit: list[tuple[Step, Source]] = []
    left: list[tuple[Step, int | None, Listed]] = []
    base = lineup.base.called
    for number, one in enumerate(taken.listed):
        if not method.steps or any(_speaks(step.text, one, lineup) for step in method.steps):
            continue
        listed = [other.written for other in taken.listed if other is not one]
        told = _told(lineup, one)
        found = _in_their_words(lineup, method, one, told, listed, foreign_of)
        if found:
            credit.append(found)
        elif one.called != base or thing(one.written.item) in SEASONING:
            place = _place(lineup, taken, method, number, told, listed)
            if place is None:
                method.homeless += one.rows
            else:
                left.append((*place, one))
        else:
            method.notes.append(f"No card says in its method when to add the {named(one.written)}.")
    _in_our_own(left)
    return credit


def _in_our_own(left: Sequence[tuple[Step, int | None, Listed]]) -> None:
    places = dict.fromkeys((id(step), at) for step, at, _ in left)
    # From the last sentence to the first, so that the numbers of those before stay.
    for key in sorted(places, key=lambda place: -1 if place[1] is None else place[1], reverse=True):
        here = [(step, named(one.written)) for step, at, one in left if (id(step), at) == key]
        step, items = here[0][0], [item for _, item in here]
        sentence = sentence_of_our_own(items)
        step.text = placed(step.text, sentence) if key[1] is None else sentence_after(step.text, key[1], sentence)
        step.rule += f", with {' and '.join(items)}"


def _speaks(text: str, one: Listed, lineup: LineUp) -> bool:
    """Whether a step speaks of a listed thing: by name if it was adopted, else also with others ("the rest of it")."""
    if one.called == lineup.base.called:
        return names(text, one.written)
    return bool(mentions(text, one.written)) or (takes_everything(text) and _names_few(lineup.base))


def _names_few(base: Card) -> bool:
    """Whether a card's method names less than half of what it lists ("Mix all together and bake.")."""
    method = " ".join(step.text for step in base.steps)
    return 2 * sum(bool(mentions(method, line)) for line in base.ingredients) < len(base.ingredients)


def _told(lineup: LineUp, one: Listed) -> list[_Told]:
    """Where other versions that have the thing name it: whose line it is first, then nearest the middle."""
    found = []
    for called in dict.fromkeys((one.called, *lineup.rank)):
        card = lineup.cards[called]
        if card is lineup.base or not any(called in lineup.rows[at].cells for at in one.rows):
            continue
        whole = [(j, sentence) for j, passage in enumerate(card.steps) for sentence in sentences(passage.text)]
        found += [_Told(card, whole, at) for at, (_, text) in enumerate(whole) if mentions(text, one.written)]
    return found


def _in_their_words(
    lineup: LineUp,
    method: Method,
    one: Listed,
    told: Sequence[_Told],
    listed: Sequence[Ingredient],
    foreign_of: dict[str, list[Ingredient]],
) -> tuple[Step, Source] | None:
    base = lineup.base
    have = {said(sentence) for step in method.steps for sentence in sentences(step.text)}
    own = " ".join(step.text for step in base.steps)
    for tell in told:
        with_it = _mates(tell.text, one, listed)
        if not any(mentions(tell.text, other) for other in listed) and not _company(lineup, tell, one, ()):
            quiet = calm(tell.text)
            foreign = any(names(quiet, line) for line in foreign_of[tell.card.called])
            vessel = _COOKED_IN.search(quiet)
            strange = (
                foreign
                or _LEFT.search(quiet)
                or _OTHERS.search(quiet)
                or (vessel and vessel.group().casefold() not in own.casefold())
            )
            if not strange and said(quiet) not in have and not re.search(r"[\d½¼¾⅓⅔⅛]", quiet):
                step, at = _between(lineup, method, tell, listed)
                sentence = quiet if quiet[-1:] in ".!?" else quiet + "."
                step.text = placed(step.text, sentence) if at is None else sentence_after(step.text, at, sentence)
                step.rule += f", with {named(one.written)} from {tell.card.name}"
                return step, tell.source
        elif one.called != base.called:
            done = verb_before(tell.text, mentions(tell.text, one.written)[0][0])
            for step, at, near in _sharing(method, with_it, done):
                if _is_fat(one) or 2 * len(near) <= _company(lineup, tell, one, with_it):
                    continue
                whole = sentences(step.text)
                changed = beside(whole[at], _nearest(tell.text, near, one.written), one.written, done)
                if changed:
                    step.text = " ".join([*whole[:at], changed, *whole[at + 1 :]])
                    step.rule += f", with {named(one.written)} from {tell.card.name}"
                    return step, tell.source
    return None


def _mates(text: str, one: Listed, listed: Sequence[Ingredient]) -> list[Ingredient]:
    """The listed things a sentence names beside this one; salt goes with all and so tells nothing, save of pepper."""
    named_there = [other for other in listed if mentions(text, other)]
    if thing(one.written.item) in SEASONING:
        return named_there
    return [other for other in named_there if thing(other.item) not in SEASONING]


def _company(lineup: LineUp, tell: _Told, one: Listed, with_it: Sequence[Ingredient]) -> int:
    """How many things the sentence has beside this one, those of its own card that are not listed too."""
    met = set(one.rows)
    own = [
        line
        for line in tell.card.ingredients
        if mentions(tell.text, line)
        and not met & set(lineup.rows_of(tell.card.called, line))
        and thing(line.item) not in SEASONING
    ]
    return max(len(with_it), len(own))


def _is_fat(one: Listed) -> bool:
    return part_in_dish(one.written.item) in _FAT


def _sharing(
    method: Method, things: Sequence[Ingredient], done: str | None = None
) -> list[tuple[Step, int, list[Ingredient]]]:
    """The method's sentences that name some of these things: most of them first, then where the same is `done` to
    them, then in order."""
    found = [
        (step, at, near)
        for step in method.steps
        for at, sentence in enumerate(sentences(step.text))
        if (near := [one for one in things if mentions(sentence, one)])
    ]

    def key(place: tuple[Step, int, list[Ingredient]]) -> tuple[int, bool]:
        step, at, near = place
        sentence = sentences(step.text)[at]
        same = any(verb_before(sentence, mentions(sentence, one)[0][0]) == done for one in near) if done else False
        return -len(near), not same

    return sorted(found, key=key)


def _nearest(text: str, near: Sequence[Ingredient], line: Ingredient) -> list[Ingredient]:
    at = mentions(text, line)[0][0]
    return sorted(near, key=lambda one: min(abs(at - start) for start, _ in mentions(text, one)))


def _between(lineup: LineUp, method: Method, tell: _Told, listed: Sequence[Ingredient]) -> tuple[Step, int | None]:
    """The place in the method that a sentence has in its own card: after what it comes after there, else before."""
    for at in range(tell.at - 1, -1, -1):
        shared = _sharing(method, [one for one in listed if mentions(tell.whole[at][1], one)])
        if shared:
            return shared[0][0], shared[0][1]
    for at in range(tell.at + 1, len(tell.whole)):
        shared = _sharing(method, [one for one in listed if mentions(tell.whole[at][1], one)])
        if shared:
            return shared[0][0], shared[0][1] - 1
    return _aligned(method, lineup.base, tell), None


def _place(
    lineup: LineUp,
    taken: Taken,
    method: Method,
    number: int,
    told: Sequence[_Told],
    listed: Sequence[Ingredient],
) -> tuple[Step, int | None] | None:
    """Where a sentence of our own about a listed thing goes: after what it meets in another version, else beside
    what it stands by in the list.

    None where the base's method has no place for it: an egg that others stir into a curd cheese the base has not.
    """
    one = taken.listed[number]
    sure = one.choice is not None or thing(one.written.item) in SEASONING
    if _is_fat(one) and not sure:
        return None
    for enough in (True, False) if sure else (True,):
        for tell in told:
            with_it = _mates(tell.text, one, listed)
            shared = _sharing(method, with_it)
            if shared and (not enough or 2 * len(shared[0][2]) > _company(lineup, tell, one, with_it)):
                return shared[0][0], shared[0][1]
    if told:
        if not sure and all(any(mentions(tell.text, other) for other in listed) for tell in told):
            return None
        return _between(lineup, method, told[0], listed)
    for above in range(number - 1, -1, -1):
        found = [step for step in method.steps if names(step.text, taken.listed[above].written)]
        if found:
            return found[0], None
    return method.steps[0], None


def _aligned(method: Method, base: Card, tell: _Told) -> Step:
    """The step of the method that a version's step goes with: its own, else the one before it that has one."""
    j = tell.whole[tell.at][0]
    met = {other: own for own, other in pairs(base, tell.card) if own is not None and other is not None}
    for at in (j, *range(j - 1, -1, -1), *range(j + 1, max(met, default=0) + 1)):
        own = met.get(at)
        if own is not None:
            found = next((step for step in method.steps if step.passage is base.steps[own]), None)
            if found:
                return found
    return method.steps[0]
