"""What can be measured on a piece beside its rows: sides, diagonals, diameters, by geometry alone. Centimetres."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, isclose, pi, sqrt, tan

from msgspec import Struct

Lengths = tuple[tuple[str, float], ...]
CORNERS: Mapping[str, int] = {"triangle": 3, "square": 4, "hexagon": 6}
_FLAT = (2 * pi / 1.3, 8 * 1.3)
"""Edge beside the distance from the centre: a flat shape of four corners or more has a value between these, with a wide
margin, as stitches differ (geometry).
"""
_STRAIGHT = 0.03
"""The share by which the rows of a straight-sided piece may differ."""


class Course(Struct, frozen=True):
    """A row or round: its length and its height."""

    edge: float
    high: float


def in_rows(rows: Sequence[Course]) -> Lengths:
    """A piece worked back and forth: the diagonal of one with straight sides.

    >>> in_rows([Course(30, 2)] * 20)
    (('diagonal', 50.0),)
    """
    edges = [row.edge for row in rows if row.edge]
    if not edges or max(edges) - min(edges) > _STRAIGHT * max(edges):
        return ()
    return (("diagonal", hypot(max(edges), sum(row.high for row in rows))),)


def in_rounds(rounds: Sequence[Course], shape: str) -> Lengths:
    """A piece worked in rounds: across, side and diagonal of one that lies flat to its edge, the diameter of a tube.

    `shape` is what the pattern says of its outline: a tube may be closed at one end. Rounds that grow and shrink again
    have no such measures.
    """
    radius = sum(one.high for one in rounds)
    edges = [one.edge for one in rounds]
    if not radius or not edges[-1]:
        return ()
    if shape == "tube":
        return (("diameter", max(edges) / pi),)
    if isclose(edges[0], edges[-1], rel_tol=_STRAIGHT) and max(edges) <= edges[-1] * (1 + _STRAIGHT):
        return (("diameter", edges[-1] / pi),)
    if not _FLAT[0] <= edges[-1] / radius <= _FLAT[1] or edges[-1] < max(edges):
        return ()
    return polygon(CORNERS[shape], radius) if shape in CORNERS else (("across", 2 * radius),)


def polygon(corners: int, inner: float) -> Lengths:
    """Sides and longest diagonal of a regular polygon whose sides lie at the distance `inner` from its centre.

    >>> [(name, round(value, 2)) for name, value in polygon(4, 5.0)]
    [('side', 10.0), ('across', 10.0), ('diagonal', 14.14)]
    >>> [(name, round(value, 2)) for name, value in polygon(6, 5.0)]
    [('side', 5.77), ('across', 10.0), ('diagonal', 11.55)]
    >>> [(name, round(value, 2)) for name, value in polygon(3, 5.0)]
    [('side', 17.32), ('depth', 15.0)]
    """
    side = 2 * inner * tan(pi / corners)
    if corners == 3:
        return (("side", side), ("depth", 3 * inner))
    return (("side", side), ("across", 2 * inner), ("diagonal", hypot(side, 2 * inner)))


def finished(shape: str, measures: Mapping[str, float]) -> Lengths:
    """What the finished measurements of an outline tell of others, those left out that the pattern measures itself.

    >>> finished("rectangle", {"width": 30, "length": 40})
    (('diagonal', 50.0),)
    """
    return tuple((name, value) for name, value in _derived(shape, measures) if name not in measures)


def _derived(shape: str, measures: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    wide = _first(measures, "width", "side", "wingspan", "diameter")
    long = _first(measures, "length", "height", "depth")
    around = _first(measures, "circumference", "around")
    if shape == "square" and wide:
        yield from (("side", wide), ("diagonal", wide * sqrt(2)))
    elif shape == "rectangle" and wide and long:
        yield "diagonal", hypot(wide, long)
    elif shape == "triangle" and wide and long:
        yield "side", hypot(wide / 2, long)
    elif shape == "hexagon" and wide:
        # The outline stands on a corner, so its width is that between two sides.
        yield from ((name, value) for name, value in polygon(6, wide / 2) if name != "across")
    elif shape == "circle" and wide:
        yield from (("diameter", wide), ("circumference", wide * pi))
    elif shape == "tube" and around:
        yield "diameter", around / pi


def _first(measures: Mapping[str, float], *names: str) -> float:
    return next((measures[name] for name in names if name in measures), 0.0)
