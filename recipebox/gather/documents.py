"""Word documents and PDF files, to text."""

import io
import re
import zipfile
from typing import TYPE_CHECKING

from recipebox.gather.piece import GatherError, Piece, clean
from recipebox.gather.visible import needs_library

if TYPE_CHECKING:
    from docx.document import Document
    from docx.oxml.xmlchemy import BaseOxmlElement

_MOST_XML = 10_000_000  # bytes, unpacked
_MOST_WHOLE = 100_000_000
_MOST_PAGES = 50
_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_SKIPPED = (f"{_W}del", "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback")


def read_word(data: bytes) -> list[Piece]:
    """A .docx file's words as Markdown: headings, lists, tables row by row, text boxes.

    Raises GatherError for what is no such file, and for one that unpacks to more than a document ever has.
    """
    _check_zip(data)
    try:
        import docx
        from docx.opc.exceptions import PackageNotFoundError
    except ImportError as error:
        raise needs_library("Word documents") from error
    try:
        document = docx.Document(io.BytesIO(data))
    except (PackageNotFoundError, KeyError, ValueError) as error:
        raise GatherError("it is no Word document (.docx); save it again, or as .txt") from error
    lines: list[str] = []
    _walk(document.element.body, _Styles(document), lines)
    text = re.sub(r"\n{3,}", "\n\n", "\n".join(lines)).strip("\n") + "\n"
    if not text.strip():
        raise GatherError("it holds no words; if the recipe is a picture in it, save that and add the picture")
    return [Piece(text, "Word document", markdown=True)]


def read_pdf(data: bytes) -> list[Piece]:
    """The text layer of a PDF, page after page.

    Raises GatherError for a file that is locked, has no text layer or over 50 pages.
    """
    try:
        import logging

        import pypdf
        from pypdf.errors import PyPdfError
    except ImportError as error:
        raise needs_library("PDF files") from error
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        reader = pypdf.PdfReader(io.BytesIO(data))
        if reader.is_encrypted and not reader.decrypt(""):
            raise GatherError("it is locked with a password; open it, copy the recipe into a text file and add that")
        if len(reader.pages) > _MOST_PAGES:
            raise GatherError(
                f"{len(reader.pages)} pages are too many for a card ({_MOST_PAGES} at most); print the recipe's own "
                "pages into a PDF and add that"
            )
        pages = [page.extract_text().strip() for page in reader.pages]
    except PyPdfError as error:
        raise GatherError("it is no whole PDF; save it again, or copy the recipe into a text file") from error
    text = "\n\n".join(page for page in pages if page)
    if not text.strip():
        raise GatherError(
            "its pages are pictures without a text layer; type the recipe into a text file, or add it as a picture"
        )
    return [Piece(clean(text) + "\n", "PDF")]


