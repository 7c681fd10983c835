"""Repeats that are worked out step by step and are a stitch of the pattern's own: "*skip 2 sts, dc in next st, dc in
first skipped st, which makes a cross; rep from *".
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Repeat, Step, Verbatim, Work
from convert.fabric.steps.definitions import Definitions


def with_named_bodies(steps: tuple[Step, ...], definitions: Definitions) -> tuple[Step, ...]:
    """The steps with the stitch in place of what it is made of, so that it can be counted and worked into by its name;
    the same steps where there is none.
    """
    made = {special.steps: id for id, special in definitions.specials.items() if len(special.steps) > 1}
    if not made:
        return steps
    found = tuple(_named(step, made) if isinstance(step, Repeat) else step for step in steps)
    return steps if all(a is b for a, b in zip(found, steps, strict=True)) else found


def _named(step: Repeat, made: dict[tuple[Step, ...], str]) -> Repeat:
    worked = tuple(one for one in step.steps if not (isinstance(one, Verbatim) and one.inert))
    id = made.get(worked)
    return step if id is None else replace(step, steps=(Work(id, 1, None, span=worked[0].span),))
