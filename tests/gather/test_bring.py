"""Cards put into a box."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from recipebox.box import Box, create
from recipebox.cards.reader import read_cards
from recipebox.gather import add_sent, read_sent
from recipebox.gather.here import file_stem
from recipebox.history import open_history
from recipebox.merge import carried
from tests.gather.making import INGREDIENTS, RECIPE, files_of, mail

TODAY = date(2026, 11, 25)
PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 30


@pytest.fixture
def box(tmp_path: Path) -> Box:
    """An empty box."""
    return create(tmp_path / "box", "kitchen")


def add(box: Box, data: bytes, name: str, **how: Any) -> list[dict[str, Any]]:
    """Bring one file in."""
    return add_sent(box, [read_sent(data, name)], sender=how.pop("sender", None), today=how.pop("today", TODAY), **how)


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ("Aunt Élise's Pie", "aunt-elises-pie"),
        ("Суп, 2 порции", "суп-2-порции"),
        ("味噌汁", "味噌汁"),
        ("टमाटर की चटनी", "टमाटर-की-चटनी"),
        ("Żurek łódzki", "zurek-łodzki"),
        ("!!!", "card"),
        ("Aux", "card-aux"),
    ],
)
def test_a_file_is_named_after_its_title_in_any_script(title: str, stem: str) -> None:
    """Letters of every script stay, Latin ones without accents; a name no Windows can hold is not given."""
    assert file_stem(title) == stem
    assert carried(f"cards/{stem}.txt")
    assert len(file_stem(title * 40).encode()) <= 180


def test_a_card_in_another_script_is_known_again(box: Box) -> None:
    """The same letter brought in twice is one card, whatever the letters of its file's name."""
    text = RECIPE.replace(RECIPE.splitlines()[0], "Овсяные квадраты", 1).encode()
    (one,) = add(box, mail(text.decode()).as_bytes(), "Овсяные квадраты.eml")
    (two,) = add(box, mail(text.decode()).as_bytes(), "Овсяные квадраты.eml")
    assert (one["path"], two["already"]) == (two["path"], True)
    assert one["as_sent"].startswith("as-sent/овсяные-квадраты-")


def test_a_card_says_from_whom_when_and_in_what_form_it_came(box: Box) -> None:
    """A mail's card names its sender, the day, the mail's own day and the original, which lies there byte for byte."""
    data = mail(RECIPE).as_bytes()
    (one,) = add(box, data, "/home/brigid/Oat squares.eml")
    files = files_of(box.root)
    assert set(files) == {one["path"], one["as_sent"]}
    assert files[one["as_sent"]] == data
    (card,) = read_cards(files[one["path"]], one["path"])
    headers = {header.name: header.value for header in card.headers}
    assert headers == {
        "from": "Ines Duarte",
        "came": f"2026-11-25, Oat squares.eml (mail of 2025-04-20), kept as {one['as_sent']}",
    }
    assert [i.text for i in card.ingredients] == INGREDIENTS
    assert not carried(one["as_sent"])


def test_an_original_travels_only_when_asked(box: Box) -> None:
    """`share` keeps the original where it is carried, and a text there is not taken for a second card."""
    (one,) = add(box, RECIPE.encode(), "squares.txt", share=True)
    assert carried(one["as_sent"])
    assert (box.root / one["as_sent"]).read_bytes() == RECIPE.encode()
    assert one["as_sent"].endswith(".text")
    assert one["as_sent"] in open_history(box).tree(open_history(box).head or "")


def test_a_mail_s_own_sender_gives_way_to_who_is_named(box: Box) -> None:
    """`--from` says who it is from, unless the card itself does."""
    (one,) = add(box, mail(RECIPE).as_bytes(), "a.eml", sender="Auntie")
    assert one["from"] == "Auntie"
    assert b"from: Auntie" in (box.root / one["path"]).read_bytes()
    own = RECIPE.replace("squares\n", "crumble\nfrom: Maeve\n", 1)
    (one,) = add(box, own.encode(), "b.txt", sender="Auntie")
    assert one["from"] == "Maeve"
    assert (box.root / one["path"]).read_text().count("from:") == 1


@pytest.mark.parametrize("name", ["squares.txt", "squares.eml"])
def test_nothing_is_brought_in_twice(box: Box, name: str) -> None:
    """The same file, another day, is there already; also after its card was changed by hand, or moved."""
    data = {
        "squares.txt": RECIPE.encode(),
        "squares.eml": mail(RECIPE).as_bytes(),
    }[name]
    (one,) = add(box, data, name)
    path = box.root / one["path"]
    (again,) = add(box, data, f"copy of {name}", today=date(2027, 1, 1))
    assert (again["already"], again["path"]) == (True, one["path"])
    path.write_text(path.read_text().replace("Oat squares", "Ines's oat squares", 1))
    moved = box.root / "sweet" / path.name
    moved.parent.mkdir()
    path.rename(moved)
    before = files_of(box.root)
    (again,) = add(box, data, name)
    assert (again["already"], again["path"]) == (True, f"sweet/{path.name}")
    assert files_of(box.root) == before


def test_the_same_card_from_another_laptop_is_there_already(box: Box) -> None:
    """A card that came by sync, its original elsewhere, is known by what it says or by its original's mark."""
    (one,) = add(box, RECIPE.encode(), "squares.txt")
    (box.root / one["as_sent"]).unlink()
    (again,) = add(box, RECIPE.encode(), "squares.txt", today=date(2027, 1, 1))
    assert again["already"]
    (again,) = add(box, RECIPE.replace("\n", "\r\n").encode(), "letter.txt")
    assert again["already"]


