"""What is sent to do harm: one clear line, bounded time and memory, and nothing written."""

import subprocess
import sys
import time
import zlib
from datetime import date
from pathlib import Path

import pytest

from recipebox.box import create
from recipebox.cards.reader import read_cards
from recipebox.gather import GatherError, read_sent
from recipebox.gather.apart import SECONDS, open_apart
from recipebox.gather.bring import add_sent
from tests.conftest import LONG
from tests.gather.making import INGREDIENTS, RECIPE, packed, paragraphs, word_parts

HEAD = b"From: a@example.org\nSubject: Oat squares\nMIME-Version: 1.0\n"


def nested_parts(depth: int) -> bytes:
    """A mail of multiparts within one another."""
    opened = b"".join(b'Content-Type: multipart/mixed; boundary="b%d"\n\n--b%d\n' % (i, i) for i in range(depth))
    closed = b"".join(b"\n--b%d--\n" % i for i in reversed(range(depth)))
    return HEAD + opened + b"Content-Type: text/plain\n\n" + RECIPE.encode() + closed


def entity_bomb() -> str:
    """Ten entities, each ten times the one before: a billion words when opened."""
    entities = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10 if n else "ha"}">' for n in range(10))
    return f'<?xml version="1.0"?><!DOCTYPE d [{entities}]>'


