"""Hooks by diameter and by the names on their packets."""

from __future__ import annotations

from decimal import Decimal

import pytest

from convert.trade.hooks import hook_named, hook_size, hooks


@pytest.mark.parametrize("said", ["H-8", "H/8", "h8", "H 8", "H", "8"])
def test_a_hook_is_found_by_any_spelling_of_its_us_name(said: str) -> None:
    """Packets and patterns write it in many ways."""
    found = hook_named(said)
    assert found is not None
    assert found.mm == Decimal(5)


@pytest.mark.parametrize("said", ["K-10½", "K-10 1/2", "K-10.5", "K"])
def test_half_sizes_are_read(said: str) -> None:
    """The US size ten and a half is the 6.5 mm hook, not the size ten."""
    found = hook_named(said)
    assert found is not None
    assert found.mm == Decimal("6.5")


@pytest.mark.parametrize("said", ["N", "M-8", "R", "", "hook", "P"])
def test_a_name_that_no_hook_or_several_bear_finds_nothing(said: str) -> None:
    """N is 9 mm or 10 mm by maker; the caller has to ask."""
    assert hook_named(said) is None


def test_every_us_name_finds_its_own_hook() -> None:
    """Each name in the table, as it stands there, leads back to its hook."""
    alone = [hook for hook in hooks() if hook.us and not hook.steel]
    found = {hook.us: hook_named(hook.us) for hook in alone}
    # "Q" alone is also half of "P/Q"; makers differ, so it names no hook for certain.
    assert {name for name, hook in found.items() if hook is None} == {"Q"}
    assert [hook for hook in alone if found[hook.us] not in (hook, None)] == []


def test_a_thin_diameter_finds_the_steel_hook() -> None:
    """Where no yarn hook is so thin."""
    found = hook_size(Decimal("0.75"))
    assert found is not None
    assert (found.us, found.steel) == ("14", True)
    assert hook_size(Decimal("5.25")) is None
