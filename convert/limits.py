"""The limits that keep time and memory bounded for any input, in one place."""

from __future__ import annotations

from msgspec import Struct


class Limits(Struct, frozen=True):
    """Every limit, with what it bounds. Reaching one is an error that names it."""

    bytes: int = 1 << 20
    """Size of one input file."""
    line: int = 20_000
    """Characters in one line."""
    depth: int = 50
    """Nesting of YAML or JSON."""
    nodes: int = 100_000
    """Values in one YAML or JSON file."""
    row: int = 20_000
    """Characters in one row after joining its lines."""
    brackets: int = 40
    """Nesting of brackets and repeats in a row."""
    rows: int = 5_000
    """Rows of one pattern, as written."""
    worked_rows: int = 20_000
    """Rows worked in one size, repeats of rows included."""
    sizes: int = 60
    """Sizes of one pattern."""
    stitches: int = 1_000_000
    """Stitches in one row of one size."""
    steps: int = 300_000
    """Steps executed for one size of one pattern."""
    number: int = 1_000_000
    """Any count in an instruction."""

    picture_bytes: int = 20 << 20
    """Size of one picture file."""
    picture_pixels: int = 50_000_000
    """Pixels of one picture, before it is made smaller."""


LIMITS = Limits()
