"""Work that goes on from an earlier round. Common practice of the trade, no source."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Part
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from tests.fabric.working import faults, made, pattern

BODY = [
    "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 9 sc in ring, join.",
    "Rnd 2: Ch 1, sc in first sc, *ch 3, sc in next sc; rep from * around, ch 3, join.",
    "Rnd 3: Sl st in next loop, ch 1, 4 sc in same loop, *4 sc in next loop; rep from * around, join.",
    "Rnd 4: Ch 1, 2 sc in each sc around, join. Fasten off.",
]
RUFFLE = ["Attach yarn in any loop of 2nd round, ch 1, 2 sc in same loop, *2 sc in next loop; rep from * around, join."]
FANS = "Rnd 3: *(2 dc, ch 1, 2 dc) in next loop, ch 2; rep from * around, join."


def _parts(*parts: list[str]) -> list[str]:
    """What the last row of each part made."""
    document = replace(
        pattern([]), parts=tuple(Part(f"p{i}", "", pattern(rows).parts[0].items) for i, rows in enumerate(parts))
    )
    last = [run.rows[-1].outcome for run in work_document(document, {})]
    return [_sorted(describe_strip(o.made)) if o is not None and o.made is not None else "?" for o in last]


def _sorted(told: str) -> str:
    return ", ".join(sorted(told.split(", "), reverse=True))


def test_a_round_worked_on_one_further_down() -> None:
    """Nine loops, whatever the rounds above them have."""
    assert ["72 sc", "18 sc"] == _parts(BODY, RUFFLE)


def test_the_rounds_meant_are_those_of_the_body() -> None:
    """The ruffle has a second round too: what is worked on it would say so."""
    second = "Rnd 2: Ch 1, sc in first sc, *ch 5, skip next sc, sc in next sc; rep from * 7 times more, ch 5, join."
    assert ["72 sc", "9 sc, 9 ch-5 sps", "18 sc"] == _parts(BODY, [*RUFFLE, second], RUFFLE)


def test_a_round_that_is_not_there_is_unknown() -> None:
    """Nothing tells what it would be worked on, and nothing is an error."""
    assert "?" == _parts(BODY, [RUFFLE[0].replace("2nd round", "7th round")])[-1]


def test_between_shells_with_a_chain_there() -> None:
    """The chain and its two sides are one gap; the last one is behind the last shell."""
    between = "Rnd 4: *Ch 4, sc in the ch 2 between next 2 shells; rep from * around, join."
    assert "9 ch-4 sps, 9 sc" == made([*BODY[:2], FANS, between])[-1]
    both = "Rnd 4: *3 dc in center of next shell, sc between shells; rep from * around, join."
    assert "27 dc, 9 sc" == made([*BODY[:2], FANS, both])[-1]
    assert "out-of-stitches" == faults([*BODY[:2], FANS, between.replace("around", "9 times more")])[-1]


def test_stitches_repeated_into_one_place_are_one_group() -> None:
    """A chain and a dc three times more behind the first dc: four of them, whose first the next round can name."""
    fans = (
        "Rnd 3: Sl st in next loop, ch 4, dc in same loop, (ch 1, dc in same loop) twice, "
        "*ch 3, 4 dc with ch 1 between in next loop; rep from * around, ch 3, join."
    )
    told = "Rnd 4: Ch 1, *sc in first dc of next shell, ch 5; rep from * around, join."
    rows = made([*BODY[:2], fans, told])
    assert ["9 ch-3 sps, 36 dc, 27 ch-1 sps", "9 sc, 9 ch-5 sps"] == [_sorted(row) for row in rows[2:]]


def test_as_many_whole_workings_as_fit_before_a_round_ends_to_correspond() -> None:
    """The last shell is gone through like the others; the beginning stands for its next one."""
    fans = "Rnd 3: *4 dc with ch 1 between in next loop, ch 2; rep from * around, join."
    told = (
        "Rnd 4: Ch 4, *dc in next loop of same shell, ch 1, dc in next dc of same shell, ch 3, "
        "dc in first dc of next shell, ch 1; rep from * around ending to correspond, join."
    )
    assert "9 ch-3 sps, 27 dc, 18 ch-1 sps" == _sorted(made([*BODY[:2], fans, told])[-1])


def test_the_next_number_goes_on_from_the_last_round() -> None:
    """What a line without a number works on an earlier round has none: the rounds count on past it, or begin anew."""
    told = "Attach yarn in any loop of 2nd round, ch 1, 2 sc in same loop, *2 sc in next loop; rep from * around, join."
    last = "Ch 1, sc in each sc around, join."
    assert ["18 sc", "72 sc"] == made([*BODY, told, f"Rnd 5: {last}"])[-2:]
    assert ["18 sc", "18 sc"] == made([*BODY, told, f"Rnd 2: {last}"])[-2:]


def test_loops_worked_over_the_stitches_of_the_last_round() -> None:
    """They go into the round below it, one into each."""
    told = "Attach B in any sc of the 3rd rnd, and working over sc of 4th rnd, work 1 loop st in each sc, fasten off."
    assert ["36 loop st"] == made([*BODY, told])[-1:]
