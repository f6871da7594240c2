"""A mail: its own words, what it forwards and what is attached, as pieces that may be recipes."""

import email.policy
import re
from dataclasses import replace
from email import message_from_bytes
from email.errors import MessageError
from email.message import EmailMessage
from email.utils import parseaddr, parsedate_to_datetime
from pathlib import PurePath

from recipebox.cards.names import sender_name
from recipebox.cards.titles import subject_title
from recipebox.gather.forms import ENDINGS, PASTED, Form, form_of, is_picture
from recipebox.gather.letter import Letter, read_letter
from recipebox.gather.page import page_words, read_html
from recipebox.gather.piece import GatherError, Picture, Piece, clean

_DEEPEST = 30
_MOST_PARTS = 1000
_LONGEST_HEADER = 10_000


def read_mail(data: bytes) -> list[Piece]:
    """The recipes of a mail: in its body, in a mail within it, in its attachments.

    A body that is no recipe stands as a note under what was attached. Raises GatherError for what is no mail, and
    for parts nested more than 30 deep.
    """
    try:
        message = message_from_bytes(data, _class=EmailMessage, policy=email.policy.default)
    except RecursionError as error:
        raise GatherError(_TOO_DEEP) from error
    if not isinstance(message, EmailMessage) or not (message.keys() or message.is_multipart()):
        raise GatherError("it is no mail; copy the recipe into a text file and add that")
    return _pieces(message, 0)


_TOO_DEEP = f"its parts are nested more than {_DEEPEST} deep; copy the recipe into a text file and add that"


def _pieces(message: EmailMessage, depth: int) -> list[Piece]:
    form = "mail" if (day := _day(message)) is None else f"mail of {day}"
    sender, subject = _sender(message), _header(message, "subject")
    plain: list[str] = []
    pages: list[str] = []
    attached: list[Piece] = []
    pictures: list[Picture] = []
    unread: list[str] = []
    for part, level, alternative in _leaves(message, depth):
        kind, name = part.get_content_type(), _name(part)
        if kind == "message/rfc822":
            inner = part.get_payload()
            inner = inner[0] if isinstance(inner, list) and inner else inner
            if isinstance(inner, EmailMessage):
                attached += _pieces(inner, level + 1)
        elif kind == "text/plain" and not _is_file(part, name):
            plain.append(_flowed(part, _text(part)))
        elif kind == "text/html" and not _is_file(part, name):
            if plain and not alternative:
                attached += [replace(piece, form=form) for piece in read_html(_text(part))]
            else:
                pages.append(_text(part))
        else:
            _take_file(part, name, form, attached, pictures, unread)
    body = [piece for piece in _body(plain, pages, subject, sender, form) if piece.text.strip()]
    found = [*body, *(replace(piece, sender=piece.sender or sender) for piece in attached)]
    if unread:
        told = "".join(f"\nWith the mail came {name}, which stays in the original.\n" for name in unread)
        found.append(Piece(told, form))
    if pictures:
        title = subject_title(subject) or "Untitled"
        found = found or [Piece(f"{title}\n", form, sender=sender)]
        found[0] = replace(found[0], pictures=tuple(pictures))
    return found


def _body(plain: list[str], pages: list[str], subject: str, sender: str | None, form: str) -> list[Piece]:
    """The body's recipes: of the plain words if they are one, else what its page states or shows."""
    letter = read_letter("\n\n".join(plain), subject, sender) if plain else None
    if pages and (letter is None or not letter.cards):
        stated = [piece for page in pages for piece in read_html(page)]
        if all(piece.form.startswith("web page, ") for piece in stated):
            return [replace(piece, form=form, sender=piece.sender or sender) for piece in stated]
        shown = read_letter("\n\n".join(piece.text for piece in stated), subject, sender, markdown=True)
        if letter is None or shown.cards:
            letter = shown
    return [_piece(letter, form)] if letter is not None else []


def _piece(letter: Letter, form: str) -> Piece:
    return Piece(letter.text, form, letter.markdown, letter.sender)


def _leaves(message: EmailMessage, depth: int) -> list[tuple[EmailMessage, int, bool]]:
    """The parts that are no multiparts, in order, with their depth, and whether they are one of several wordings of
    the same words (multipart/alternative). An attached mail counts as one part."""
    found: list[tuple[EmailMessage, int, bool]] = []
    waiting = [(message, depth, False)]
    while waiting:
        part, level, alternative = waiting.pop()
        if level > _DEEPEST or len(found) > _MOST_PARTS:
            raise GatherError(_TOO_DEEP if level > _DEEPEST else f"it has more than {_MOST_PARTS} parts")
        inner = part.get_payload()
        if part.get_content_maintype() == "multipart" and isinstance(inner, list):
            alternative = alternative or part.get_content_subtype() == "alternative"
            waiting += [(one, level + 1, alternative) for one in reversed(inner) if isinstance(one, EmailMessage)]
        else:
            found.append((part, level, alternative))
    return found


