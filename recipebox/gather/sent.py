"""A file somebody sent: its cards, read but not yet in the box."""

from dataclasses import dataclass
from pathlib import PurePath

from recipebox.cards.kinds import NotACardError
from recipebox.cards.model import Card
from recipebox.cards.reader import read_text
from recipebox.cards.text import NotTextError, Text, decode

FORMS = {".txt": "plain text", ".md": "Markdown"}
LARGEST = 1_000_000


class GatherError(Exception):
    """A file that cannot be brought in; str() is one line: which file, what, what to do."""


@dataclass(frozen=True)
class Sent:
    """What one file brought: its bytes, its text, its cards, and its form in words ("plain text")."""

    name: str
    data: bytes
    text: Text
    cards: tuple[Card, ...]
    form: str


def read_sent(data: bytes, name: str) -> Sent:
    """Read what was sent. `name` is the file's name; what was pasted has the name "-" and is taken as plain text.

    Raises GatherError when the form is not one that can be read, the file is over 1 MB, or it holds no recipe.
    """
    ending = PurePath(name).suffix.lower() if name != "-" else ".txt"
    if ending not in FORMS:
        raise GatherError(
            f"{name}: cannot read a file ending in '{ending or name}'; save it as .txt or .md and add that"
        )
    if len(data) > LARGEST:
        raise GatherError(f"{name}: {len(data) / 1e6:.1f} MB is too much for a card (1 MB at most); cut out the recipe")
    try:
        text = decode(data)
        cards = tuple(read_text(text, "pasted.txt" if name == "-" else name))
    except NotTextError as error:
        raise GatherError(f"{name}: {error}; type the recipe into a text file") from error
    except NotACardError as error:
        raise GatherError(
            f"{name}, line {error.line}: {error.why}; give it a title and its ingredients or steps"
        ) from error
    return Sent(name, data, text, cards, FORMS[ending])
