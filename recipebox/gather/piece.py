"""What opening a file gives: the texts in it that may be recipes, and the pictures beside them."""

import base64
import re
from dataclasses import dataclass
from typing import Any

_CONTROL = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


class GatherError(Exception):
    """A file that cannot be brought in; str() is one line: what is wrong and what to do, or the file's name before."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that came along: its name as sent and its bytes."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class Piece:
    """One text out of what was sent, with its title on top where it has one.

    `form` is in words ("mail of 2025-04-20"); `sender` is whoever the form itself names; `markdown` tells whether
    headings and lists are marked as in CommonMark.
    """

    text: str
    form: str
    markdown: bool = False
    sender: str | None = None
    pictures: tuple[Picture, ...] = ()

    def data(self) -> dict[str, Any]:
        """The piece as JSON can hold it."""
        pictures = [[one.name, base64.b64encode(one.data).decode("ascii")] for one in self.pictures]
        return {
            "text": self.text,
            "form": self.form,
            "markdown": self.markdown,
            "sender": self.sender,
            "pictures": pictures,
        }


def clean(words: str) -> str:
    """Words as a text file can hold them: without control characters (line ends and tabs aside) and half characters."""
    return _CONTROL.sub("", words)


def piece_from_data(data: dict[str, Any]) -> Piece:
    """The piece that `Piece.data` wrote."""
    pictures = tuple(Picture(name, base64.b64decode(coded)) for name, coded in data["pictures"])
    return Piece(data["text"], data["form"], data["markdown"], data["sender"], pictures)
