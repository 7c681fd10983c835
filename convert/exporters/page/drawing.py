"""The drawing of the finished piece with the measurements of its sizes."""

from __future__ import annotations

from msgspec import Struct

from convert.document.lengths import Length
from convert.exporters.page.edition import Edition
from convert.exporters.page.facts import measures_of
from convert.exporters.page.measures import length_pair
from convert.exporters.page.phrases import measure_name
from convert.exporters.page.records import Fact, Flow
from convert.exporters.page.typeset import plain_text, text_flow
from convert.trade.outlines import Point, Span, outlines, standing


class Figure(Struct, frozen=True):
    """A line with what it measures: its name, and the sizes' figures in the reader's own unit and in the other."""

    start: Point
    end: Point
    at: Point
    middle: bool
    """The figures are centred on the place; else they begin there."""
    name: str
    own: Flow
    other: Flow


class Drawing(Struct, frozen=True):
    """An outline with its measurements. `alternative` says all of it in words."""

    path: str
    inner: str
    figures: tuple[Figure, ...]
    caption: str
    outlined: str
    """What the outline shows, without its measurements."""
    alternative: str
    box: tuple[int, int, int, int]
    """The field that holds all of it: its left and upper edge, its width and height."""
    named_box: tuple[int, int, int, int]
    """The same where the lines have their names alone."""

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The figures as a list, for readers whose page or print has no room for them beside the lines."""
        return tuple(Fact(figure.name, (figure.own, figure.other)) for figure in self.figures)


def drawing(edition: Edition) -> Drawing | None:
    """The drawing; None for a pattern that names no outline, or has none of the outline's measurements."""
    outline = outlines().get(edition.document.shape)
    if outline is None:
        return None
    sizes = {index: measures_of(edition, index) for index in edition.shown}
    outline = standing(outline, _mean("width", sizes), _mean("length", sizes))
    figures = tuple(f for f in (_figure(edition, span, sizes) for span in outline.spans) if f is not None)
    if not figures:
        return None
    said = "; ".join(f"{f.name} {plain_text(f.own)}, {plain_text(f.other)}" for f in figures)
    outlined = edition.say(f"outline-{outline.id}")
    alternative = edition.say("drawing-alternative", outline=outlined, measures=said)
    return Drawing(
        outline.path,
        outline.inner,
        figures,
        edition.say("drawing-caption"),
        f"{outlined}.",
        alternative,
        _box(figures),
        _named_box(figures),
    )


_LARGE_LETTER = 10.2
"""Width of a letter of the names, which are 17 units high where they stand alone."""


def _named_box(figures: tuple[Figure, ...]) -> tuple[int, int, int, int]:
    left, upper, right, lower = _FIELD
    right = 208
    for figure in figures:
        wide = round(_LARGE_LETTER * len(figure.name))
        right = max(right, figure.at[0] + (wide // 2 if figure.middle else wide))
        lower = max(lower, figure.at[1] + 10)
    return left, upper, right - left, lower - upper


def _mean(name: str, sizes: dict[int, dict[str, Length]]) -> float:
    """Of all sizes shown, in centimetres; 0 where one has no such measurement."""
    found = [float(measures[name].cm) for measures in sizes.values() if name in measures]
    return sum(found) / len(found) if len(found) == len(sizes) else 0.0


_LETTER = 7.4
"""Width of a letter of the figures, which are 13 units high."""
_FIELD = (-8, -4, 408, 158)
"""What every drawing has at least: left, upper, right, lower edge."""


def _box(figures: tuple[Figure, ...]) -> tuple[int, int, int, int]:
    left, upper, right, lower = _FIELD
    for figure in figures:
        wide = round(
            _LETTER * max(len(text) for text in (figure.name, plain_text(figure.own), plain_text(figure.other)))
        )
        left = min(left, figure.at[0] - wide // 2 if figure.middle else left)
        right = max(right, figure.at[0] + (wide // 2 if figure.middle else wide))
        lower = max(lower, figure.at[1] + 40)
    return left, upper, right - left, lower - upper


def _figure(edition: Edition, span: Span, sizes: dict[int, dict[str, Length]]) -> Figure | None:
    """The line with the first measurement that every size shown has."""
    name = next((name for name in span.measures if all(name in found for found in sizes.values())), None)
    if name is None:
        return None
    own, other = length_pair([found[name] for found in sizes.values()], edition.system)
    below = span.side == "below"
    x, y = (span.start[0] + span.end[0]) // 2, (span.start[1] + span.end[1]) // 2
    return Figure(
        span.start,
        span.end,
        (x, y + 20) if below else (x + 12, y - 13),
        below,
        measure_name(name, edition.system),
        text_flow(own, sizes=edition.listed),
        text_flow(other, sizes=edition.listed),
    )
