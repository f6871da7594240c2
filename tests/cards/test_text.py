"""Bytes to lines and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipebox.cards.text import Line, NotTextError, Text, decode, encode

ENDS = st.sampled_from(["\n", "\r\n", "\r"])


@given(st.binary(max_size=300))
def test_any_bytes_that_are_text_come_back(data: bytes) -> None:
    """Whatever is read as text is written again as the same bytes; nothing else than NotTextError is raised."""
    try:
        text = decode(data)
    except NotTextError:
        return
    assert encode(text) == data


@given(
    st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"), max_size=200),
    st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]),
)
def test_every_encoding_with_its_mark_comes_back(words: str, encoding: str) -> None:
    """UTF-8 with or without mark and UTF-16 with its mark keep words and bytes."""
    data = words.encode(encoding)
    text = decode(data)
    assert encode(text) == data
    if not words.startswith("\ufeff"):
        assert "".join(line.words + line.end for line in text.lines) == words


@given(st.lists(st.tuples(st.text("ab ", max_size=4), ENDS), max_size=8))
def test_each_line_keeps_its_own_end(lines: list[tuple[str, str]]) -> None:
    """Mixed line ends stay as they are, line by line; no line's words hold an end."""
    data = "".join(words + end for words, end in lines).encode()
    text = decode(data)
    assert encode(text) == data
    assert not any("\n" in line.words or "\r" in line.words for line in text.lines)


@given(st.binary(min_size=1, max_size=40).filter(lambda data: b"\0" not in data))
def test_what_is_not_utf8_is_read_unsure(data: bytes) -> None:
    """Bytes that are not UTF-8 are read as Windows-1252 and marked unsure."""
    broken = b"caf\xe9 " + data
    text = decode(broken)
    assert text.unsure
    assert text.lines[0].words.startswith("café")
    assert encode(text) == broken


def test_a_picture_is_no_text() -> None:
    """A NUL byte makes a file no text, and the message says so."""
    with pytest.raises(NotTextError, match="not text"):
        decode(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR")


def test_a_letter_outside_windows_1252_turns_the_text_to_utf8() -> None:
    """A new word that the old encoding cannot hold is not lost."""
    text = decode(b"caf\xe9\n")
    more = Text((*text.lines, Line("kołacz", "\n")), text.encoding, text.mark, text.unsure)
    assert encode(more).decode("utf-8") == "café\nkołacz\n"


def test_new_lines_get_the_commonest_end() -> None:
    """A file with Windows line ends goes on having them."""
    assert decode(b"a\r\nb\r\nc\n").end == "\r\n"
    assert decode(b"a").end == "\n"
