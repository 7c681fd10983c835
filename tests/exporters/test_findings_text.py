"""Findings as text: the place, the line, marks that stand under what they mean, and nothing that steers a terminal."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from convert.exporters.display import Line, safe, shown, width
from convert.exporters.findings_text import COLOUR, write_finding, write_findings, write_summary
from convert.fabric.results import Understood
from convert.findings import Finding, Severity
from convert.source import NOWHERE, Source, Span


def _error(span: Span, *related: Span, message: str = "Wrong.", **more: str) -> Finding:
    return Finding("count-mismatch", Severity.ERROR, message, span, related=related, **more)


def _lines(text: str, finding: Finding) -> list[str]:
    return write_finding(Source("hat.md", text), finding).splitlines()


def test_a_finding_shows_its_line_with_marks_the_reason_and_a_hint() -> None:
    """The whole form, with a second place on the same line."""
    row = "Rnd 5: *Sc in next 5 sts, 2 sc in next st; rep from * around. (36)"
    text = "\n" * 13 + row
    begin, end = row.index("*"), row.index(".")
    finding = _error(
        Span(13, begin, 13, end),
        Span(13, row.index("("), 13, len(row)),
        message="Round 5 makes 35 sc in size M, but it says 36.",
        because="Round 4 left 30 stitches.",
        hint="The count should be 35.",
    )
    assert _lines(text, finding) == [
        "hat.md:14:8 error: Round 5 makes 35 sc in size M, but it says 36.  [count-mismatch]",
        f"14 | {row}",
        "   | " + " " * begin + "^" * (end - begin) + "  " + "^" * 4,
        "Round 4 left 30 stitches.",
        "Hint: The count should be 35.",
    ]


def test_a_finding_without_a_place_names_the_file_alone() -> None:
    """No line is shown where none is known."""
    assert _lines("sc", _error(NOWHERE)) == ["hat.md error: Wrong.  [count-mismatch]"]


def test_marks_stand_under_wide_letters_tabs_and_accents() -> None:
    """Carets count columns of the terminal, not characters."""
    text = "\t編み e\u0301e\u0301 sc"
    start = text.index("sc")
    _, line, marks = _lines(text, _error(Span(0, start, 0, start + 2)))
    before = line[: line.index("sc")]
    assert width(before) == marks.index("^")
    assert marks.endswith("^^") and marks.count("^") == 2


def test_a_stretch_over_lines_marks_each_of_them() -> None:
    """The first line from its start on, the last up to its end, and no mark under the indent."""
    assert _lines("Rnd 1: 6 sc\n   in ring. (7)", _error(Span(0, 7, 1, 10))) == [
        "hat.md:1:8 error: Wrong.  [count-mismatch]",
        "1 | Rnd 1: 6 sc",
        "  |        ^^^^",
        "2 |    in ring. (7)",
        "  |    ^^^^^^^",
    ]


def test_a_related_place_far_off_is_shown_with_its_own_line() -> None:
    """Lines that do not follow on are set apart; numbers line up."""
    text = "\n".join(f"Rnd {n}: sc" for n in range(1, 13))
    assert _lines(text, _error(Span(11, 0, 11, 6), Span(1, 0, 1, 5)))[1:] == [
        " 2 | Rnd 2: sc",
        "   | ^^^^^",
        ".. |",
        "12 | Rnd 12: sc",
        "   | ^^^^^^",
    ]


def test_a_long_line_is_cut_around_the_mark() -> None:
    """A row of thousands of characters does not fill the screen, and the marks still point at the right words."""
    text = "sc, " * 2000 + "WRONG" + ", dc" * 2000
    start = text.index("WRONG")
    _, line, marks = _lines(text, _error(Span(0, start, 0, start + 5)))
    assert len(line) < 130
    assert line[marks.index("^") : marks.index("^") + 5] == "WRONG"
    assert marks.count("^") == 5


def test_marks_far_apart_on_a_long_line_are_both_shown() -> None:
    """The count at the end of a long row is shown with the row's beginning, each with its own piece of the line."""
    text = "Rnd 1: " + "sc, " * 200 + "(36)"
    lines = _lines(text, _error(Span(0, 7, 0, 300), Span(0, len(text) - 4, 0, len(text))))
    assert lines[1].startswith("1 | Rnd 1: sc, sc")
    assert lines[1].endswith("…")
    assert lines[2].startswith("  |        ^^^")
    assert lines[3].startswith("1 | …")
    assert lines[3][lines[4].index("^") :] == "(36)"
    assert lines[4].count("^") == 4


def test_what_steers_a_terminal_is_shown_as_an_escape() -> None:
    """Neither the pattern's text nor a message built from it moves the cursor or turns the writing around."""
    text = "Rnd 1: \x1b[2J sc \u202eabc"
    printed = write_finding(Source("hat\x1b.md", text), _error(Span(0, 7, 0, 8), message=f"Unknown {text[7:12]}."))
    assert "\x1b" not in printed and "\u202e" not in printed
    assert "\\x1b[2J" in printed and "\\u202e" in printed


@given(st.text(st.characters(exclude_characters="\n"), max_size=60), st.data())
def test_marks_always_begin_under_their_first_character(text: str, data: st.DataObject) -> None:
    """For any line and any stretch of it."""
    start = data.draw(st.integers(0, max(0, len(text) - 1)))
    end = data.draw(st.integers(start, len(text)))
    line = Line(text)
    assert line.column(start) == width(safe(text[:start]))
    printed = write_finding(Source("x", text), _error(Span(0, start, 0, end)))
    assert all(character == "\n" or shown(character) == character for character in printed)
    if line.column(len(text)) <= 110:
        marks = printed.split("\n")[2]
        assert marks.index("^") == len("1 | ") + line.column(start)


def test_colour_goes_around_words_and_changes_none() -> None:
    """Without its colours the text is the plain text."""
    source = Source("hat.md", "Rnd 1: sc")
    finding = _error(Span(0, 7, 0, 9), hint="Look.")
    coloured = write_finding(source, finding, COLOUR)
    for mark in (COLOUR.error, COLOUR.quiet, COLOUR.strong, COLOUR.end):
        assert mark in coloured
        coloured = coloured.replace(mark, "")
    assert coloured == write_finding(source, finding)


def test_findings_stand_apart() -> None:
    """A blank line follows each."""
    finding = _error(NOWHERE)
    assert write_findings(Source("a", ""), [finding, finding]) == "a error: Wrong.  [count-mismatch]\n\n" * 2


def test_the_summary_counts_findings_and_what_was_proved() -> None:
    """One line over all files; notes are named only where there are some."""
    error, warning = _error(NOWHERE), Finding("x", Severity.WARNING, "Hm.")
    some = Understood(clauses=100, verbatim_clauses=2, rows=41, verbatim_rows=1, proved_rows=40)
    assert (
        write_summary(3, [error, error, warning], [some])
        == "3 files, 2 errors, 1 warning; 41 rows: 40 proved, 1 not proved, 1 not fully understood.\n"
    )
    whole = Understood(clauses=9, verbatim_clauses=0, rows=2, verbatim_rows=0, proved_rows=2)
    assert write_summary(1, [], [whole]) == "1 file, no errors, no warnings; 2 rows: all proved.\n"
    assert (
        write_summary(1, [Finding("x", Severity.NOTE, "Ah.")], [])
        == "1 file, no errors, no warnings, 1 note; no rows.\n"
    )
