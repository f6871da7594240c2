"""A file somebody sent: its cards, read but not yet in the box."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from recipebox.box import MAX_CARD
from recipebox.cards.kinds import NotACardError, stem
from recipebox.cards.model import Card
from recipebox.cards.reader import read_text
from recipebox.cards.text import NotTextError, Text, decode, encode
from recipebox.gather.apart import open_apart
from recipebox.gather.forms import ENDINGS, PASTED, Form, form_of, is_picture, largest
from recipebox.gather.headed import with_headers, with_notes
from recipebox.gather.piece import GatherError, Picture, Piece


@dataclass(frozen=True, slots=True)
class Found:
    """One card of what was sent: its own text, and the card that text is.

    `card` is None for pictures alone: then the text has a title and no recipe yet. `form` is in words ("mail of
    2025-04-20"), `sender` is whoever the form names.
    """

    text: Text
    card: Card | None
    title: str
    form: str
    markdown: bool
    sender: str | None = None
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class Sent:
    """What one file brought: its name as typed, its bytes, and its cards in order."""

    name: str
    data: bytes
    found: tuple[Found, ...]

    def cards(self) -> list[tuple[Card, Text]]:
        """The cards as they will stand in a box, the sender's name on them, each with its text."""
        told: list[tuple[Card, Text]] = []
        for found in self.found:
            if found.card is None:
                continue
            text, card = found.text, found.card
            if found.sender and card.sender is None:
                text = with_headers(text, found.markdown, [("from", found.sender)])
                card = read_text(text, f"card{'.md' if found.markdown else '.txt'}")[0]
            told.append((replace(card, path=self.name, part=len(told) + 1), text))
        return told


def read_sent(data: bytes, name: str) -> Sent:
    """Read what was sent. `name` is the file's name; "-" is what was pasted, whose form its first bytes tell.

    Words that belong to none of the cards stand as notes in the first. Raises GatherError, one line, when the form
    is not one that can be read, the file is too large or damaged, or it holds no recipe.
    """
    form = form_of(name, data)
    try:
        if form is None:
            raise GatherError(_unknown(name))
        if len(data) > largest(form):
            raise GatherError(_too_large(form))
        if form is Form.PICTURE:
            return Sent(name, data, (_picture(data, name),))
        if form in (Form.TEXT, Form.MARKDOWN):
            return Sent(name, data, tuple(_of_text(data, name, form)))
        return Sent(name, data, tuple(of_pieces(open_apart(data, PurePath(name).name), name, form)))
    except GatherError as error:
        raise GatherError(f"{name}: {error}") from error


def _of_text(data: bytes, name: str, form: Form) -> list[Found]:
    try:
        text = decode(data)
        cards = read_text(text, "pasted.txt" if name == PASTED else name)
    except NotTextError as error:
        raise GatherError(f"{error}; type the recipe into a text file") from error
    except NotACardError as error:
        raise GatherError(f"{error}; give it a title and its ingredients or steps") from error
    kind = "pasted" if name == PASTED else str(form)
    markdown = form is Form.MARKDOWN
    return [Found(part, card, card.title, kind, markdown) for part, card in _parts(text, cards, markdown)]


def of_pieces(pieces: Sequence[Piece], name: str, form: Form) -> list[Found]:
    """The cards in what was opened; words that belong to none stand as notes in the first.

    Raises GatherError when there is no card, or one of over 1 MB.
    """
    found: list[Found] = []
    loose: list[str] = []
    pictures: list[Picture] = []
    for piece in pieces:
        text = decode(piece.text.encode("utf-8", "replace"))
        path = f"{PurePath(name).stem}{'.md' if piece.markdown else '.txt'}" if name != PASTED else "pasted.txt"
        if len(piece.text) > MAX_CARD:
            raise GatherError(f"its words are over {MAX_CARD // 1_000_000} MB, too much for a card; cut out the recipe")
        try:
            cards = read_text(text, path)
        except NotACardError:
            pictures += piece.pictures
            loose += ["", *piece.text.strip().splitlines()]
            continue
        for at, (part, card) in enumerate(_parts(text, cards, piece.markdown)):
            shown = () if at else piece.pictures
            found.append(Found(part, card, card.title, piece.form, piece.markdown, piece.sender, shown))
    if not found and pictures:
        title, *words = loose[1:]
        text = decode("\n".join([title.strip() or "Untitled", *words, ""]).encode("utf-8", "replace"))
        return [Found(text, None, title, pieces[0].form, False, pieces[0].sender, tuple(pictures))]
    if not found:
        raise GatherError(
            f"no recipe was found in this {form}: no title with ingredients or steps; "
            "copy the recipe into a text file and add that"
        )
    found[0] = replace(found[0], pictures=(*found[0].pictures, *pictures))
    if loose:
        first = found[0]
        text = with_notes(first.text, first.markdown, loose[1:])
        if len(encode(text)) > MAX_CARD:
            raise GatherError(f"its words are over {MAX_CARD // 1_000_000} MB, too much for a card; cut out the recipe")
        again = read_text(text, first.card.path)[0] if first.card else None
        found[0] = replace(first, text=text, card=again)
    return found


def _parts(text: Text, cards: Sequence[Card], markdown: bool) -> list[tuple[Text, Card]]:
    """Each card with its own part of the text; what stands before the first or between two goes with the one above."""
    if len(cards) == 1:
        return [(text, cards[0])]
    starts = [min(line.number for line in card.lines) for card in cards]
    result = []
    for at, card in enumerate(cards):
        end = starts[at + 1] - 1 if at + 1 < len(cards) else len(text.lines)
        lines = list(text.lines[starts[at] - 1 : end])
        while lines and not lines[-1].words.strip():
            lines.pop()
        lines[-1] = type(lines[-1])(lines[-1].words, lines[-1].end or text.end)
        result.append((Text(tuple(lines), text.encoding, text.mark, text.unsure), card))
    if starts[0] > 1:
        before = [line.words for line in text.lines[: starts[0] - 1]]
        result[0] = (with_notes(result[0][0], markdown, before), cards[0])
    return result


def _picture(data: bytes, name: str) -> Found:
    if not is_picture(data):
        raise GatherError("not a picture, whatever its name says; open it and save it again")
    title = re.sub(r"\s+", " ", stem(PurePath(name).stem)).strip()
    title = title[:1].upper() + title[1:] or "Picture"
    text = decode(f"{title}\n".encode("utf-8", "replace"))
    return Found(text, None, title, str(Form.PICTURE), False, None, (Picture(PurePath(name).name, data),))


def _unknown(name: str) -> str:
    ending = PurePath(name).suffix
    known = ", ".join(end for end, form in ENDINGS.items() if form is not Form.PICTURE)
    what = f"a file ending in '{ending}'" if ending else "a file without an ending"
    return f"cannot read {what}; save it as one of {known} or a picture and add that"


def _too_large(form: Form) -> str:
    return f"over {largest(form) / 1e6:g} MB, too much for a {form}; cut out the recipe and add that"
