"""A strip held as runs with repeats answers like the plain list of its cells."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from convert.fabric.cells import SPACE, Builder, Cell, Loop, Strip, compact

CELLS = st.sampled_from([Cell("sc"), Cell("dc"), Cell("ch", SPACE, 2), Cell("dc", unit="group", part=0, size=3)])
RUNS = st.lists(st.tuples(CELLS, st.integers(1, 4)), min_size=1, max_size=4).map(tuple)
LOOPS = st.lists(st.builds(Loop, RUNS, st.integers(1, 5)), min_size=1, max_size=4).map(tuple)


def plain(loops: tuple[Loop, ...]) -> list[Cell]:
    """Every cell, one by one."""
    return [cell for loop in loops for _ in range(loop.times) for cell, number in loop.runs for _ in range(number)]


def is_dc(cell: Cell) -> bool:
    """The cells that the tests look for."""
    return cell.kind == "dc"


@given(loops=LOOPS, data=st.data())
def test_a_strip_answers_like_its_list(loops: tuple[Loop, ...], data: st.DataObject) -> None:
    """Length, single cells, counts and searches agree with the written-out list."""
    strip, cells = Strip.of(compact(loops)), plain(loops)
    assert len(cells) == strip.length
    assert cells == [strip.at(i)[0] for i in range(strip.length)]
    start = data.draw(st.integers(0, len(cells)))
    end = data.draw(st.integers(start, len(cells)))
    assert sum(map(is_dc, cells[start:end])) == strip.count(is_dc, start, end)
    assert next((i for i in range(start, len(cells)) if is_dc(cells[i])), None) == strip.find(is_dc, start)
    assert cells[start:end] == plain(strip.cut(start, end))


@given(loops=LOOPS, data=st.data())
def test_turning_and_rotating(loops: tuple[Loop, ...], data: st.DataObject) -> None:
    """Turned twice is unturned; a round begun elsewhere has the same cells in the same order."""
    strip, cells = Strip.of(compact(loops)), plain(loops)
    assert cells == plain(strip.reversed().reversed().loops)
    assert [c.kind for c in reversed(cells)] == [c.kind for c in plain(strip.reversed().loops)]
    at = data.draw(st.integers(0, max(0, len(cells) - 1)))
    assert cells[at:] + cells[:at] == plain(strip.from_position(at).loops)


def test_a_large_round_stays_small() -> None:
    """Ten thousand repeats of a motif are one loop."""
    builder = Builder()
    for _ in range(3):
        barrier = builder.barrier
        mark = builder.mark()
        builder.add(Cell("dc"), 3)
        builder.add(Cell("ch", SPACE, 2))
        builder.loop(builder.taken(mark, barrier), 10_000)
    strip = builder.strip()
    assert (1, 120_000) == (len(strip.loops), strip.length)


def test_cells_are_counted_between_any_two_positions() -> None:
    """Loops of several runs and of one: the number is that of the cells looked at one by one."""
    one, other, third = Cell("sc"), Cell("dc"), Cell("ch", SPACE, 2)
    strip = Strip.of((Loop(((one, 2), (third, 1)), 3), Loop(((other, 1),), 4), Loop(((one, 1), (other, 3)), 2)))
    cells = [strip.at(position)[0] for position in range(strip.length)]
    for start in range(strip.length + 2):
        for end in range(strip.length + 2):
            expected = sum(cell.kind == "sc" for cell in cells[start:end])
            assert expected == strip.count(lambda cell: cell.kind == "sc", start, end)
