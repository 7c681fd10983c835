"""Marks that serve twice: steps that a bracket repeats from in front of it ("*A*, [B, repeat from * to *] 4 times"),
and steps worked again under the mark of their first repeat.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent, Repeat
from convert.instructions.words.items import Ends, HowOften, Item, Mark, RepeatFrom


def with_outer(inner: list[Item], outer: list[Item]) -> list[Item]:
    """The items of a bracket with "repeat from * to *" as the steps between two such marks in front of it."""
    if any(isinstance(item, Mark) for item in inner):
        return inner
    found: list[Item] = []
    for item in inner:
        marks = [
            at for at, one in enumerate(outer) if isinstance(one, Mark) and one.sign == getattr(item, "sign", None)
        ]
        if not isinstance(item, RepeatFrom) or not item.between or len(marks) < 2 or item.how != _ONCE_MORE:
            found.append(item)
            continue
        for at in marks[-2:]:
            mark = outer[at]
            outer[at] = replace(mark, used=True) if isinstance(mark, Mark) else mark
        found += [one for one in outer[marks[-2] + 1 : marks[-1]] if not isinstance(one, Mark | Ends)]
    return found


_ONCE_MORE = HowOften(Extent.END)
"""How often "repeat from * to *" is worked where nothing else is said."""


def again_in_front(out: list[Item], at: int) -> int:
    """Where the steps begin that "repeat from *" means behind a repeat from the mark at `at`: those right in front, if
    they are the very steps that the first one repeats, and the row calls repeats around others by a mark of their own:
    "**A, *B, repeat from * twice, C, repeat from ** 3 times, *B, repeat from * twice, C, B, repeat from * twice".
    """
    mark, first = out[at], out[at + 1] if at + 1 < len(out) else None
    if not isinstance(mark, Mark) or not mark.used or not isinstance(first, Repeat):
        return at
    many = len(first.steps)
    begin = len(out) - many
    outer = any(isinstance(one, Mark) and one.used and one.sign != mark.sign for one in out)
    if not outer or many < _PAIR or begin <= at + 2 or tuple(out[begin:]) != first.steps:
        return at
    out.insert(begin, replace(mark, used=False))
    return begin


_PAIR = 2
"""One step alone may well stand in front by chance."""
