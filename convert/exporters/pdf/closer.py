"""Sets laid out pages closer: less room between lines, around blocks and for pictures, letters as large as they are.

Runs in the child process of the PDF writer. What is changed are the styles of the boxes, which stand in one place for
all layouts; the pages that were laid out with them stay as they are. The looks are the same in this: usual, large
print and low ink give the same shares of what they have.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

LINES = 0.08
"""Share of its line height that running text gives at most: 1.55 becomes 1.43, 1.42 becomes 1.31."""
SPACES = 0.35
"""Share of the margins and paddings above and below a block."""
PICTURES = 0.25
"""Share of the height of a picture or a drawing."""
LETTERS = 0.72
"""Share of its own height, which has letters of 9.75 points, that a drawing keeps at least: letters of 7 points."""
LOOSE = 1.25
"""Line height from which on a text can be set closer: titles and headings are below it."""
SMALL = 150
"""Pixels (96 an inch) of height up to which a picture is a sign or a logo, which stays as it is."""

_SPACES = ("margin_top", "margin_bottom", "padding_top", "padding_bottom")


class Closer:
    """The styles of some pages, set closer by a share of what they can give at most, from 0 to 1."""

    def __init__(self, boxes: Sequence[Any], share: float) -> None:
        self.share = share
        # A style that nobody has asked for yet may be that of the box around it: all are read before any is changed.
        changes = [change for box in boxes for change in _changes(box, share)]
        self._before = [(style, key, style[key]) for style, key, _ in changes]
        for style, key, value in changes:
            style[key] = value

    def undo(self) -> None:
        """Makes the styles what they were."""
        for style, key, value in self._before:
            style[key] = value


def _changes(box: Any, share: float) -> Iterator[tuple[Any, str, Any]]:
    style = box.style
    if _loose(style):
        yield style, "line_height", style["line_height"] * (1 - LINES * share)
    for key in _SPACES:
        if length(style[key]) > 0:
            yield style, key, style[key]._replace(value=style[key].value * (1 - SPACES * share))
    if picture(box):
        yield _lower(box, max(box.height * (1 - PICTURES * share), legible(box)))


def _lower(box: Any, height: float) -> tuple[Any, str, Any]:
    """What makes a picture this high, in pixels, and as wide as belongs to that."""
    key = "height" if length(box.style["height"]) else "max_height"
    return box.style, key, box.style["padding_top"]._replace(value=height, unit="px")


def legible(box: Any) -> float:
    """The height in pixels that a drawing keeps for the sake of its letters; 0 for a picture without any."""
    if not any(str(one.tag).endswith("text") for one in box.element.iter()):
        return 0.0
    return min(float(box.height), LETTERS * float(box.element.get("height", 0)))


def set_lower(box: Any, height: float) -> None:
    """Makes a picture this high, in pixels."""
    style, key, value = _lower(box, height)
    style[key] = value


def gain(box: Any) -> float:
    """Pixels of height that a laid out box and all in it give when they are set as close as can be."""
    own = sum(max(0.0, length(box.style[key])) for key in _SPACES) * SPACES
    if picture(box):
        return own + min(float(box.height) * PICTURES, float(box.height) - legible(box))
    if type(box).__name__ == "LineBox":
        return float(box.height) * LINES if _loose(box.style) else 0.0
    inside = [gain(one) for one in getattr(box, "children", ())]
    return own + (max(inside, default=0.0) if _side_by_side(box) else sum(inside))


def _side_by_side(box: Any) -> bool:
    return box.style["display"] == ("table-row",) or any(one.is_column for one in box.children)


def picture(box: Any) -> bool:
    """Whether a laid out box is a picture or a drawing, and no mere sign."""
    return hasattr(box, "replacement") and isinstance(box.height, int | float) and box.height > SMALL


def _loose(style: Any) -> bool:
    return isinstance(style["line_height"], float) and style["line_height"] >= LOOSE


def length(value: Any) -> float:
    """A length in pixels; 0 for whatever is none."""
    return float(value.value) if getattr(value, "unit", None) == "px" else 0.0