def _take_file(
    part: EmailMessage,
    name: str,
    form: str,
    attached: list[Piece],
    pictures: list[Picture],
    unread: list[str],
) -> None:
    """An attachment: read if its form is known, kept as a picture, or named."""
    from recipebox.gather.unpack import unpack

    data = part.get_payload(decode=True)
    data = data if isinstance(data, bytes) else b""
    name = _with_ending(name, part.get_content_type(), data)
    known = ENDINGS.get(PurePath(name).suffix.lower())
    if known is Form.PICTURE or part.get_content_maintype() == "image":
        inline = part.get_content_disposition() == "inline" or part.get("content-id") is not None
        if is_picture(data) and not inline:
            pictures.append(Picture(name or "picture.jpg", data))
        elif name and data:
            unread.append(name)
    elif known in (Form.MAIL, None):
        if name and data:
            unread.append(name)
    else:
        try:
            attached += [replace(piece, form=f"{form}, {known} attached") for piece in unpack(data, name)]
        except GatherError as error:
            unread.append(f"{name} ({str(error).split(';')[0]})")


def _is_file(part: EmailMessage, name: str) -> bool:
    return part.get_content_disposition() == "attachment" or (bool(name) and "." in name)


def _name(part: EmailMessage) -> str:
    """An attachment's own name without any folders, on one line: it names nothing on disk."""
    try:
        name = part.get_filename() or ""
    except (ValueError, LookupError, MessageError):
        return ""
    name = "".join(c for c in re.split(r"[/\\]", name)[-1] if c.isprintable()).strip(". ")
    return name if len(name) <= 100 else name[:80] + PurePath(name).suffix[:20]


_KINDS = {
    "text/plain": ".txt",
    "text/markdown": ".md",
    "text/html": ".html",
    "application/json": ".json",
    "application/ld+json": ".json",
    "application/pdf": ".pdf",
    "application/vnd.openxmlformats-officedocument.wordprocessingml.document": ".docx",
}  # by media types registered with IANA


def _with_ending(name: str, kind: str, data: bytes) -> str:
    """A name whose ending says what an attachment is, where its own says nothing: by its media type, else by how its
    bytes begin."""
    if PurePath(name).suffix:
        return name
    ending = _KINDS.get(kind, "")
    if not ending and not name and data:
        found = form_of(PASTED, data)
        ending = next(end for end, form in ENDINGS.items() if form is found) if found is not Form.TEXT else ""
    return f"{name or 'attached'}{ending}" if ending else name


def _text(part: EmailMessage) -> str:
    data = part.get_payload(decode=True)
    data = data if isinstance(data, bytes) else b""
    charset = part.get_content_charset()
    if charset is not None:
        try:
            return clean(data.decode(charset, "replace"))
        except (LookupError, ValueError):  # no such charset, or one that is no charset
            pass
    return clean(page_words(data))


def _flowed(part: EmailMessage, words: str) -> str:
    """Words with the soft line breaks of format=flowed taken out (RFC 3676)."""
    words = words.replace("\r\n", "\n").replace("\r", "\n")
    if str(part.get_param("format", "")).lower() != "flowed":
        return words
    joined = str(part.get_param("delsp", "")).lower() == "yes"
    lines: list[str] = []
    soft = ""  # the quote marks of a line that goes on
    going = False
    for line in words.split("\n"):
        marks = re.match(r">*", line)
        quote = marks[0] if marks else ""
        bare = line[len(quote) :].removeprefix(" ")
        if going and quote == soft and bare != "-- ":
            lines[-1] += bare
        else:
            lines.append(f"{quote} {bare}" if quote else bare)
        going = bare.endswith(" ") and bare != "-- "
        if going and joined:
            lines[-1] = lines[-1][:-1]
        soft = quote
    return "\n".join(line.rstrip() if line != "-- " else line for line in lines)


def _header(message: EmailMessage, name: str) -> str:
    raw = next((str(value) for key, value in message.raw_items() if key.lower() == name), "")
    if len(raw) > _LONGEST_HEADER:
        return ""  # the library takes minutes over a header of a megabyte
    try:
        value = message[name]
    except (ValueError, LookupError, MessageError, IndexError, AttributeError):
        return ""  # the library fails on some torn headers
    return " ".join(clean(str(value)).split()) if value is not None else ""


def _sender(message: EmailMessage) -> str | None:
    value = _header(message, "from")
    name, address = parseaddr(value)
    return sender_name(name) if name else address.partition("@")[0] or value or None


def _day(message: EmailMessage) -> str | None:
    try:
        return parsedate_to_datetime(_header(message, "date")).date().isoformat()
    except (ValueError, TypeError, OverflowError):
        return None
