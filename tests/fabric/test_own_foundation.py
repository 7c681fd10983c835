"""A piece worked like another one on a foundation chain of its own. Common practice of pattern writers, no source."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from convert.document.read import ReadOptions
from convert.document.records import Part
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from convert.importers.typed.form import read_typed
from convert.source import Source
from tests.fabric.working import pattern

FRONT = [
    "Ch 26.",
    "Row 1: Sc in 2nd ch from hook and in each ch across, turn.",
    "Row 2: Ch 1, sc in first sc, *ch 1, skip next sc, sc in next sc; rep from * across, turn.",
    "Row 3: Ch 1, sc in first sc, *sc in next ch-1 sp, sc in next sc; rep from * across, turn.",
    "Rows 4-12: Repeat Rows 2 and 3, ending with Row 2.",
]


def _made(told: str, front: list[str]) -> tuple[str, tuple[str, ...]]:
    """What the last of the rows told made, and what went wrong there."""
    first = replace(pattern(front).parts[0], id="front", name="Front")
    pocket = Part("pocket", "Pocket", pattern([told]).parts[0].rows)
    outcome = work_document(replace(pattern([]), parts=(first, pocket)), {})[1].rows[-1].outcome
    assert outcome is not None
    return describe_strip(outcome.made) if outcome.made is not None else "?", tuple(f.code for f in outcome.faults)


@pytest.mark.parametrize(
    ("told", "made"),
    [
        ("Ch 16, work same as front for 6 rows, fasten off.", "8 sc, 7 ch-1 sps"),
        ("With B, ch 12. Work same as Front for 5 rows.", "11 sc"),
        ("Ch 14, turn. Work as for front for the first 3 rows.", "13 sc"),
        ("Ch 14, work as for front through row 3.", "13 sc"),
        ("Work as for Front for 6 rows.", "13 sc, 12 ch-1 sps"),
    ],
)
def test_the_rows_go_across_the_chain(told: str, made: str) -> None:
    """As many repeats as there are places for, whether the foundation is a row of its own or not."""
    in_one = [f"Row 1: {FRONT[0][:-1]}, {FRONT[1][7:].lower()}", *FRONT[2:]]
    assert [(made, ()), (made, ())] == [_made(told, FRONT), _made(told, in_one)]


def test_rows_that_the_other_piece_does_not_have_are_unknown() -> None:
    """Nobody says how it goes on."""
    assert ("?", ()) == _made("Ch 16, work same as front for 40 rows.", FRONT)


def test_a_repeat_that_does_not_fit_the_chain_is_told() -> None:
    """A foundation of the wrong length is a mistake here as well."""
    assert ("stitches-left-over",) == _made("Ch 15, work same as front for 2 rows.", FRONT)[1]


TURN = "rep from * 3 times more, turn."
LACE = [
    f"Row 1: Ch 26, sc in 2nd ch from hook, *skip next 2 ch, 5 dc in next ch, skip next 2 ch, sc in next ch; {TURN}",
    f"Row 2: Ch 1, sc in first sc, *ch 2, skip next 2 dc, sc in next dc, ch 2, skip next 2 dc, sc in next sc; {TURN}",
]


@pytest.mark.parametrize(
    ("told", "made"),
    [
        ("Ch 14 and work in same manner as front.", "5 sc, 4 ch-2 sps"),
        ("With B, ch 44, work as for Front, fasten off.", "15 sc, 14 ch-2 sps"),
        ("Ch 16 and work in same manner as front.", "?"),
        ("Ch 14 and work in same manner as back.", "?"),
        ("Ch 14 and work in same manner as front, but let it be a little wider.", "?"),
    ],
)
def test_a_whole_piece_narrower_or_wider(told: str, made: str) -> None:
    """As many repeats as the chain has places for: 2 of six chains each, or 7, and not those 4. On sixteen chains none
    come out, and nobody knows how that is meant.
    """
    assert (made, ()) == _made(told, LACE)


def test_a_piece_whose_length_is_open_is_so_again() -> None:
    """Nobody tells how many rows the front has."""
    lines = [*LACE, "Row 3: Repeat Row 2 until piece measures as desired."]
    first = replace(pattern(lines).parts[0], id="front", name="Front")
    strap = Part("strap", "Strap", pattern(["Ch 14 and work in same manner as front."]).parts[0].rows)
    run = work_document(replace(pattern([]), parts=(first, strap)), {})[1]
    assert [True] == [worked.open_end for worked in run.rows]


def test_a_piece_that_begins_so_has_a_heading() -> None:
    """The name on a line by itself in front of it begins a part."""
    text = "Herb Pouch\n\nFront\n" + "\n".join(FRONT) + "\n\nPocket\nCh 16. Work same as Front for 9 rows.\n"
    parts = read_typed(Source("pouch.txt", text), ReadOptions()).document
    assert parts is not None
    assert ["Front", "Pocket"] == [part.name for part in parts.parts]
