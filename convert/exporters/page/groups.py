"""Finds the repeats of a line, so that a page can show at a glance how far each of them reaches."""

from __future__ import annotations

from msgspec import Struct, field

from convert.exporters.page.records import Flow, Mark

Spot = tuple[int, int]
"""A piece of a flow: the clump's place and the piece's place in it."""


class Groups(Struct, frozen=True):
    """Pieces that a repeat begins before, and pieces that one ends behind. They nest, one wholly inside another."""

    opens: frozenset[Spot] = frozenset()
    closes: frozenset[Spot] = frozenset()


class _Search(Struct):
    """Brackets and asterisks that have not found their end yet, the innermost last."""

    waiting: list[tuple[str, Spot]] = field(default_factory=list)
    opens: set[Spot] = field(default_factory=set)
    closes: set[Spot] = field(default_factory=set)

    def meet(self, sign: str, spot: Spot) -> None:
        wanted = "[" if sign == "]" else sign
        at = next((n for n in reversed(range(len(self.waiting))) if self.waiting[n][0] == wanted), None)
        if sign == "[" or (at is None and sign != "]"):
            self.waiting.append((sign, spot))
        elif at is not None:
            # What stood inside and found no end is no repeat of its own: the mark "**" where a last repeat stops.
            self.opens.add(self.waiting[at][1])
            self.closes.add(spot)
            del self.waiting[at:]


def repeat_groups(flow: Flow) -> Groups:
    """From every "[" to its "]", and from every asterisk to the "rep from *" that sends the reader back to it.

    A sign without a partner begins nothing.
    """
    search = _Search()
    for number, clump in enumerate(flow):
        for place, piece in enumerate(clump):
            if piece.mark is Mark.REPEAT:
                for sign in [piece.text] if piece.text.startswith("*") else piece.text:
                    search.meet(sign, (number, place))
    return Groups(frozenset(search.opens), frozenset(search.closes))
