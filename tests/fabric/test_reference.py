"""Rows told by another part of the pattern, and rows on a part of the last one."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.prose import Term
from convert.document.records import Part
from convert.document.steps import Again, Work
from convert.fabric.parts.reference import part_before, part_named, rows_of
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from tests.fabric.working import faults, pattern

FRONT = [
    "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn.",
    "Row 2: Ch 1, 2 sc in each st across, turn.",
]


def _parts(*names: str) -> list[Part]:
    return [Part(name.replace(" ", "-"), name, ()) for name in names]


def test_a_part_is_named_by_its_whole_name_or_by_two_words_of_it() -> None:
    """One word that two names share names neither."""
    parts = _parts("Front panel", "Back panel", "Sleeve")
    assert [part_named((words,), parts) for words in ("as for panel", "of the sleeve", "same as back panel")] == [
        None,
        parts[2],
        parts[1],
    ]


def test_words_that_say_how_the_work_differs_name_no_rows() -> None:
    """They are no mere reference."""
    parts = _parts("Back panel")
    assert part_named(("same as back panel but having ch 4 between all the shells",), parts) is None


def test_rows_of_a_part_begin_with_its_foundation() -> None:
    """What stands before Row 1 belongs to it; a first row without a label is Row 1 where Row 2 follows."""
    chain, one, two = pattern(["Ch 9.", *FRONT]).parts[0].rows
    assert [(0, chain), (1, one)] == rows_of([(None, chain), (1, one), (2, two)], 1, 1)
    assert [(1, one), (2, two), (3, two)] == rows_of([(None, one), (2, two), (None, two)], 1, 3)
    assert [] == rows_of([(1, one)], 1, 4)


def test_rows_whose_numbers_begin_anew_are_those_worked_latest() -> None:
    """A petal of three rounds, and the mat around it: its second round is no row of the petal, whose third there is."""
    one, two, three, mat, further = pattern([f"Rnd {n}: Sc in each st around." for n in (1, 2, 3, 1, 2)]).parts[0].rows
    history = [(1, one), (2, two), (3, three), (1, mat), (2, further)]
    assert [(2, further)] == rows_of(history, 2, 2)
    assert [(1, mat), (2, further)] == rows_of(history, 1, 2)
    assert [(2, two), (3, three)] == rows_of(history, 2, 3)


def test_a_heading_inside_a_piece_begins_a_part_of_it() -> None:
    """The mat has one round before its second flower, and the others behind that; a cuff that has the rounds too leaves
    open which are meant.
    """
    ring = "Rnd {}: Ch 4, join with sl st to form a ring, ch 1, 7 sc in ring, join."
    round_ = "Rnd {}: Ch 1, 2 sc in each sc around, join."
    lines = {"Bath Mat": [ring.format(1)], "Flower": [ring.format(1), round_.format(2), round_.format(3)]}
    told = "Rnd 2: Repeat the 2nd and 3rd rnds of bath mat."
    coaster = {"Coaster": [ring.format(1), told]}
    assert "28 sc" == _made_last({**lines, **coaster})
    assert "?" == _made_last({**lines, "Cuff": [ring.format(1), round_.format(2), round_.format(3)], **coaster})


def _made_last(lines: dict[str, list[str]]) -> str:
    parts = tuple(replace(pattern(rows).parts[0], id=name, name=name) for name, rows in lines.items())
    outcome = work_document(replace(pattern([]), parts=parts), {})[-1].rows[-1].outcome
    return describe_strip(outcome.made) if outcome is not None and outcome.made is not None else "?"


def test_rows_told_by_another_part_are_worked() -> None:
    """ "First 2 rows as for front panel": the back has the same sixteen stitches, and goes on."""
    front = replace(pattern(FRONT).parts[0], id="front", name="Front panel")
    told, further = pattern(["Row 1: Sc in next st.", "Row 3: Ch 1, sc in each st across, turn."]).parts[0].rows
    told = replace(told, label=replace(told.label, first=None), steps=(Again(1, 2, words=("as for front panel",)),))
    back = Part("back", "Back", (told, further))
    runs = work_document(replace(pattern([]), parts=(front, back)), {})
    made = [w.outcome.made for w in runs[1].rows if w.outcome is not None]
    assert ["16 sc", "16 sc"] == [describe_strip(strip) if strip is not None else "?" for strip in made]
    assert not any(isinstance(step, Work) for step in told.steps)


def test_a_row_on_the_first_stitches_leaves_the_others() -> None:
    """ "Sc in each of the first 5 sc, turn": the rest is left on purpose; without a turn it is left over."""
    rows = [FRONT[0], "Row 2: Ch 1, sc in each of the 1st 5 sc, turn."]
    assert ["", ""] == faults(rows)
    assert ["", "stitches-left-over"] == faults([FRONT[0], "Row 2: Ch 1, sc in next 5 sc, turn."])


def test_a_word_of_the_trade_in_the_reference_is_a_word() -> None:
    """ "Same as center of flower" names the flower; a stitch tells how the work differs."""
    parts = _parts("Flower", "Stem")
    assert parts[0] is part_named(("same as ", Term("centre-word"), " of flower"), parts)
    assert part_named(("same as flower in ", Term("dc")), parts) is None


def test_the_number_of_the_row_told_once_more_is_no_word_about_it() -> None:
    """ "Work 2nd round same as 2nd round of wheel": the second time only repeats which one is meant."""
    parts = _parts("Wheel", "Spoke")
    assert parts[0] is part_named(("same as 2nd round of wheel",), parts)
    assert part_named(("same as every second sc of wheel",), parts) is None


def test_a_round_told_by_another_part_may_be_joined_where_it_is_told() -> None:
    """The join is that of the round referred to, said once more."""
    wheel = replace(
        pattern(["Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 9 sc in ring, join."]).parts[0], id="w"
    )
    told = pattern(["Work 1st round same as 1st round of wheel, join. Fasten off."]).parts[0].rows
    parts = (replace(wheel, name="Wheel"), Part("hub", "Hub", told))
    outcome = work_document(replace(pattern([]), parts=parts), {})[1].rows[-1].outcome
    assert outcome is not None
    assert outcome.made is not None
    assert "9 sc" == describe_strip(outcome.made)


def test_the_piece_before_is_meant_by_counting_back() -> None:
    """ "2nd star" has a "1st star" before it, however that is headed; "previous star" is the last one of that name."""
    mat, two, three, hem = _parts("Small mat", "2nd star", "Third star", "Hem")
    parts = (mat, two, three, hem)
    assert [mat, None, two, two, None, None] == [
        part_before(("1st star",), parts, two),
        part_before(("1st leaf",), parts, two),
        part_before(("second star",), parts, three),
        part_before(("previous star",), parts, three),
        part_before(("1st star",), parts, three),
        part_before(("1st star",), parts, hem),
    ]
