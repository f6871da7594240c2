"""A file's bytes as lines and back, losing nothing."""

import re
from dataclasses import dataclass

_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = {b"\xff\xfe": "utf-16-le", b"\xfe\xff": "utf-16-be"}
# Windows-1252 leaves five bytes undefined; they are kept as the control characters of the same number.
_UNDEFINED = {0x81, 0x8D, 0x8F, 0x90, 0x9D}
_TO_1252 = {byte: (chr(byte) if byte in _UNDEFINED else bytes([byte]).decode("cp1252")) for byte in range(256)}
_LINE = re.compile(r"([^\r\n]*)(\r\n|\n|\r|\Z)")
_FROM_1252 = {character: byte for byte, character in _TO_1252.items()}


class NotTextError(ValueError):
    """The bytes are no text; the message says why, for a person."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line: its words, and its end as written ("\\n", "\\r\\n", "\\r" or "" at the end of the file)."""

    words: str
    end: str


@dataclass(frozen=True, slots=True)
class Text:
    """The lines of a file with all that is needed to write the same bytes again.

    `unsure` is True when the bytes were not UTF-8 and were read as Windows-1252.
    """

    lines: tuple[Line, ...]
    encoding: str = "utf-8"
    mark: bytes = b""
    unsure: bool = False

    @property
    def end(self) -> str:
        """The line end a new line gets: the file's commonest, "\\n" where there is none."""
        ends = [line.end for line in self.lines if line.end]
        return max(sorted(set(ends)), key=ends.count) if ends else "\n"


def decode(data: bytes) -> Text:
    """Read bytes as text: UTF-8 with or without mark, UTF-16 with its mark, else Windows-1252.

    `encode(decode(data)) == data` for all bytes that are text. Raises NotTextError for a NUL byte or torn UTF-16.
    """
    for mark, encoding in _UTF16_MARKS.items():
        if data.startswith(mark):
            return _decode_utf16(data[2:], encoding, mark)
    mark = _UTF8_MARK if data.startswith(_UTF8_MARK) else b""
    body = data[len(mark) :]
    if b"\0" in body:
        raise NotTextError("not text (it holds a NUL byte, as pictures and programs do)")
    try:
        return Text(_split(body.decode("utf-8")), "utf-8", mark)
    except UnicodeDecodeError:
        return Text(_split("".join(map(_TO_1252.__getitem__, body))), "windows-1252", mark, unsure=True)


def encode(text: Text) -> bytes:
    """The bytes of a text. A character that Windows-1252 lacks turns the whole text to UTF-8."""
    whole = "".join(line.words + line.end for line in text.lines)
    if text.encoding == "windows-1252":
        try:
            return text.mark + bytes(map(_FROM_1252.__getitem__, whole))
        except KeyError:
            return whole.encode("utf-8")
    return text.mark + whole.encode(text.encoding)


def _decode_utf16(body: bytes, encoding: str, mark: bytes) -> Text:
    try:
        whole = body.decode(encoding)
    except UnicodeDecodeError as error:
        raise NotTextError("not whole (it begins as UTF-16 text and breaks off within a character)") from error
    if "\0" in whole:
        raise NotTextError("not text (it holds a NUL character)")
    return Text(_split(whole), encoding, mark)


def _split(whole: str) -> tuple[Line, ...]:
    found = [Line(*match.groups()) for match in _LINE.finditer(whole)]
    if found and not found[-1].words and not found[-1].end:
        found.pop()
    return tuple(found)
