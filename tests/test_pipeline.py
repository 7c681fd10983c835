"""What is written out is what was proved."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.document.records import Document
from convert.document.steps import Extent, Repeat, Which, Work
from convert.findings import Severity
from convert.pipeline import Checked, check_source
from convert.source import Source

HEAD = "Quill Coaster\n\nUS terms\n\nRnd 1: 6 sc in adjustable ring. (6)\nRnd 2: Inc in each st around. (12)\n"


def _checked(line: str) -> Checked:
    return check_source(Source("quill.txt", f"{HEAD}{line}\n"), "text", ReadOptions())


def _last(document: Document | None) -> tuple[object, ...]:
    assert document is not None
    return tuple(step for step in document.parts[0].rows[-1].steps if isinstance(step, Repeat))


@pytest.mark.parametrize(
    ("line", "times"),
    [
        ("Rnd 3: *Sc in next st, inc; rep from * 6 times. (18)", 6),
        ("Rnd 3: *Sc in next st, inc; rep from * 5 times. (18)", 6),
        ("Rnd 3: Ch 1, *sc in next st, inc; rep from * 6 times, join. (18)", 6),
    ],
)
def test_a_doubtful_repeat_is_written_as_it_was_worked(line: str, times: int) -> None:
    """Six times in all comes out and seven do not; the warning stays, and so does the proof."""
    checked = _checked(line)
    (repeat,) = _last(checked.document)
    assert isinstance(repeat, Repeat)
    assert times == repeat.times
    assert "ambiguous-repeat" in [finding.code for finding in checked.findings]
    assert [] == [finding for finding in checked.findings if finding.severity is Severity.ERROR]
    assert checked.proof is not None
    assert [True] * 3 == [row.sizes[0].proved for row in checked.proof.rows]


def test_a_repeat_of_the_whole_row_is_written_with_its_mark() -> None:
    """ "Sc, inc around" comes out only as a repeat of both; the beginning chain stays in front."""
    (repeat,) = _last(_checked("Rnd 3: Ch 1, sc in next st, inc around, join. (18)").document)
    assert isinstance(repeat, Repeat)
    assert (2, Extent.END) == (len(repeat.steps), repeat.extent)


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 3: (1 sc, 2 sc in same st) x 6 (18)",
        "Rnd 3: *Sc in next st, 2 sc in the same st; rep from * around. (18)",
        "Rnd 3: *Sc in next st, inc in same st; rep from * 6 times. (18)",
        "Rnd 3: *Sc in next 3 sts, 2 sc in same st; rep from * around. (15)",
    ],
)
def test_an_increase_in_the_same_stitch_is_written_as_it_was_worked(line: str) -> None:
    """Literally it leaves stitches or makes too many; only the next stitch comes out, and that is told."""
    checked = _checked(line)
    (repeat,) = _last(checked.document)
    assert isinstance(repeat, Repeat)
    last = repeat.steps[-1]
    assert isinstance(last, Work)
    assert last.place is not None
    assert Which.NEXT is last.place.which
    assert "reading-taken" in [finding.code for finding in checked.findings]
    assert [] == [finding for finding in checked.findings if finding.severity is Severity.ERROR]


@pytest.mark.parametrize(
    ("line", "errors"),
    [
        ("Rnd 3: *Sc in next st, 2 sc in same st; rep from * around. (36)", 0),
        ("Rnd 3: (1 sc, 2 sc in same st) x 6 (20)", 1),
        ("Rnd 3: *Sc in next st, 2 sc in same st; rep from * around. (19)", 1),
    ],
)
def test_an_increase_in_the_same_stitch_stays_there_where_that_comes_out_or_nothing_does(
    line: str, errors: int
) -> None:
    checked = _checked(line)
    (repeat,) = _last(checked.document)
    assert isinstance(repeat, Repeat)
    last = repeat.steps[-1]
    assert isinstance(last, Work)
    assert last.place is not None
    assert Which.SAME is last.place.which
    assert errors == len([finding for finding in checked.findings if finding.severity is Severity.ERROR])


def test_what_does_not_come_out_stands_as_it_was_written() -> None:
    """A repeat that fits in neither reading is wrong as its words say."""
    checked = _checked("Rnd 3: *Sc in next st, inc; rep from * 9 times. (18)")
    (repeat,) = _last(checked.document)
    assert isinstance(repeat, Repeat)
    assert 10 == repeat.times
    assert [finding for finding in checked.findings if finding.severity is Severity.ERROR]
