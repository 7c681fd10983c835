"""What passes through untouched."""

from __future__ import annotations

from msgspec import Struct


class Extra(Struct, frozen=True):
    """A key beginning with `x-`, which passes through untouched. `value` is its JSON text."""

    key: str
    value: str
