"""Words of a row that nobody understands, or that nothing is worked from: in the other terms they mean the same."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.instructions.writing.rows import write_row
from convert.instructions.writing.wording import Wording
from convert.pipeline import check_source
from convert.source import Source
from tests.instructions.reading import read, written


@pytest.mark.parametrize(
    ("us", "uk"),
    [
        ("Row 2: Wiggle in next dc, turn.", "Row 2: Wiggle in next tr, turn."),
        ("Row 2: Sc in next 4 sts, nudge the hdc to the left.", "Row 2: Dc in next 4 sts, nudge the htr to the left."),
        ("Row 2: [Wobble a sc, ch 1] twice.", "Row 2: [Wobble a dc, ch 1] twice."),
        ("Row 2: Wiggle as long as you like.", "Row 2: Wiggle as long as you like."),
    ],
)
def test_a_stitch_in_kept_words_is_called_as_the_edition_calls_it(us: str, uk: str) -> None:
    for line, system, other, meant in ((us, TermSystem.US, TermSystem.UK, uk), (uk, TermSystem.UK, TermSystem.US, us)):
        row = read(line, system).row
        assert (line, meant) == (written(row, system), written(row, other))


def test_a_stitch_that_is_only_named_stays_among_the_stitches_of_the_pattern() -> None:
    """The rows call it by its name, so that every edition has to know it."""
    row = "Rnd 2: Fold as shown (moon shell), *ch 3, moon shell in next sc; rep from * around."
    text = f"Mat\n\nUS terms.\n\nRnd 1: 8 sc in ring.\n{row}\n"
    document = check_source(Source("mat.txt", text), "text", ReadOptions()).document
    assert document is not None
    lines = [write_row(row, Wording(TermSystem.UK, document.specials)) for row in document.parts[0].rows]
    assert "Rnd 2: Fold as shown (moon shell), *ch 3, moon shell in next dc; rep from * around." == lines[1]
