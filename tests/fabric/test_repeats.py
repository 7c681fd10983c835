"""Executing a row with repeats equals executing it written out in full."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.steps import Chain, Extent, Group, Place, Repeat, Skip, Step, What, Work
from convert.fabric.cells import SPACE, Cell, Loop, Strip, compact
from convert.fabric.faults import RowStops
from convert.fabric.steps.definitions import Definitions
from convert.fabric.steps.doing import do_steps
from convert.fabric.steps.worker import Worker
from tests.fabric.working import whys

CELLS = st.sampled_from([Cell("sc"), Cell("dc"), Cell("ch", SPACE, 2)])
BASES = st.lists(
    st.builds(
        Loop, st.lists(st.tuples(CELLS, st.integers(1, 3)), min_size=1, max_size=4).map(tuple), st.integers(1, 40)
    ),
    min_size=1,
    max_size=3,
).map(lambda loops: Strip.of(compact(tuple(loops))))
STEPS: st.SearchStrategy[Step] = st.one_of(
    st.builds(Work, st.sampled_from(["sc", "dc"]), st.integers(1, 4), st.builds(Place, number=st.integers(1, 3))),
    st.builds(Chain, st.integers(1, 3)),
    st.builds(Skip, st.builds(Place, number=st.integers(1, 2))),
    st.just(Work("dc", 3, Place(What.SPACE, chains=2))),
    st.just(Group((Work("dc", 2), Chain(2), Work("dc", 2)), Place(What.SPACE))),
)
BODIES = st.lists(STEPS, min_size=1, max_size=3).map(tuple)


def result(base: Strip, steps: tuple[Step, ...]) -> tuple[object, ...]:
    """What the steps make on the base, or at which kind of stop they end."""
    worker = Worker(base, Definitions(), flat=True)
    try:
        do_steps(worker, steps)
    except RowStops as stop:
        return (type(stop).__name__,)
    worker.close_chains()
    strip = worker.out.strip()
    return (worker.position, worker.last, [(c, n) for _, c, n in _merged(strip)])


def _merged(strip: Strip) -> list[tuple[int, Cell, int]]:
    out: list[tuple[int, Cell, int]] = []
    for position, cell, number in strip.runs():
        if out and out[-1][1] == cell:
            out[-1] = (out[-1][0], cell, out[-1][2] + number)
        else:
            out.append((position, cell, number))
    return out


@pytest.mark.timeout(120)
@given(base=BASES, body=BODIES, times=st.integers(1, 60))
@settings(max_examples=400, deadline=None)
def test_a_repeat_equals_its_steps_written_out(base: Strip, body: tuple[Step, ...], times: int) -> None:
    """However far the shortcut through equal stretches goes."""
    assert result(base, body * times) == result(base, (Repeat(body, Extent.TIMES, times),))


@pytest.mark.timeout(120)
@given(base=BASES, body=BODIES, inner=st.integers(1, 6), outer=st.integers(1, 12))
@settings(max_examples=200, deadline=None)
def test_repeats_inside_repeats(base: Strip, body: tuple[Step, ...], inner: int, outer: int) -> None:
    """The same for nested repeats."""
    nested = Repeat((Repeat(body, Extent.TIMES, inner), Chain(1)), Extent.TIMES, outer)
    assert result(base, (*(body * inner), Chain(1)) * outer) == result(base, (nested,))


def test_a_repeat_up_to_a_corner_that_nothing_marks_is_unknown() -> None:
    """Plain stitches have no corners."""
    rows = ["Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 12 sc in ring, join."]
    body = "(sc in next sc, ch 1, skip next sc) to next corner, (sc, ch 2, sc) in corner"
    assert "corners that the row below does not mark as such" == whys([*rows, f"Rnd 2: Ch 1, *{body}; rep from *."])[-1]
