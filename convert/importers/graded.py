"""The data that grading rests on: demands, targets from bodies, weighed pieces, schedules of shaping."""

from __future__ import annotations

from decimal import Decimal

from convert.document.located import Located
from convert.document.materials import Weighed
from convert.document.numbers import Number
from convert.document.shaping import NUMBERS, Block, BlockKind, Shaping
from convert.document.sizing import BodyTarget, Demand
from convert.document.steps import Step
from convert.importers.author import Author
from convert.importers.measures import decimal, length, number, whole, words
from convert.instructions.words.numbers import tidy_formula


def formula(data: Located | None) -> str:
    """A formula with single blanks around its signs; empty where there is none."""
    return tidy_formula(data.words.strip()) if data is not None and data.words.strip() else ""


def demand(data: Located) -> Demand:
    """One demand on the numbers of a size."""
    least, most = data.get("least"), data.get("most")
    return Demand(
        number=words(data.get("number")),
        count=formula(data.get("count")),
        multiple=whole(data.get("multiple"), 1),
        plus=whole(data.get("plus")),
        equals=formula(data.get("equals")),
        divides=formula(data.get("divides")),
        least=whole(least) if least is not None else None,
        most=whole(most) if most is not None else None,
        span=data.span,
    )


def body_target(data: Located, author: Author) -> BodyTarget:
    """A target that sizes get from their bodies."""
    return BodyTarget(
        target=words(data.get("target")),
        body=words(data.get("body")),
        ease=length(data.get("ease"), author),
        less=length(data.get("less"), author),
        fit=words(data.get("fit")),
        span=data.span,
    )


def weighed(data: Located | None, author: Author) -> Weighed | None:
    """A piece that was weighed."""
    if data is None:
        return None
    stitch = data.get("stitch")
    return Weighed(
        grams=decimal(data.get("grams")) or Decimal(0),
        stitches=whole(data.get("stitches")),
        rows=whole(data.get("rows")),
        stitch=author.stitch(stitch.words, stitch.span) if stitch is not None else None,
        width=length(data.get("width"), author),
        height=length(data.get("height"), author),
        size=words(data.get("size")),
        span=data.span,
    )


def shaping(data: Located, author: Author) -> Shaping:
    """A schedule of shaping; its two rows are lines of pattern language without a label."""
    return Shaping(
        start=number(data.get("start")),
        end=number(data.get("end")),
        rows=number(data.get("rows")),
        shaped=_steps(data.get("shaped"), author),
        even=_steps(data.get("even"), author),
        each=whole(data.get("each"), 2),
        step=whole(data.get("step"), 1),
        before=whole(data.get("before")),
        after=whole(data.get("after")),
        rounds=(rounds := data.get("rounds")) is not None and rounds.value is True,
    )


def block(data: Located, author: Author) -> Block:
    """A block of shaping; what its rows begin and end with are lines of pattern language without a label."""
    stitch, rounds = data.get("stitch"), data.get("rounds")
    edge = data.get("edge")
    return Block(
        kind=BlockKind(words(data.get("kind"))),
        stitch=(author.stitch(stitch.words, stitch.span) if stitch is not None else None) or "",
        begin=_steps(data.get("begin"), author),
        close=_steps(data.get("close"), author),
        step=whole(data.get("step"), 1),
        edge=whole(edge) if edge is not None else 1,
        rounds=rounds is not None and rounds.value is True,
        **{name: _optional(data.get(name)) for name in NUMBERS},
    )


def _optional(data: Located | None) -> Number | None:
    return number(data) if data is not None else None


def _steps(data: Located | None, author: Author) -> tuple[Step, ...]:
    return author.steps(data.as_passage.cut(0)) if data is not None else ()
