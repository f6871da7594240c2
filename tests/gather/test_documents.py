"""Word documents and PDF files."""

import io
import subprocess
import sys

import pytest

from recipebox.gather.documents import read_pdf, read_word
from recipebox.gather.forms import Form
from recipebox.gather.piece import GatherError, Piece
from recipebox.gather.sent import of_pieces
from tests.gather.making import INGREDIENTS, RECIPE, packed, paragraphs, pdf, word_parts


def said(pieces: list[Piece], form: Form) -> tuple[str, list[str], list[str]]:
    """The one card's title, ingredient lines and steps."""
    (one,) = of_pieces(pieces, "sent", form)
    assert one.card is not None
    return one.card.title, [i.text for i in one.card.ingredients], [step.text for step in one.card.steps]


def test_a_document_s_headings_lists_and_tables_are_read() -> None:
    """Title, headings, bullets, numbers and a table of amounts become the same card as typed text."""
    docx = pytest.importorskip("docx", reason="python-docx is not installed")
    document = docx.Document()
    document.add_heading("Plum cake", 0)
    document.add_heading("Ingredients", 1)
    document.add_paragraph("250 g flour", style="List Bullet")
    document.add_paragraph("1 kg plums", style="List Bullet")
    table = document.add_table(rows=1, cols=2)
    table.rows[0].cells[0].text, table.rows[0].cells[1].text = "2", "eggs"
    document.add_heading("Method", 1)
    document.add_paragraph("Mix the flour and the eggs.", style="List Number")
    document.add_paragraph("Lay the plums on top and bake.", style="List Number")
    file = io.BytesIO()
    document.save(file)
    assert said(read_word(file.getvalue()), Form.WORD) == (
        "Plum cake",
        ["250 g flour", "1 kg plums", "2 eggs"],
        ["Mix the flour and the eggs.", "Lay the plums on top and bake."],
    )


def test_words_in_text_boxes_and_columns_are_read_and_deleted_ones_are_not() -> None:
    """A card laid out in a table of two columns, with a text box, gives all its words once, without deleted ones."""
    cells = "".join(
        f"<w:tc>{paragraphs(words)}</w:tc>"
        for words in ("Ingredients\n2 eggs\n1 cup sugar", "Method\nBeat the eggs with the sugar.\nBake.")
    )
    box = f"<w:p><w:r><w:txbxContent>{paragraphs('Keeps a week.')}</w:txbxContent></w:r></w:p>"
    gone = "<w:p><w:del><w:r><w:t>deleted</w:t></w:r></w:del></w:p>"
    body = f"{paragraphs('Meringues')}<w:tbl><w:tr>{cells}</w:tr></w:tbl>{box}{gone}"
    (piece,) = read_word(packed(word_parts(body)))
    assert said([piece], Form.WORD) == (
        "Meringues",
        ["2 eggs", "1 cup sugar"],
        ["Beat the eggs with the sugar.", "Bake.", "Keeps a week."],
    )
    assert piece.text.count("Keeps a week.") == 1
    assert "deleted" not in piece.text


def test_a_pdf_s_text_layer_is_read() -> None:
    """The text of a PDF's pages is the card."""
    title, ingredients, steps = said(read_pdf(pdf(RECIPE)), Form.PDF)
    assert (title, ingredients) == ("Oat squares", INGREDIENTS)
    assert " ".join(steps).startswith("Melt the butter with the honey.")


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "no whole PDF"),
        (b"%PDF-1.4 broken", "no whole PDF"),
        (pdf(""), "pictures without a text layer"),
        (pdf("2 eggs", pages=51), "51 pages"),
    ],
    ids=["empty", "broken", "picture", "long"],
)
def test_a_pdf_that_cannot_be_read_is_named(data: bytes, why: str) -> None:
    """Broken files, scanned pages and whole books: one line that says why."""
    with pytest.raises(GatherError, match=why):
        read_pdf(data)


def test_a_locked_pdf_is_named() -> None:
    """A file with a password is refused in one line."""
    pypdf = pytest.importorskip("pypdf", reason="pypdf is not installed")
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(pdf(RECIPE)))
    writer.encrypt("secret", algorithm="RC4-128")
    file = io.BytesIO()
    writer.write(file)
    with pytest.raises(GatherError, match="password"):
        read_pdf(file.getvalue())


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "no Word document"),
        (b"PK\x03\x04 torn", "no Word document"),
        (packed({"a.txt": "a"}), "no Word document"),
        (packed(word_parts(paragraphs("a" * 20_000_000))), "unpacks to far more"),
        (packed(word_parts("")), "holds no words"),
    ],
    ids=["empty", "torn", "other zip", "zip bomb", "no words"],
)
def test_a_document_that_cannot_be_read_is_named(data: bytes, why: str) -> None:
    """No document, a torn one, a zip bomb, an empty one: one line that says why."""
    with pytest.raises(GatherError, match=why):
        read_word(data)


@pytest.mark.parametrize(
    ("module", "call"),
    [
        ("selectolax", "page import read_page as read; data = b'<p>x'"),
        ("docx", f"documents import read_word as read; data = {packed(word_parts(paragraphs('x')))!r}"),
        ("pypdf", "documents import read_pdf as read; data = b'%PDF'"),
    ],
)
def test_a_missing_library_is_named_with_what_to_type(module: str, call: str) -> None:
    """Without the library, one line says which command installs it, and nothing else is needed to import the room."""
    script = (
        f"import sys; sys.modules[{module!r}] = None\nfrom recipebox.gather.piece import GatherError\n"
        f"from recipebox.gather.{call}\ntry:\n    read(data)\nexcept GatherError as error:\n    print(error)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert "pip install selectolax python-docx pypdf" in done.stdout
    assert len(done.stdout.splitlines()) == 1
