"""`add` and `read` at the terminal."""

import io
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Type, valid
from tests.gather.making import files_of, mail

LETTER = """Oat squares

Dear Brigid,
You need:
2 cups rolled oats
1/2 cup honey
100 g butter

Melt the butter with the honey. Stir in the oats.
Press into a tin and bake at 180 C for 20 minutes.

Love, Ines
"""
TWO = """# Bean stew

## Ingredients
- 2 cans beans
- 1 onion

## Method
1. Fry the onion.
2. Add the beans and simmer.

# Corn bread

## Ingredients
- 1 cup cornmeal
- 1 egg

## Method
1. Mix the cornmeal and the egg.
2. Bake at 400 F.
"""


def test_read_gives_a_card_that_its_schema_accepts(recipebox: Type, sample_box: Path) -> None:
    """Every file of the invented family is read as at least one card in the published shape."""
    for path in sorted(sample_box.rglob("*.*")):
        if path.name == "on-hand.txt":
            continue
        answer = recipebox("read", str(path), "--json")
        assert answer.code == 0, answer.err
        for card in answer.lines:
            assert valid(card, "card")["title"]


def test_read_lines_numbers_the_lines_of_the_file(recipebox: Type, tmp_path: Path) -> None:
    """Empty lines are left out and the others keep their numbers."""
    file = tmp_path / "list.txt"
    file.write_text("1 1/2 cups flour\n\nTopping:\nsalt to taste\n", encoding="utf-8")
    answer = recipebox("read", "--lines", str(file), "--json")
    assert [(line["line"], line["kind"]) for line in answer.lines] == [
        (1, "ingredient"),
        (3, "heading"),
        (4, "ingredient"),
    ]
    assert answer.lines[0]["amount"] == {"low": "3/2", "high": "3/2"}
    assert answer.lines[0]["unit"] == "cup"


def test_reading_what_is_not_there_goes_on_with_the_rest(recipebox: Type, tmp_path: Path) -> None:
    """A missing file gives one line and exit 1, and the other file is read all the same."""
    there = tmp_path / "oats.txt"
    there.write_text(LETTER, encoding="utf-8")
    answer = recipebox("read", str(tmp_path / "gone.txt"), str(there), "--json")
    assert answer.code == 1
    missing, card = answer.lines
    valid(missing, "unread")
    assert valid(card, "card")["title"] == "Oat squares"
    assert len(answer.err.splitlines()) == 1
    assert "gone.txt" in answer.err


