"""Methods under headings that nobody knows, told by where they stand and how they are set out."""

from collections.abc import Sequence

from recipebox.cards.inline import plain
from recipebox.cards.layout import Kind, Row
from recipebox.cards.mixed import Content, content_of
from recipebox.cards.outline import Piece
from recipebox.cards.sectionwords import Section
from recipebox.cards.signs import is_chat, starts_with_amount


def name_methods(pieces: Sequence[Piece]) -> None:
    """Says of a piece under an unknown heading that it is the method, where no known heading opens one.

    That is a numbered list behind the ingredients under a heading beside theirs; else, where nothing in the card
    reads like a step, the last list or paragraph there.
    """
    if any(piece.section is Section.METHOD for piece in pieces):
        return
    first = next((at for at, piece in enumerate(pieces) if piece.section is Section.INGREDIENTS), None)
    if first is None:
        return
    level = pieces[first].level
    behind = [
        (piece, content_of(piece.rows))
        for piece in pieces[first + 1 :]
        if piece.section is None and piece.heading is not None and piece.level <= level and not is_chat(piece.words)
    ]
    numbered = [piece for piece, content in behind if content.ordered and _is_ordered(piece.rows)]
    if not numbered and any(content_of(piece.rows).steps for piece in pieces):
        return
    for piece in numbered[:1] or [piece for piece, content in behind if _may_be_steps(piece.rows, content)][-1:]:
        piece.section, piece.key = Section.METHOD, "method"


def _is_ordered(rows: Sequence[Row]) -> bool:
    """Whether numbers stand before things to do: few of them before amounts."""
    words = [plain(row.text) for row in rows if row.kind is Kind.NUMBER]
    return sum(starts_with_amount(each) for each in words) * 2 < len(words)


def _may_be_steps(rows: Sequence[Row], content: Content) -> bool:
    if content.empty or content.measured * 2 >= content.listed + content.others:
        return False
    return content.listed + content.others > 0
