"""Repeats that go on until nothing is left: "rep from * until all picots are joined", "until all sts have been worked".

Such a repeat goes as far as the row below does, and its last working is cut short where that ends. Common practice, no
source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.steps import Ending, EndingKind, Extent, Repeat, Step, What
from convert.fabric.faults import NotFound, RanOut, Unknown
from convert.fabric.steps.rounds import to_end, wanted_by
from convert.fabric.steps.turns import Doer, Saved, restore, save
from convert.fabric.steps.worker import Worker
from convert.trade.patterns import signs


@cache
def _all_done() -> re.Pattern[str]:
    return re.compile(rf"{signs('until')}\s{signs('all_of')}\s.*\b{signs('all_done')}", re.IGNORECASE)


def uses_all(step: Repeat) -> bool:
    """Whether a repeat goes on until all of something is used, joined or worked.

    >>> from convert.document.steps import Place
    >>> said = ("until all picots are joined", "until 6 picots are joined")
    >>> [uses_all(Repeat((), Extent.TO_PLACE, place=Place(What.PIECE, words=words))) for words in said]
    [True, False]
    """
    place = step.place if step.extent is Extent.TO_PLACE else None
    return place is not None and place.what is What.PIECE and _all_done().fullmatch(place.words) is not None


def work_all(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """Works such a repeat: in whole workings, or with the last one cut short. Raises `Unknown` where it does not come
    to the end of the row either way: something else is used up.
    """
    whole = replace(step, extent=Extent.END, place=None)
    ways = (whole, replace(whole, ending=Ending(EndingKind.FITTING)))
    before, faults = save(worker), len(worker.faults)
    if not any(_comes_to_end(worker, way, tail, do, before, faults) for way in ways):
        raise Unknown(step.span, why="a repeat up to what is told in words")


def _comes_to_end(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer, before: Saved, faults: int) -> bool:
    """Whether the repeat goes to the end of the row; the row stays where it was if not."""
    try:
        to_end(worker, step, tail, do)
        done = len(worker.faults) == faults
        done = done and worker.base.find(wanted_by(worker, step.steps), worker.position) is None
    except (RanOut, NotFound):
        done = False
    if not done:
        restore(worker, before)
    return done
