"""The forms in which people send recipes, known by the ending of a file's name, else by how its bytes begin."""

import re
from enum import StrEnum
from pathlib import PurePath

from recipebox.box import MAX_CARD, MAX_FILE

PASTED = "-"


class Form(StrEnum):
    """A form that can be brought in; the value is what a person calls it."""

    TEXT = "plain text"
    MARKDOWN = "Markdown"
    MAIL = "mail"
    PAGE = "web page"
    JSON = "schema.org JSON"
    WORD = "Word document"
    PDF = "PDF"
    PICTURE = "picture"


ENDINGS = {
    ".txt": Form.TEXT,
    ".md": Form.MARKDOWN,
    ".markdown": Form.MARKDOWN,
    ".eml": Form.MAIL,
    ".mht": Form.MAIL,
    ".mhtml": Form.MAIL,
    ".html": Form.PAGE,
    ".htm": Form.PAGE,
    ".xhtml": Form.PAGE,
    ".json": Form.JSON,
    ".jsonld": Form.JSON,
    ".docx": Form.WORD,
    ".pdf": Form.PDF,
    ".jpg": Form.PICTURE,
    ".jpeg": Form.PICTURE,
    ".png": Form.PICTURE,
    ".gif": Form.PICTURE,
    ".webp": Form.PICTURE,
    ".heic": Form.PICTURE,
    ".tif": Form.PICTURE,
    ".tiff": Form.PICTURE,
}
_MAIL_HEAD = re.compile(
    rb"(?:(?:Received|Return-Path|Delivered-To|MIME-Version|Message-ID|X-[\w-]+|Content-Type):)", re.IGNORECASE
)
_HEADER = re.compile(rb"(?:From )?[\w-]+:? ")
# First bytes of pictures: the formats' own published signatures (PNG, JFIF, GIF89a, RIFF/WebP, TIFF 6.0, ISO 14496-12).
_PICTURES = (b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"II*\0", b"MM\0*")


def form_of(name: str, data: bytes = b"") -> Form | None:
    """The form of a file by its name; of what is pasted ("-") by its first bytes. None for an ending nobody reads."""
    if name != PASTED:
        return ENDINGS.get(PurePath(name).suffix.lower())
    start = data[:4096].lstrip(b"\xef\xbb\xbf \t\r\n")
    if start[:1] in (b"{", b"[") and b"Recipe" in data:
        return Form.JSON
    if re.match(rb"<(?:!doctype\s+html|html|head|body)\b", start, re.IGNORECASE):
        return Form.PAGE
    if start.startswith(b"%PDF-"):
        return Form.PDF
    if start.startswith(b"PK\x03\x04"):
        return Form.WORD
    head = re.split(rb"\r?\n\r?\n", start, maxsplit=1)[0]
    if _HEADER.match(head) and any(_MAIL_HEAD.match(line) for line in head.splitlines()):
        return Form.MAIL
    return Form.TEXT


def largest(form: Form | None) -> int:
    """Bytes that a file of this form may have: a text is a card, all else has the limit of a file in a box."""
    return MAX_CARD if form in (None, Form.TEXT, Form.MARKDOWN) else MAX_FILE


def is_picture(data: bytes) -> bool:
    """Whether bytes begin as a picture does."""
    container = data[4:8] == b"ftyp" or (data[:4] == b"RIFF" and data[8:12] == b"WEBP")
    return container or data.startswith(_PICTURES)
