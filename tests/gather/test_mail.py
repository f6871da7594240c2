"""Mails: whose recipe it is, what it is called, and that no word of it is lost."""

import base64
import quopri
from email.message import EmailMessage

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipebox.gather.forms import Form
from recipebox.gather.mail import read_mail
from recipebox.gather.piece import GatherError, Piece
from recipebox.gather.sent import Found, of_pieces
from tests.gather.making import INGREDIENTS, RECIPE, mail, packed

PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 30
FORWARDED = (
    "Hi all, here is mum's:\n\n---------- Forwarded message ---------\nFrom: Ines Duarte <ines@example.org>\n"
    "Date: Sat, 19 Apr 2025 at 09:12\nSubject: Oat squares\nTo: Tomasz <tomasz@example.org>\n\n"
    f"{RECIPE.partition(chr(10) * 2)[2]}\n-- \nTomasz\nsent from the train\n"
)


def found(message: EmailMessage | bytes) -> list[Found]:
    """The cards of a mail."""
    data = message if isinstance(message, bytes) else message.as_bytes()
    return of_pieces(read_mail(data), "letter.eml", Form.MAIL)


def items(one: Found) -> list[str]:
    """A card's ingredient lines."""
    assert one.card is not None
    return [ingredient.text for ingredient in one.card.ingredients]


def words(one: Found) -> str:
    """A card's whole text."""
    return "\n".join(line.words for line in one.text.lines)


def test_a_plain_mail_is_a_card_from_its_sender() -> None:
    """The subject is the title where the body has none, the sender gives the name, the date stands in the form."""
    (one,) = found(mail(RECIPE.partition("\n\n")[2]))
    assert (one.title, one.sender, one.form) == ("Oat squares", "Ines Duarte", "mail of 2025-04-20")
    assert items(one) == INGREDIENTS


@pytest.mark.parametrize("transfer", ["quoted-printable", "base64", "8bit"])
@pytest.mark.parametrize("charset", ["utf-8", "iso-8859-1", "windows-1252"])
def test_every_coding_gives_the_same_words(transfer: str, charset: str) -> None:
    """Quoted-printable, base64 and bare bytes in three character sets read alike, a half sign and accents included."""
    body = "Crêpes\n\n½ cup flour\n2 eggs\n\nWhisk à la main. Fry in butter.\n".encode(charset)
    coded = {"quoted-printable": quopri.encodestring(body), "base64": base64.encodebytes(body), "8bit": body}[transfer]
    head = f"From: r@example.org\nSubject: =?{charset}?q?Cr=C3=AApes?=\nMIME-Version: 1.0\n"
    head = head.replace("=C3=AA", "=EA" if charset != "utf-8" else "=C3=AA")
    head += f"Content-Type: text/plain; charset={charset}\nContent-Transfer-Encoding: {transfer}\n\n"
    (one,) = found(head.encode() + coded)
    assert (one.title, one.sender) == ("Crêpes", "r")
    assert items(one) == ["½ cup flour", "2 eggs"]
    assert "à la main" in words(one)


def test_a_forwarded_mail_is_from_its_first_sender() -> None:
    """Who forwarded it is not whose recipe it is; what both wrote stands in the card, addressees do not."""
    (one,) = found(mail(FORWARDED, "Fwd: Oat squares", "Tomasz <tomasz@example.org>"))
    assert (one.title, one.sender) == ("Oat squares", "Ines Duarte")
    assert items(one) == INGREDIENTS
    for kept in ("Hi all, here is mum's:", "Sat, 19 Apr 2025 at 09:12", "sent from the train"):
        assert kept in words(one)
    assert "@" not in words(one)


def test_of_a_mail_forwarded_twice_the_innermost_sender_counts() -> None:
    """Quoted forwards within forwards are taken apart down to the letter that has the recipe."""
    inner = "".join(f"> {line}\n" if line else ">\n" for line in FORWARDED.split("\n"))
    outer = f"Look!\n\nBegin forwarded message:\n\n> From: Tomasz <t@example.org>\n> Subject: Fwd: oats\n>\n{inner}"
    (one,) = found(mail(outer, "Fwd: Fwd: oats", "Maeve <maeve@example.org>"))
    assert one.sender == "Ines Duarte"
    assert items(one) == INGREDIENTS
    assert not [line for line in words(one).splitlines() if line.startswith(">")]


def test_an_answer_above_the_question_is_from_who_answers() -> None:
    """A quoted request below a recipe does not make it the asker's."""
    body = (
        RECIPE + "\nOn Sat, 19 Apr 2025 at 10:00, Brigid <b@example.org> wrote:\n> Could you send me\n> your squares?\n"
    )
    (one,) = found(mail(body, "Re: your squares"))
    assert (one.title, one.sender) == ("Oat squares", "Ines Duarte")
    assert "Could you send me" in words(one)


def test_a_recipe_quoted_below_thanks_is_from_who_is_quoted() -> None:
    """ "Thank you!" above a quoted recipe leaves the recipe its writer's."""
    quoted = "".join(f"> {line}\n" for line in RECIPE.splitlines())
    body = f"Thank you, it was lovely!\n\nOn Sat, 19 Apr 2025, Ines Duarte <i@example.org> wrote:\n{quoted}"
    (one,) = found(mail(body, "Re: oats", "Brigid <b@example.org>"))
    assert one.sender == "Ines Duarte"
    assert items(one) == INGREDIENTS
    assert "Thank you, it was lovely!" in words(one)


