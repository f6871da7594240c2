"""Methods under headings that nobody knows, told by where they stand and how they are set out."""

from collections.abc import Sequence

from recipebox.cards.content import Content, content_of
from recipebox.cards.inline import plain
from recipebox.cards.outline import Piece
from recipebox.cards.rows import Kind, Row
from recipebox.cards.sectionwords import Section
from recipebox.cards.signs import is_chat, looks_ingredient, starts_with_amount


def name_methods(pieces: Sequence[Piece]) -> None:
    """Says of a piece under an unknown heading that it is the method, where no known heading opens one.

    That is a numbered list behind the ingredients under a heading beside theirs; else, where nothing in the card
    reads like a step, the last list or paragraph there.
    """
    if any(piece.section is Section.METHOD for piece in pieces):
        return
    first = next((at for at, piece in enumerate(pieces) if piece.section is Section.INGREDIENTS), None)
    if first is None:
        first = _list_before_method(pieces)
        if first is None:
            return
        pieces[first].section, pieces[first].key = Section.INGREDIENTS, "ingredients"
    level = pieces[first].level
    behind = [
        (piece, content_of(piece.rows))
        for piece in pieces[first + 1 :]
        if piece.section in (None, Section.RECIPE)
        and piece.heading is not None
        and piece.level <= level
        and not is_chat(piece.words)
    ]
    numbered = [piece for piece, content in behind if content.ordered and _is_ordered(piece.rows)]
    if not numbered and any(content_of(piece.rows).steps for piece in pieces):
        return
    for piece in numbered[:1] or [piece for piece, content in behind if _may_be_steps(piece.rows, content)][-1:]:
        piece.section, piece.key = Section.METHOD, "method"


def _list_before_method(pieces: Sequence[Piece]) -> int | None:
    """The place of a list with bullets right before one with numbers, the only two lists under headings of a level."""
    headed = [at for at, piece in enumerate(pieces) if piece.heading is not None]
    if len(headed) != 2 or any(pieces[at].section is not None for at in headed):
        return None
    first, second = (pieces[at] for at in headed)
    bullets, numbers = content_of(first.rows), content_of(second.rows)
    plain_bullets = bullets.listed and not bullets.ordered and not bullets.steps and bullets.listed > bullets.others
    if first.level == second.level and plain_bullets and 0 < numbers.ordered == numbers.listed:
        return headed[0] if _is_ordered(second.rows) else None
    return None


def _is_ordered(rows: Sequence[Row]) -> bool:
    """Whether numbers stand before things to do: few of them before amounts."""
    words = [plain(row.text) for row in rows if row.kind is Kind.NUMBER]
    return sum(starts_with_amount(each) and looks_ingredient(each) for each in words) * 2 < len(words)


def _may_be_steps(rows: Sequence[Row], content: Content) -> bool:
    if content.empty or content.measured * 2 >= content.listed + content.others:
        return False
    return content.listed + content.others > 0
