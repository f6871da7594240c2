"""Mails, documents and files as people send them, made for tests."""

import io
import zipfile
from email.message import EmailMessage
from pathlib import Path

RECIPE = """Oat squares

2 cups rolled oats
1/2 cup honey
100 g butter

Melt the butter with the honey. Stir in the oats.
Press into a tin and bake at 180 C for 20 minutes.
"""
INGREDIENTS = ["2 cups rolled oats", "1/2 cup honey", "100 g butter"]


def mail(body: str, subject: str = "Oat squares", sender: str = "Ines Duarte <ines@example.org>") -> EmailMessage:
    """A mail with one plain body."""
    message = EmailMessage()
    message["From"] = sender
    message["To"] = "Brigid <brigid@example.org>"
    message["Subject"] = subject
    message["Date"] = "Sun, 20 Apr 2025 10:00:00 +0200"
    message.set_content(body)
    return message


def packed(parts: dict[str, str]) -> bytes:
    """A zip file with these parts, compressed."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, words in parts.items():
            archive.writestr(name, words)
    return file.getvalue()


def word_parts(body: str, before: str = "") -> dict[str, str]:
    """The least parts that a .docx file has (ECMA-376), with this body."""
    types, relations = "http://schemas.openxmlformats.org/package/2006", "application/vnd.openxmlformats"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument"
    main = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    return {
        "[Content_Types].xml": f'<Types xmlns="{types}/content-types"><Default Extension="rels" '
        f'ContentType="{relations}-package.relationships+xml"/><Default Extension="xml" '
        f'ContentType="{relations}-officedocument.wordprocessingml.document.main+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{types}/relationships"><Relationship Id="r1" Type="{office}" '
        'Target="word/document.xml"/></Relationships>',
        "word/document.xml": f'{before}<w:document xmlns:w="{main}"><w:body>{body}</w:body></w:document>',
    }


def paragraphs(words: str) -> str:
    """A paragraph of a .docx file for each line."""
    return "".join(f"<w:p><w:r><w:t>{line}</w:t></w:r></w:p>" for line in words.split("\n"))


def pdf(words: str, pages: int = 1) -> bytes:
    """A PDF whose pages each show these lines as text."""
    from pypdf import PdfWriter
    from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

    writer = PdfWriter()
    shown = "".join(f"({line.replace('(', '[').replace(')', ']')}) Tj T*\n" for line in words.split("\n"))
    for _ in range(pages):
        page = writer.add_blank_page(595, 842)
        font = DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Font"),
                NameObject("/Subtype"): NameObject("/Type1"),
                NameObject("/BaseFont"): NameObject("/Helvetica"),
            }
        )
        fonts = DictionaryObject({NameObject("/F1"): writer._add_object(font)})
        page[NameObject("/Resources")] = DictionaryObject({NameObject("/Font"): fonts})
        content = DecodedStreamObject()
        content.set_data(f"BT /F1 12 Tf 14 TL 50 800 Td {shown} ET".encode("latin-1") if words else b"")
        page[NameObject("/Contents")] = writer._add_object(content)
    file = io.BytesIO()
    writer.write(file)
    return file.getvalue()


def files_of(root: Path) -> dict[str, bytes]:
    """Every file below a folder, hidden ones aside, with its bytes."""
    found = (path for path in root.rglob("*") if path.is_file() and ".recipebox" not in path.parts)
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in found}