def test_a_letter_is_brought_in_once(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """A letter becomes a card with its words whole, the original stays beside, and adding it again adds nothing."""
    letter = tmp_path / "from ines.txt"
    letter.write_text(LETTER, encoding="utf-8")
    first = valid(recipebox("add", str(letter), "--from", "Ines", "--json").data, "add")["added"]
    assert [(one["title"], one["from"], one["already"]) for one in first] == [("Oat squares", "Ines", False)]
    text = (box / first[0]["path"]).read_text(encoding="utf-8")
    assert set(LETTER.splitlines()) <= set(text.splitlines())
    assert "from: Ines" in text
    assert (box / first[0]["as_sent"]).read_bytes() == letter.read_bytes()
    before = sorted(box.rglob("*.txt"))
    again = valid(recipebox("add", str(letter), "--from", "Ines", "--json").data, "add")["added"]
    assert [one["already"] for one in again] == [True]
    assert sorted(box.rglob("*.txt")) == before
    assert recipebox("find", "oat", "squares", "--json").data["hits"][0]["path"] == first[0]["path"]


def test_two_recipes_in_a_file_are_asked_about(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """Off a terminal nothing is written and exit is 3; with --yes each becomes a card file of its own."""
    file = tmp_path / "two.md"
    file.write_text(TWO, encoding="utf-8")
    before = sorted(path for path in box.rglob("*") if ".recipebox" not in path.parts)
    asked = recipebox("add", str(file), "--json")
    assert asked.code == 3
    assert [one["title"] for one in asked.data["added"]] == ["Bean stew", "Corn bread"]
    assert sorted(path for path in box.rglob("*") if ".recipebox" not in path.parts) == before
    added = recipebox("add", str(file), "--yes", "--json")
    assert added.code == 0
    paths = [one["path"] for one in added.data["added"]]
    assert len(set(paths)) == 2
    stew = recipebox("read", paths[0], "--json").data
    assert [i["item"] for i in stew["ingredients"]] == ["beans", "onion"]
    assert len(stew["steps"]) == 2


def test_what_was_added_can_be_taken_back(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """`undo` takes a card that was just added out of the box again, and nothing else."""
    letter = tmp_path / "ines.txt"
    letter.write_text(LETTER, encoding="utf-8")
    path = recipebox("add", str(letter), "--json").data["added"][0]["path"]
    undone = recipebox("undo", "--yes", "--json")
    assert undone.code == 0, undone.err
    assert path in valid(undone.data, "undo")["changed"]
    assert not (box / path).exists()
    assert (box / "versions/brigid-fish-bake.txt").exists()


@pytest.mark.parametrize("name", ["photo.docx", "empty.txt", "picture.txt", "large.txt"])
def test_what_cannot_be_brought_in_is_named_in_one_line(recipebox: Type, box: Path, tmp_path: Path, name: str) -> None:
    """A form that is not read, an empty file, a picture named .txt and a huge file: one line each, exit 1."""
    file = tmp_path / name
    content = {
        "photo.docx": b"PK",
        "empty.txt": b"",
        "picture.txt": b"\x89PNG\r\n\x1a\n\0\0",
        "large.txt": b"a" * 2_000_000,
    }
    file.write_bytes(content[name])
    answer = recipebox("add", str(file))
    assert answer.code == 1
    assert len(answer.err.splitlines()) == 1
    assert name in answer.err
    assert not (box / "cards").exists()


def typed_in(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    """Bytes that come in on standard input."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data), encoding="utf-8"))


def test_a_mail_is_brought_in_and_its_original_stays_here(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """A mail's card is found like any other; its original is not part of what travels, unless that was asked."""
    file = tmp_path / "Oat squares.eml"
    file.write_bytes(mail(LETTER).as_bytes())
    (one,) = valid(recipebox("add", str(file), "--json").data, "add")["added"]
    assert (one["title"], one["from"]) == ("Oat squares", "Ines Duarte")
    assert one["as_sent"].startswith("as-sent/")
    assert recipebox("find", "oat squares", "--json").data["hits"][0]["path"] == one["path"]
    undone = recipebox("undo", "--yes", "--json").data
    assert {one["path"], one["as_sent"]} <= set(undone["changed"])
    assert not (box / one["path"]).exists()
    assert not (box / one["as_sent"]).exists()
    (shared,) = recipebox("add", str(file), "--share-original", "--json").data["added"]
    assert shared["as_sent"].startswith("cards/as-sent/")
    undone = recipebox("undo", "--yes", "--json").data
    assert {shared["path"], shared["as_sent"]} <= set(undone["changed"])
    assert not (box / shared["as_sent"]).exists()


@pytest.mark.parametrize("form", ["text", "mail", "page", "json"])
def test_what_is_pasted_is_known_by_its_beginning(
    recipebox: Type, box: Path, monkeypatch: pytest.MonkeyPatch, form: str
) -> None:
    """`-` takes a text, a mail's source, a page's source or JSON."""
    page = "<!doctype html><h1>Oat squares</h1><ul><li>2 cups rolled oats<li>1/2 cup honey</ul><p>Bake."
    data = '{"@type": "Recipe", "name": "Oat squares", "recipeIngredient": ["2 cups rolled oats"]}'
    whole = {"text": LETTER.encode(), "mail": b"MIME-Version: 1.0\n" + mail(LETTER).as_bytes()}
    typed_in(monkeypatch, whole.get(form, page.encode() if form == "page" else data.encode()))
    answer = recipebox("add", "-", "--json")
    assert answer.code == 0, answer.err
    (one,) = answer.data["added"]
    assert one["title"] == "Oat squares"
    assert "came: " in (box / one["path"]).read_text(encoding="utf-8")


def test_a_look_before_adding_writes_nothing(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """With --dry-run the answer is the same and the box stays as it was."""
    file = tmp_path / "squares.eml"
    file.write_bytes(mail(LETTER).as_bytes())
    before = files_of(box)
    looked = recipebox("add", str(file), "--dry-run", "--json")
    assert looked.code == 0
    assert files_of(box) == before
    assert recipebox("add", str(file), "--json").data == looked.data


def test_other_forms_are_read_without_a_box(recipebox: Type, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """`read` shows how a mail or page is understood, under the name that was typed."""
    monkeypatch.chdir(tmp_path)
    Path("a.eml").write_bytes(mail(LETTER).as_bytes())
    Path("b.html").write_text("<h1>Soup</h1><ul><li>2 leeks<li>1 l stock</ul><p>Boil.", encoding="utf-8")
    answer = recipebox("read", "a.eml", "b.html", "--json")
    assert answer.code == 0, answer.err
    assert [(valid(card, "card")["path"], card["title"]) for card in answer.lines] == [
        ("a.eml", "Oat squares"),
        ("b.html", "Soup"),
    ]
    assert answer.lines[0]["from"] == "Ines Duarte"


def test_cards_go_out_as_schema_org_and_come_in_again(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """What `read --as schema.org` writes for several cards is brought in as the same cards elsewhere."""
    cards = ["versions/brigid-fish-bake.txt", "basics/white-sauce.txt"]
    written = recipebox("read", *cards, "--as", "schema.org")
    assert written.code == 0, written.err
    assert [one["@type"] for one in written.data["@graph"]] == ["Recipe", "Recipe"]
    file = tmp_path / "out.json"
    file.write_text(written.out, encoding="utf-8")
    again = recipebox("read", str(file), "--json").lines
    for card, path in zip(again, cards, strict=True):
        before = recipebox("read", path, "--json").data
        for key in ("title", "from", "serves", "makes", "minutes", "tags"):
            assert card[key] == before[key]
        assert [i["text"] for i in card["ingredients"]] == [i["text"] for i in before["ingredients"]]
        assert [step["text"] for step in card["steps"]] == [step["text"] for step in before["steps"]]


def test_another_form_than_schema_org_is_a_wrong_call(recipebox: Type, tmp_path: Path) -> None:
    """`--as` knows one form, and says which."""
    answer = recipebox("read", "x.txt", "--as", "html")
    assert answer.code == 2
    assert "schema.org" in answer.err


def test_a_huge_mail_is_refused_without_being_read(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """A mail of 100 MB gives one line and exit 1, and nothing is written."""
    file = tmp_path / "huge.eml"
    with file.open("wb") as opened:
        opened.write(mail(LETTER).as_bytes())
        opened.truncate(100_000_000)
    before = files_of(box)
    answer = recipebox("add", str(file), "--json")
    assert answer.code == 1
    assert valid(answer.data, "add")["added"] == []
    assert len(answer.err.splitlines()) == 1
    assert "over 25 MB" in answer.err
    assert files_of(box) == before


def test_a_picture_cannot_be_read_but_can_be_kept(recipebox: Type, box: Path, tmp_path: Path) -> None:
    """`read` says that a picture holds no words; `add` keeps it beside a card with its title."""
    file = tmp_path / "plum cake.png"
    file.write_bytes(b"\x89PNG\r\n\x1a\n" + b"\0" * 20)
    assert recipebox("read", str(file)).code == 1
    (one,) = recipebox("add", str(file), "--json").data["added"]
    assert one["path"] == "cards/plum-cake.txt"
    assert (box / "cards/plum-cake.png").read_bytes() == file.read_bytes()
