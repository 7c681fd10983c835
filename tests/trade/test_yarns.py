"""Weight classes of yarn."""

from __future__ import annotations

from decimal import Decimal

from convert.document.records import TermSystem
from convert.trade.yarns import Range, yarn_weight, yarn_weights


def test_thicker_classes_have_fewer_stitches_and_larger_hooks() -> None:
    """Down the table every gauge falls and every hook grows; a slip of the pen would show."""
    for thinner, thicker in zip(yarn_weights(), yarn_weights()[1:], strict=False):
        for name in ("gauge", "knit", "metres"):
            more, less = getattr(thinner, name), getattr(thicker, name)
            assert more.most > less.most, (thicker.name, name)
        assert thinner.hook.least < thicker.hook.least


def test_every_class_has_a_name_in_both_systems() -> None:
    """Readers of either system are told the class by a word they know."""
    assert all(weight.called(system) for weight in yarn_weights() for system in TermSystem)


def test_classes_outside_the_table_are_none() -> None:
    """There is neither a class 8 nor a class below 0."""
    assert (yarn_weight(8), yarn_weight(-1)) == (None, None)


def test_a_range_includes_its_ends() -> None:
    """11 to 14 stitches holds 11 and 14."""
    medium = Range(Decimal(11), Decimal(14))
    assert [number for number in range(9, 17) if number in medium] == [11, 12, 13, 14]