def test_another_s_same_titled_card_is_a_card_of_its_own(box: Box) -> None:
    """Two people's cards of one title stand side by side."""
    (one,) = add(box, RECIPE.encode(), "a.txt", sender="Ines")
    (two,) = add(box, RECIPE.replace("honey", "syrup").encode(), "b.txt", sender="Maeve")
    assert (one["path"], two["path"]) == ("cards/oat-squares.txt", "cards/oat-squares-2.txt")


def test_a_file_named_twice_is_brought_in_once(box: Box) -> None:
    """The same bytes under two names in one call give one card."""
    sent = [read_sent(RECIPE.encode(), name) for name in ("a.txt", "b.txt")]
    added = add_sent(box, sent, sender=None, today=TODAY)
    assert [one["already"] for one in added] == [False, True]
    assert len([path for path in files_of(box.root) if path.startswith("cards/")]) == 1


def test_a_look_first_writes_nothing_and_tells_the_same(box: Box) -> None:
    """Without `write` nothing is written, not even history, and the answer is that of the real thing."""
    data = RECIPE.encode()
    looked = add(box, data, "a.txt", write=False)
    assert files_of(box.root) == {}
    assert open_history(box).head is None
    assert add(box, data, "a.txt") == looked


def test_every_word_of_a_file_with_two_recipes_is_kept(box: Box) -> None:
    """Each recipe becomes a file; what stands before, between and after them stays in one of the two."""
    words = (
        "Dear Brigid, two for you.\n\n# Bean stew\n\n## Ingredients\n\n- 2 cans beans\n- 1 onion\n\n## Method\n\n"
        "1. Fry the onion.\n2. Add the beans.\n\nWe had it on Sunday.\n\n# Corn bread\n\n## Ingredients\n\n"
        "- 1 cup cornmeal\n- 1 egg\n\n## Method\n\n1. Mix.\n2. Bake at 400 F.\n\nLove, Ines\n"
    )
    added = add(box, words.encode(), "two.md")
    assert [one["title"] for one in added] == ["Bean stew", "Corn bread"]
    kept = "".join((box.root / one["path"]).read_text() for one in added)
    for line in words.splitlines():
        assert line in kept
    again = add(box, words.encode(), "two.md")
    assert [(one["already"], one["path"]) for one in again] == [(True, one["path"]) for one in added]


@pytest.mark.parametrize("coded", ["utf-16", "utf-8-sig", "cp1252", "crlf"])
def test_encoding_and_line_ends_stay(box: Box, coded: str) -> None:
    """A card keeps its mark, its encoding and its line ends; every line as sent stands in it."""
    words = RECIPE.replace("Oat", "Crêpe", 1)
    data = words.replace("\n", "\r\n").encode() if coded == "crlf" else words.encode(coded)
    (one,) = add(box, data, "crepes.txt", sender="Renée")
    card = (box.root / one["path"]).read_bytes()
    whole = card.decode("utf-8" if coded == "crlf" else coded)
    assert set(words.splitlines()) < set(whole.splitlines())
    assert ("\r\n" in whole) == (coded == "crlf")
    assert card[:3] == data[:3]
    assert read_cards(card, one["path"])[0].sender == "Renée"


def test_a_picture_is_kept_beside_a_new_card(box: Box) -> None:
    """The picture lies beside a text that has a title and names it; adding it again adds nothing."""
    (one,) = add(box, PNG, "photos/Granny's_plum cake.png")
    files = files_of(box.root)
    assert one["path"] == "cards/grannys-plum-cake.txt"
    assert files["cards/grannys-plum-cake.png"] == PNG
    assert one["as_sent"] == "cards/grannys-plum-cake.png"
    assert len(files) == 2
    text = files[one["path"]].decode()
    assert text.startswith("Granny's plum cake\n")
    assert "\npicture: grannys-plum-cake.png\n" in text
    (again,) = add(box, PNG, "again.png")
    assert again["already"]
    assert files_of(box.root) == files


def test_nothing_lands_outside_cards_and_as_sent(box: Box, tmp_path: Path) -> None:
    """Titles and attachment names with `../`, drives, devices and control characters name plain files within."""
    message = mail("See attached.\n", "../../../etc/cron.d/x\u202e")
    for name in ("../../evil.txt", "/etc/passwd.txt", "C:\\windows\\con.txt", "..\\..\\up.png"):
        data = PNG if name.endswith("png") else RECIPE.replace("Oat squares", f"../../{name}").encode()
        message.add_attachment(data, maintype="application", subtype="octet-stream", filename=name)
    before = {path for path in tmp_path.rglob("*") if box.root not in (path, *path.parents)}
    added = add(box, message.as_bytes(), "../../mail.eml") + add(box, b"CON\n\n2 eggs\n1 cup milk\n", "con.txt")
    assert added
    assert {path for path in tmp_path.rglob("*") if box.root not in (path, *path.parents)} == before
    for path in files_of(box.root):
        folder, _, name = path.rpartition("/")
        assert folder in ("cards", "as-sent")
        assert name.replace("-", "").replace(".", "").isalnum()
        assert name.rpartition(".")[0] != "con"
