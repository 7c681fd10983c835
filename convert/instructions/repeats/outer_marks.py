"""Gives a bracket the steps that it repeats from in front of it: "*A*, [B, repeat from * to *] 4 times"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent
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