def test_a_mail_in_html_alone_is_read_as_it_looks() -> None:
    """Lists and lines of a page count; scripts, styles and hidden parts are never shown."""
    message = mail("")
    message.set_content(
        "<html><head><style>p {}</style></head><body><script>alert('boo')</script><div>Dear all,</div><div><br></div>"
        "<ul><li>2 eggs</li><li>1 cup sugar</li></ul><p>Beat the eggs &amp; sugar.</p><p>Bake it.</p>"
        "<span style='display: none'>secret</span></body></html>",
        subtype="html",
    )
    (one,) = found(message)
    assert items(one) == ["2 eggs", "1 cup sugar"]
    assert "Dear all," in words(one)
    assert not {"boo", "secret", "p {}"} & set(words(one).replace("'", " ").split())
    assert "<" not in words(one)


def test_of_two_wordings_the_plain_one_counts_once() -> None:
    """A mail in plain text and HTML gives its recipe once."""
    message = mail(RECIPE)
    message.add_alternative("<pre>" + RECIPE + "</pre>", subtype="html")
    (one,) = found(message)
    assert not one.markdown
    assert items(one) == INGREDIENTS


def test_a_plain_stub_gives_way_to_the_page() -> None:
    """Where the plain wording is no recipe, the HTML one is read."""
    message = mail("This mail needs a program that shows HTML.")
    message.add_alternative("<ul><li>2 eggs</li><li>1 cup sugar</li></ul><p>Beat and bake.</p>", subtype="html")
    (one,) = found(message)
    assert items(one) == ["2 eggs", "1 cup sugar"]


def test_soft_line_breaks_are_taken_out() -> None:
    """format=flowed (RFC 3676): a line that ends in a blank goes on in the next, the signature mark aside."""
    body = "Toffee\n\n1 cup sugar, the dark \nsoft kind\n1 cup butter\n\nMelt it all.\n-- \nInes\n"
    message = mail(body)
    message.set_param("format", "flowed")
    (one,) = found(message)
    assert items(one) == ["1 cup sugar, the dark soft kind", "1 cup butter"]


@pytest.mark.parametrize("name", ["recipe.txt", "recipe.md", "../../recipe.txt", "C:\\recipe.md", "recipe.html"])
def test_attached_recipes_are_cards_of_their_own(name: str) -> None:
    """A recipe attached as text, Markdown or page is read; the body's words stand in it as notes."""
    attachment = RECIPE.encode()
    if name.endswith(".html"):
        attachment = b"<h1>Oat squares</h1><ul>" + b"".join(f"<li>{i}</li>".encode() for i in INGREDIENTS) + b"</ul>"
    message = mail("Hello Brigid, it is attached. Love, Ines\n", "As promised")
    message.add_attachment(attachment, maintype="application", subtype="octet-stream", filename=name)
    (one,) = found(message)
    assert (one.title, one.sender) == ("Oat squares", "Ines Duarte")
    assert items(one) == INGREDIENTS
    assert "it is attached" in words(one)


def test_a_mail_in_a_mail_is_from_the_inner_one() -> None:
    """A mail forwarded as an attachment is its own sender's."""
    outer = mail("See below.", "Fwd: squares", "Tomasz <t@example.org>")
    outer.add_attachment(mail(RECIPE))
    (one,) = found(outer)
    assert (one.title, one.sender) == ("Oat squares", "Ines Duarte")
    assert "See below." in words(one)


def test_pictures_come_along_and_other_files_are_named() -> None:
    """An attached photo is kept for the first card; what cannot be read is named in a note."""
    message = mail(RECIPE)
    message.add_attachment(PNG, maintype="image", subtype="png", filename="squares.png")
    message.add_attachment(packed({"a": "b"}), maintype="application", subtype="zip", filename="all.zip")
    (one,) = found(message)
    assert [(picture.name, picture.data) for picture in one.pictures] == [("squares.png", PNG)]
    assert "all.zip" in words(one)


def test_a_mail_with_a_photo_alone_becomes_a_card_with_a_title() -> None:
    """A photographed card has the subject for its title, and waits to be typed in."""
    message = mail("", "Granny's plum cake")
    message.add_attachment(PNG, maintype="image", subtype="png", filename="IMG_1.png")
    (one,) = found(message)
    assert (one.title, one.card, len(one.pictures)) == ("Granny's plum cake", None, 1)


def test_chatter_is_no_recipe() -> None:
    """A mail without a recipe is refused in one line."""
    with pytest.raises(GatherError, match="no recipe was found") as error:
        found(mail("Dear Brigid,\n\nHow are you? We are fine.\n\nLove, Ines\n", "Hello"))
    assert "\n" not in str(error.value)


@given(
    st.binary(max_size=400)
    | st.text(max_size=400).map(lambda s: b"From: a@b\nSubject: c\n\n" + s.encode("utf-8", "replace"))
)
def test_no_bytes_break_the_reading_of_mail(data: bytes) -> None:
    """Whatever stands in a mail, it gives pieces or one line of complaint."""
    try:
        pieces = read_mail(data)
    except GatherError as error:
        assert "\n" not in str(error)
    else:
        assert all(isinstance(piece, Piece) for piece in pieces)


_NOTE = st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=40).map(str.strip).filter(bool)


@settings(max_examples=settings().max_examples // 2)
@given(st.lists(_NOTE, max_size=4), st.lists(_NOTE, max_size=3))
def test_no_word_of_a_body_is_lost(above: list[str], below: list[str]) -> None:
    """Every word above and below a recipe stands in the card that is made."""
    body = "\n".join([*above, "", RECIPE, "", *below])
    message = EmailMessage()
    message["From"], message["Subject"] = "Ines <i@example.org>", "Oat squares"
    message.set_content(body, cte="base64")
    told = " ".join(" ".join(words(one) for one in found(message)).replace(">", " ").split())
    for line in (*above, *INGREDIENTS, *below):
        for word in line.replace(">", " ").split():
            assert word in told
