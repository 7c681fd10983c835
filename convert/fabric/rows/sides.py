"""The four sides of a piece worked in rows: what an edging goes along.

The last row is its top, the chain it began with its bottom, and along both sides every row has an end. Common practice,
no source.
"""

from __future__ import annotations

from msgspec import Struct

from convert.fabric.cells import Strip


class Sides(Struct, frozen=True):
    """The edges of a rectangle: `ends` are those of one side, from the last row to the first. `bottom` is None where
    the first row does not tell how many stitches wide the chain is.
    """

    top: Strip
    ends: Strip
    bottom: Strip | None