def _check_zip(data: bytes) -> None:
    """Refuses what unpacks to too much. The sizes stated are those the reading library goes by and holds to."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            parts = packed.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError) as error:
        raise GatherError("it is no Word document (.docx); save it again, or as .txt") from error
    words = sum(part.file_size for part in parts if part.filename.lower().endswith((".xml", ".rels")))
    if words > _MOST_XML or sum(part.file_size for part in parts) > _MOST_WHOLE:
        raise GatherError("it unpacks to far more than a document holds; copy the recipe into a text file and add that")


class _Styles:
    """What a paragraph is, by its style and its list."""

    def __init__(self, document: "Document") -> None:
        self.names = {style.style_id: style.name or "" for style in document.styles}
        self.numbered = _numbered_lists(document)
        self.count: dict[str, int] = {}

    def prefix(self, paragraph: "BaseOxmlElement") -> str:
        style = paragraph.find(f"{_W}pPr/{_W}pStyle")
        name = self.names.get(style.get(f"{_W}val", ""), "") if style is not None else ""
        if name == "Title":
            return "# "
        heading = re.fullmatch(r"[Hh]eading (\d)", name)
        if heading:
            return "#" * min(6, int(heading[1]) + 1) + " " if int(heading[1]) > 1 else "# "
        listed = paragraph.find(f"{_W}pPr/{_W}numPr/{_W}numId")
        number = listed.get(f"{_W}val", "0") if listed is not None else "0"
        if number in self.numbered or name.startswith("List Number"):
            key = number if number != "0" else name
            self.count[key] = self.count.get(key, 0) + 1
            return f"{self.count[key]}. "
        return "- " if number != "0" or name.startswith("List Bullet") else ""


def _numbered_lists(document: "Document") -> set[str]:
    """The ids of lists whose first level counts (decimal, letters), not those with bullets."""
    try:
        root = document.part.numbering_part.element
    except (NotImplementedError, KeyError):
        return set()
    counted = set()
    for abstract in root.iter(f"{_W}abstractNum"):
        form = abstract.find(f"{_W}lvl/{_W}numFmt")
        if form is not None and form.get(f"{_W}val") not in ("bullet", "none"):
            counted.add(abstract.get(f"{_W}abstractNumId"))
    found = set()
    for number in root.iter(f"{_W}num"):
        of = number.find(f"{_W}abstractNumId")
        if of is not None and of.get(f"{_W}val") in counted:
            found.add(str(number.get(f"{_W}numId")))
    return found


def _walk(parent: "BaseOxmlElement", styles: _Styles, lines: list[str]) -> None:
    """Paragraphs and tables in order, whatever holds them."""
    for element in parent:
        if element.tag == f"{_W}p":
            _paragraph(element, styles, lines)
        elif element.tag == f"{_W}tbl":
            lines.append("")
            for row in element.iter(f"{_W}tr"):
                if next(row.iterancestors(f"{_W}tbl")) is element:
                    _row(list(row.iterchildren(f"{_W}tc")), styles, lines)
            lines.append("")
        elif element.tag not in _SKIPPED and isinstance(element.tag, str):
            _walk(element, styles, lines)


def _row(cells: "list[BaseOxmlElement]", styles: _Styles, lines: list[str]) -> None:
    """A row of single words is one line ("200 g | flour"); where a cell holds paragraphs, cells stand one by one."""
    told = [[words for p in cell.iter(f"{_W}p") if (words := " ".join(_words(p).split()))] for cell in cells]
    if all(len(words) <= 1 for words in told):
        lines.append(" ".join(word for words in told for word in words))
        return
    for cell in cells:
        _walk(cell, styles, lines)
        lines.append("")


def _paragraph(element: "BaseOxmlElement", styles: _Styles, lines: list[str]) -> None:
    prefix = styles.prefix(element)
    words = _words(element)
    if prefix.startswith("#") or not words.strip():
        lines.append("")
    for at, line in enumerate(words.split("\n")):
        if line.strip():
            lines.append((prefix if not at else " " * len(prefix)) + " ".join(line.split()))
    if prefix.startswith("#"):
        lines.append("")
    for box in element.iter(f"{_W}txbxContent"):
        if not any(above.tag in _SKIPPED for above in box.iterancestors()):
            lines.append("")
            _walk(box, styles, lines)
            lines.append("")


def _words(element: "BaseOxmlElement") -> str:
    """A paragraph's own words: deleted text and text boxes aside, breaks as line ends."""
    found = []
    waiting = list(reversed(element))
    while waiting:
        inner = waiting.pop()
        if inner.tag == f"{_W}t":
            found.append(inner.text or "")
        elif inner.tag in (f"{_W}br", f"{_W}cr"):
            found.append("\n")
        elif inner.tag in (f"{_W}tab", f"{_W}ptab"):
            found.append(" ")
        elif inner.tag == f"{_W}noBreakHyphen":
            found.append("-")
        elif inner.tag not in (*_SKIPPED, f"{_W}txbxContent"):
            waiting += reversed(inner)
    return "".join(found)
