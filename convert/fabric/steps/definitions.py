"""What the names of groups stand for."""

from __future__ import annotations

from msgspec import Struct, field

from convert.document.records import Special
from convert.document.steps import Chain, Group, Step


class Definitions(Struct, frozen=True):
    """What the rows may refer to."""

    specials: dict[str, Special] = field(default_factory=dict)
    defaults: dict[str, tuple[Step, ...]] = field(default_factory=dict)
    """Definitions of the trade's group names that the pattern uses without saying what they are."""
    stretches: frozenset[str] = frozenset()
    """Names that a row gives to stretches of loops in passing, in small letters."""

    def steps(self, id: str) -> tuple[Step, ...] | None:
        """What a group name stands for; None where it is one stitch, or not known."""
        own = self.specials.get(id)
        if own is not None and own.steps:
            return own.steps
        return self.defaults.get(id)

    def only_named(self, id: str) -> bool:
        """Whether the pattern names a stitch of its own without a word of what it is."""
        own = self.specials.get(id)
        return own is not None and not own.steps and not own.words

    def name_of(self, group: Group) -> str:
        """The one name that the pattern has for such a group: "2 dc, ch 1, 2 dc" is a shell wherever it is written out,
        if that is what a shell is. Empty where it has none.
        """
        if isinstance(group.steps[-1], Chain):
            return ""
        named = [id for id, special in self.specials.items() if _is_group(special.steps, group.steps)]
        return named[0] if len(named) == 1 else ""


def _is_group(steps: tuple[Step, ...], made: tuple[Step, ...]) -> bool:
    only = steps[0] if len(steps) == 1 else None
    return isinstance(only, Group) and only.steps == made