def drawn(stream: bytes, filters: bytes = b"") -> bytes:
    """A PDF of one page that draws what the stream says (ISO 32000-1)."""
    content = b"<< /Length %d %s>>\nstream\n" % (len(stream), filters) + stream + b"\nendstream"
    font = b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"
    page = b"<< /Type /Page /Parent 2 0 R /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>"
    return objects(b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>", page, content, font)


def objects(*parts: bytes) -> bytes:
    """A PDF of these objects behind its catalogue, the tree of pages first."""
    out = b"%PDF-1.7\n"
    places = []
    for number, part in enumerate((b"<< /Type /Catalog /Pages 2 0 R >>", *parts), 1):
        places.append(len(out))
        out += b"%d 0 obj\n" % number + part + b"\nendobj\n"
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    head = b"xref\n0 %d\n0000000000 65535 f \n" % (len(places) + 1)
    end = b"trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(places) + 1, len(out))
    return out + head + table + end


EGGS = b"BT /F1 12 Tf (2 eggs) Tj ET\n" * 3_000_000
DEEP = b'{"@type": "Recipe", "isPartOf": [' * 10_000 + b"]}" * 10_000
SENT = {
    "large.eml": HEAD + b"\n" + b"a" * 25_000_001,
    "parts.eml": nested_parts(1000),
    "deeper.eml": nested_parts(5_000),
    "within.eml": b"From: a@b\nContent-Type: message/rfc822\n\n" * 3000 + b"Subject: x\n\nx\n",
    "tags.html": b"<div>" * 1_000_000,
    "scripts.html": b"<script>alert('2 cups oats')</script>" * 1000,
    "comments.html": b"<!--" * 1_000_000,
    "entities.xhtml": entity_bomb().encode() + b"<html><body>&e9;</body></html>",
    "deep.json": DEEP,
    "deep.html": b'<script type="application/ld+json">' + DEEP + b"</script>",
    "bomb.docx": packed(word_parts("<w:p/>" * 5_000_000)),
    "entities.docx": packed(word_parts("<w:p><w:r><w:t>&e9;</w:t></w:r></w:p>", entity_bomb())),
    "deep.docx": packed(word_parts("<w:sdt>" * 100_000 + "</w:sdt>" * 100_000)),
    "bomb.pdf": drawn(zlib.compress(EGGS), b"/Filter /FlateDecode "),
    "twice.pdf": drawn(zlib.compress(zlib.compress(EGGS)), b"/Filter [/FlateDecode /FlateDecode] "),
    "round.pdf": objects(b"<< /Type /Pages /Kids [2 0 R 2 0 R] /Count 99999999 >>"),
    "pages.pdf": objects(
        b"<< /Type /Pages /Kids [%s] /Count 100000 >>" % (b"3 0 R " * 100_000), b"<< /Type /Page /Parent 2 0 R >>"
    ),
    "arrays.pdf": objects(b"<< /Type /Pages /Kids [] /Count 0 /X %s >>" % (b"[" * 100_000 + b"]" * 100_000)),
    "outside.docx": packed({"../../outside.txt": "x", "[Content_Types].xml": "<Types/>"}),
    "parameters.json": b'{"@type": "Recipe", "recipeYield": %s}' % (b"9" * 1_000_000),
    "torn.pdf": b"%PDF-1.7\n1 0 obj << /Length 99999999999 >> stream\n",
    "not.png": b"#!/bin/sh\n",
    "program.exe": b"MZ",
}


@pytest.mark.parametrize("name", SENT)
def test_hostile_files_are_refused_in_one_line(name: str) -> None:
    """Huge, nested, bombs, scripts alone, torn: one line with the file's name, well before the time is up."""
    start = time.monotonic()
    with pytest.raises(GatherError) as error:
        read_sent(SENT[name], name)
    assert time.monotonic() - start < SECONDS
    assert str(error.value).startswith(f"{name}: ")
    assert "\n" not in str(error.value)
    assert len(str(error.value)) < 300


def test_a_document_reads_no_file_of_this_computer(tmp_path: Path) -> None:
    """An external entity in a document does not bring in a file's words."""
    secret = tmp_path / "secret.txt"
    secret.write_text("treasure map")
    outside = f'<!DOCTYPE d [<!ENTITY f SYSTEM "{secret.as_uri()}">]>'
    body = paragraphs(RECIPE) + "<w:p><w:r><w:t>Found: &f;</w:t></w:r></w:p>"
    (found,) = read_sent(packed(word_parts(body, outside)), "squares.docx").found
    words = "\n".join(line.words for line in found.text.lines)
    assert "Found:" in words
    assert "treasure" not in words


def test_opening_has_bounds_on_memory_and_files(tmp_path: Path) -> None:
    """The process that opens files cannot take over 1 GB, nor write a file."""
    pytest.importorskip("resource", reason="this system has no such limits")
    script = (
        "import pathlib, sys\nfrom recipebox.gather.apart import _bound\n_bound()\n"
        "try:\n    bytearray(1 << 30)\nexcept MemoryError:\n    print('no memory')\n"
        "try:\n    pathlib.Path(sys.argv[1]).write_text('x')\nexcept OSError:\n    print('no file')\n"
    )
    command = [sys.executable, "-c", script, str(tmp_path / "written.txt")]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["no memory", "no file"]


def test_a_module_beside_the_cards_is_never_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file named like a module of Python, lying where we are, is not imported when something is opened."""
    for name in ("json.py", "selectolax.py", "recipebox.py"):
        (tmp_path / name).write_text("raise SystemExit('run')\n")
    monkeypatch.chdir(tmp_path)
    (piece,) = open_apart(b"<h1>Soup</h1><ul><li>2 leeks</ul>", "page.html")
    assert "2 leeks" in piece.text


CHARSETS = ["undefined", "idna", "hex", "zip", "rot13", "no-such", "=?x?=", '"a\0b"', "x" * 100_000, "unicode_escape"]


@pytest.mark.parametrize("charset", CHARSETS, ids=lambda name: name[:12].replace("\0", "NUL"))
def test_a_charset_that_is_none_costs_no_words(charset: str) -> None:
    """A mail that names a character set nobody knows, or a codec that is none, is read by its bytes."""
    data = HEAD + b"Content-Type: text/plain; charset=" + charset.encode() + b"\n\n" + RECIPE.encode()
    (one,) = read_sent(data, "letter.eml").found
    assert one.card is not None
    assert [line.text for line in one.card.ingredients] == INGREDIENTS


NAMES = [
    "../../../evil.txt",
    "/etc/cron.d/evil.txt",
    "C:\\\\evil.txt",
    ".bashrc",
    "con.txt",
    "a" * 5000 + ".txt",
    "",
    "..",
    "-rf.txt",
]


@pytest.mark.parametrize("name", NAMES, ids=lambda name: name[:12] or "none")
def test_whatever_an_attachment_is_called_it_is_read_and_stays_in_the_box(name: str, tmp_path: Path) -> None:
    """A name with folders, of a device, too long or none: the recipe is read, and no file is written elsewhere."""
    inside = f'Content-Type: text/plain\nContent-Disposition: attachment; filename="{name}"\n\n{RECIPE}'
    data = HEAD + f'Content-Type: multipart/mixed; boundary="b"\n\n--b\n\nHere!\n--b\n{inside}\n--b--\n'.encode()
    box = create(tmp_path / "box", "laptop")
    (added,) = add_sent(box, [read_sent(data, "letter.eml")], sender=None, today=date(2025, 4, 20))
    assert added["path"] == "cards/oat-squares.txt"
    assert [path.name for path in tmp_path.iterdir()] == ["box"]
    (card,) = read_cards((box.root / added["path"]).read_bytes(), added["path"])
    assert [line.text for line in card.ingredients] == INGREDIENTS


@pytest.mark.skipif(not LONG, reason="takes minutes; set RECIPEBOX_LONG=1")
@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("formatting.html", b"".join(b"<b id=a%d>" % n for n in range(1900)) + b"<p>x" * 200_000),
        ("many.eml", HEAD + b'Content-Type: multipart/mixed; boundary="b"\n\n' + b"--b\n\nhello\n" * 100_000),
        ("lines.eml", HEAD + b"\n" + b"2 eggs\n" * 3_500_000),
        ("wide.json", b"[" + b'{"@type": "Recipe", "name": "a", "recipeIngredient": ["1 egg"]},' * 300_000 + b"{}]"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_slow_files_are_given_up(name: str, data: bytes) -> None:
    """Files made to take for ever are given up in the time that opening has, with one line."""
    start = time.monotonic()
    with pytest.raises(GatherError):
        read_sent(data, name)
    assert time.monotonic() - start < SECONDS + 10
