"""Open one file that was sent, whatever its form, into pieces of text and pictures."""

from recipebox.cards.text import NotTextError, decode
from recipebox.gather.forms import PASTED, Form, form_of
from recipebox.gather.piece import GatherError, Piece


def unpack(data: bytes, name: str) -> list[Piece]:
    """The pieces in what was sent. Raises GatherError, one line, where it cannot be opened or is of no known form.

    What it opens may be hostile: `apart.open_apart` runs it with bounds on time and memory.
    """
    form = form_of(name, data)
    if form is Form.MAIL:
        from recipebox.gather.mail import read_mail

        return read_mail(data)
    if form is Form.PAGE:
        from recipebox.gather.page import read_page

        return read_page(data)
    if form is Form.JSON:
        from recipebox.gather.recipes_in import read_json

        return read_json(data)
    if form in (Form.WORD, Form.PDF):
        from recipebox.gather.documents import read_pdf, read_word

        return read_word(data) if form is Form.WORD else read_pdf(data)
    if form in (Form.TEXT, Form.MARKDOWN):
        try:
            words = "".join(line.words + line.end for line in decode(data).lines)
        except NotTextError as error:
            raise GatherError(f"{error}; type the recipe into a text file") from error
        pasted = "pasted text" if name == PASTED else str(form)
        return [Piece(words, pasted, form is Form.MARKDOWN)]
    raise GatherError("of a form that cannot be read; save it as .txt and add that")
