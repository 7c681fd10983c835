"""Records that know where they stood in the author's text."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from operator import attrgetter
from typing import Any

from msgspec import Struct


class Placed(Struct, frozen=True, eq=False):
    """A record that is equal to another of its kind when both mean the same.

    Where it stood in the text (`span`, `spans`) and how it was typed (fields whose names begin with "said") count for
    nothing: a pattern read from YAML and the same one read from Markdown are equal.
    """

    def __eq__(self, other: object) -> bool:
        if self is other:
            return True
        if type(self) is not type(other):
            return NotImplemented
        meaning = _meaning(type(self))
        return bool(meaning(self) == meaning(other))

    def __ne__(self, other: object) -> bool:
        """The opposite of `==`, which a struct of its own would tell from the identity."""
        return not self == other

    def __hash__(self) -> int:
        return hash(_meaning(type(self))(self))


@cache
def _meaning(kind: type[Placed]) -> Callable[[Placed], Any]:
    # Some, like a turn, mean all they mean by their kind.
    names = [name for name in kind.__struct_fields__ if counts(name)] or ["__class__"]
    return attrgetter(*names)


def counts(field: str) -> bool:
    """Whether a field of that name is part of what its record means.

    >>> counts("stitch"), counts("span"), counts("said_doubtful")
    (True, False, False)
    """
    return not field.startswith(("span", "said"))
