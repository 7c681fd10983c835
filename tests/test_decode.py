"""Bytes to text: encodings, files that are no text, and guesses that are owned up to."""

from __future__ import annotations

import codecs

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.decode import decode
from convert.errors import PatternError, UnreadableInput

TEXT = "½ “tr” – Übergröße\nRnd 1: 6 sc"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        codecs.BOM_UTF16_LE + TEXT.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        codecs.BOM_UTF32_LE + TEXT.encode("utf-32-le"),
        TEXT.encode() + b"\x1a",
    ],
    ids=["utf-8", "utf-8 with a mark", "utf-16-le", "utf-16-be", "utf-32-le", "ended with Ctrl-Z"],
)
def test_marked_encodings_are_read_without_a_word(data: bytes) -> None:
    """The text is the same, and nothing was guessed."""
    source, findings = decode("hat.txt", data, "text")
    assert (source.text, findings) == (TEXT, ())


def test_an_old_windows_text_is_read_with_a_warning_at_its_first_odd_character() -> None:
    """The guess is told, with the place where to look whether it was right."""
    source, (finding,) = decode("hat.txt", "Sizes: S\nChain 3½".encode("cp1252"), "text")
    assert source.text == "Sizes: S\nChain 3½"
    assert (finding.code, finding.severity, finding.span.for_people) == ("encoding-guessed", "warning", (2, 8))


@pytest.mark.parametrize(
    ("data", "kind", "said"),
    [
        (b"%PDF-1.7\n", "text", "a PDF"),
        (b"PK\x03\x04\x14\x00", "text", "word processor"),
        (b"\x89PNG\r\n\x1a\n", "markdown", "a picture"),
        (bytes(range(256)), "text", "no text file"),
        (b"caf\xe9 \x81", "text", "neither UTF-8 nor Windows-1252"),
        (codecs.BOM_UTF16_LE + b"\x00", "text", "not sound UTF-16"),
        (b'{"title": "caf\xe9"}', "json", "JSON is UTF-8"),
    ],
)
def test_what_is_no_text_is_refused_with_what_it_is(data: bytes, kind: str, said: str) -> None:
    """The message names the kind of file, the hint tells what to do."""
    with pytest.raises(UnreadableInput, match=said) as caught:
        decode("hat", data, kind)
    assert "plain text in UTF-8" in caught.value.hint


def test_line_ends_of_every_system_end_lines() -> None:
    """A lone carriage return ends a line too; positions after it are right."""
    source, _ = decode("hat.txt", b"a\rb\r\nc\nd", "text")
    assert [source.line(number) for number in range(4)] == ["a", "b", "c", "d"]


@given(st.binary(max_size=200), st.sampled_from(["yaml", "markdown", "text", "json", ""]))
def test_any_bytes_are_read_or_refused(data: bytes, kind: str) -> None:
    """Never another exception, and never a text that is not one."""
    try:
        source, _ = decode("any", data, kind)
    except PatternError:
        return
    source.text.encode("utf-8")
