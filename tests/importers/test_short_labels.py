"""What "R5" means: the letter stands for a row or a round, and the work around it tells which."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.document.records import Part, TermSystem, Worked
from convert.findings import Severity
from convert.importers.markdown.form import read_markdown
from convert.importers.typed.form import read_typed
from convert.importers.yaml.form import read_yaml
from convert.pipeline import check_source
from convert.source import Source

US = ReadOptions(TermSystem.US)

BALL = "R1: 6 sc in magic ring (6)\nR2: inc x 6 (12)\nR3-R4: sc in each st (12)\n"
STRIP = "R1: ch 7, sc in 2nd ch from hook and in each ch across, turn (6)\nR2: ch 1, sc in each st across, turn (6)\n"


def typed(*parts: str) -> tuple[Part, ...]:
    named = (f"PIECE {number}\n\n{rows}" for number, rows in enumerate(parts, start=1))
    document = read_typed(Source("ball.txt", "Little Ball\n\n" + "\n\n".join(named)), US).document
    assert document is not None
    return document.parts


def are_rounds(part: Part) -> set[bool]:
    return {row.label.kind.is_round for row in part.rows}


@pytest.mark.parametrize(
    ("rows", "rounds"),
    [
        (BALL, True),
        ("R1: ch 4, join with sl st to form ring\nR2: ch 1, 8 sc in ring, join (8)\n", True),
        ("R1: ch 5, sc in 2nd ch from hook, 2 sc, 3 sc in last ch, other side: 2 sc, inc (10)\nR2: sc around\n", True),
        (BALL + "Next: inc x 12 (24)\n", True),
        (STRIP, False),
        (STRIP + "Next: ch 1, sc in each st across (6)\n", False),
        ("R1: 6 sc in magic ring, turn (6)\nR2: ch 1, 2 sc in each st, turn (12)\n", False),
        ("Row 1: 6 sc in magic ring (6)\nRow 2: 2 sc in each st (12)\n", False),
    ],
)
def test_the_work_tells_rounds_from_rows(rows, rounds):
    assert {rounds} == are_rounds(typed(rows)[0])


def test_a_range_with_the_letter_twice_is_a_range():
    assert [(1, None), (2, None), (3, 4)] == [(row.label.first, row.label.last) for row in typed(BALL)[0].rows]


def test_rows_that_are_counted_anew_in_a_part_are_told_from_its_rounds():
    part = typed(BALL + STRIP)[0]
    assert [True, True, True, False, False] == [row.label.kind.is_round for row in part.rows]


def test_a_part_without_a_ring_follows_the_parts_before_it():
    bare = "R1: sc in each st around the opening (12)\nR2: sc around (12)\n"
    assert [{True}, {True}] == [are_rounds(part) for part in typed(BALL, bare)]
    assert [{False}, {False}] == [are_rounds(part) for part in typed(STRIP, bare)]


def test_every_form_of_a_pattern_is_read_so():
    rows = "".join(f"- {line}\n" for line in BALL.splitlines())
    markdown = read_markdown(Source("ball.md", f"---\nterms: us\n---\n\n# Ball\n\n## Ball\n\n{rows}"), ReadOptions())
    listed = "".join(f'      - "{line}"\n' for line in BALL.splitlines())
    told = f"title: Ball\nterms: us\nparts:\n  - name: Ball\n    rows:\n{listed}"
    for document in (markdown.document, read_yaml(Source("ball.yaml", told), ReadOptions()).document):
        assert document is not None
        assert {True} == are_rounds(document.parts[0])


def test_what_the_part_says_of_itself_comes_first():
    told = 'title: Ball\nterms: us\nparts:\n  - name: Ball\n    worked: rows\n    rows: ["R1: 6 sc in magic ring"]\n'
    document = read_yaml(Source("ball.yaml", told), ReadOptions()).document
    assert document is not None
    assert Worked.ROWS is document.parts[0].worked
    assert {False} == are_rounds(document.parts[0])


def test_a_line_that_names_sizes_begins_no_part():
    crown = "Rnd 1: 6 sc in adjustable ring. (6)\nSizes M and L only:\nRnd 2: 2 sc in each st around. (12)\n"
    rest = "All sizes:\nNext rnd: Sc in each st around.\nFasten off.\n"
    text = f"Cap\n\nSizes: S (M, L)\n\nCROWN\n\n{crown}{rest}"
    document = read_typed(Source("cap.txt", text), US).document
    assert document is not None
    assert ["CROWN"] == [part.name for part in document.parts]
    assert [(), ("m", "l"), (), ()] == [row.sizes for row in document.parts[0].rows]


BAND = """Band

Sizes: S (M, L)
US terms

Rnd 1: Ch 40 (50, 60), join, ch 1, sc in each ch around. (40 (50, 60) sc)
S and L only:
Next rnd: Ch 1, *sc in next 3 sts, sc2tog; rep from * around, join. (32, 48 sts)
Next rnd: Ch 1, *hdc in next 2 sts, hdc2tog; rep from * around, join. ({}, 36 sts)
M only:
Next rnd: Ch 1, *sc in next 8 sts, sc2tog; rep from * around, join. (45 sts)
Next rnd: Ch 1, hdc in each st around, join. (45 hdc)
{}Last rnd: Ch 1, sc in each st around, join. (24 (45, 36) sc)
"""


@pytest.mark.parametrize("apart", ["", "\n"])
@pytest.mark.parametrize(("first", "errors"), [(24, []), (25, ["count-mismatch"])])
def test_a_line_of_sizes_holds_for_the_rows_close_below_it(first: int, errors: list[str], apart: str) -> None:
    """Its rows give a count for each of its sizes; one that counts all sizes again, or stands apart, is for all."""
    checked = check_source(Source("band.txt", BAND.format(first, apart)), "text", US)
    assert checked.document is not None
    rows = checked.document.parts[0].rows
    assert [(), ("s", "l"), ("s", "l"), ("m",), ("m",), ()] == [row.sizes for row in rows]
    assert errors == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]


def test_a_size_within_the_line_of_a_row_is_for_that_row() -> None:
    text = BAND.replace("M only:\n", "M only: ").format(24, "")
    document = read_typed(Source("band.txt", text), US).document
    assert document is not None
    assert [("m",), ()] == [row.sizes for row in document.parts[0].rows[3:5]]
