"""The invented family's box as the family means it, for the tests of several rooms."""

from collections.abc import Iterator
from pathlib import Path

from recipebox.cards.kinds import NotACardError, could_be_card
from recipebox.cards.model import Card
from recipebox.cards.reader import read_cards

DISHES = {
    "Harbour Fish and Leek Bake": (
        "letters/tomasz.txt",
        "letters/wanda.txt",
        "mail/fwd-declan-fish-bake.txt",
        "notes/heike-fish-bake.md",
        "notes/ines-fish-leek-bake.md",
        "versions/brigid-fish-bake.txt",
        "versions/carol-ann-fish-bake.txt",
        "versions/june-harbor-fish-bake.txt",
        "versions/maeve-small-fish-bake.txt",
        "versions/nuala-fish-bake.txt",
        "versions/pete-fish-bake-with-soup.txt",
    ),
    "Seeded Soda Bread": (
        "breads/brigid-seeded-soda-bread.txt",
        "breads/carol-ann-seeded-soda-bread.txt",
        "letters/maeve-brown-bread.txt",
        "notes/rui-seed-loaf.md",
    ),
    "Oat and Berry Breakfast Bake": (
        "breakfast/june-oat-berry-bake.txt",
        "mail/ines-oat-tray.txt",
        "notes/nuala-oat-berry-tray.md",
    ),
    "Red Lentil and Root Soup": (
        "letters/heike-lentil-soup.txt",
        "notes/wanda-lentil-soup.md",
        "soups/nuala-lentil-soup.txt",
        "soups/pete-lentil-soup.txt",
    ),
    "Plum Dumplings": (
        "notes/heike-plum-dumplings.md",
        "sweets/june-plum-dumplings.txt",
        "sweets/wanda-plum-dumplings.txt",
    ),
}


def cards_but_mail(sample_box: Path) -> Iterator[tuple[str, Card]]:
    """Path and card of all that can be laid out anew: a mail's own head, as a note, is read as a mail's head again."""
    for file in sorted(sample_box.rglob("*")):
        path = file.relative_to(sample_box).as_posix()
        if not file.is_file() or not could_be_card(path) or path.startswith("mail/"):
            continue
        try:
            cards = read_cards(file.read_bytes(), path)
        except NotACardError:
            continue
        for card in cards:
            yield path, card
