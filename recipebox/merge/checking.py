"""A merged text read again, to see that it says what was merged and asks what was to be asked."""

from collections import Counter
from collections.abc import Iterable, Sequence

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card, Role
from recipebox.merge.entries import in_order
from recipebox.merge.errors import UnmergeableError
from recipebox.merge.part import Part
from recipebox.merge.sheet import Sheet, plain, read_sheets

_SURE = (Role.TITLE, Role.HEADER, Role.INGREDIENT)
_HEADINGS = (Role.SECTION, Role.GROUP)


def checked(result: bytes, parts: Sequence[Part], path: str) -> None:
    """Raise UnmergeableError where a merged text does not read back as what was merged."""
    try:
        sheets = read_sheets(result, path)
    except NotACardError as error:
        raise _no_card(path, error) from error
    if len(sheets) != len(parts):
        raise UnmergeableError(path, "the merged text would hold another number of recipes")
    for sheet, part in zip(sheets, parts, strict=True):
        odd = _differing(part, sheet)
        if odd is not None:
            raise UnmergeableError(path, f"the merged text would read differently at {odd!r}")
        entries = in_order([entry for entry, _ in sheet.entries])
        if entries != in_order(list(part.entries.values())):
            raise UnmergeableError(path, "the merged text would ask something else")


def _differing(part: Part, sheet: Sheet) -> str | None:
    """Where a merged text says something else than what was merged; None where it says the same.

    What stands around a line may make a note of a step, a step of two, or the reverse: then no word may be missing or
    doubled. No ingredient, title or header may read as anything else.
    """
    wanted = [
        (role, plain(o.text)) for key, o in part.outcomes.items() if o.text is not None and (role := part.role(key))
    ]
    have = [(element.role, plain(element.text)) for element in sheet.elements]
    heads = [
        (role, plain(e.text))
        for keys in (part.start, *(k for _, k in part.sides))
        for e in keys.values()
        if (role := e.role) in _HEADINGS
    ]
    headings = {text for _, text in heads}  # one with nothing left below it may read as a line
    sure = [Counter(line for line in lines if line[0] in _SURE and line[1] not in headings) for lines in (wanted, have)]
    if sure[0] != sure[1]:
        return next(iter((sure[0] - sure[1]) or (sure[1] - sure[0])))[1]
    for these, those in ((wanted, have), (have, [*wanted, *heads])):
        missing = _all_words(these, without=(*_HEADINGS, Role.LAYOUT)) - _all_words(those)
        if missing:
            return next(iter(missing))
    return None


def _all_words(lines: Iterable[tuple[Role, str]], without: Sequence[Role] = ()) -> Counter[str]:
    return Counter(word for role, text in lines if role not in without for word in text.split())


def cards_in(data: bytes, path: str) -> list[Card]:
    """The recipes of a merged text. Raises UnmergeableError where it would be no card."""
    try:
        return [sheet.card for sheet in read_sheets(data, path)]
    except NotACardError as error:
        raise _no_card(path, error) from error


def _no_card(path: str, error: NotACardError) -> UnmergeableError:
    return UnmergeableError(path, f"the merged text would be no card ({error.why})")
