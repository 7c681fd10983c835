"""Skill levels, from `shared/skills.yaml`."""

from __future__ import annotations

from functools import cache

from convert.trade.tables import table


@cache
def skills() -> tuple[str, ...]:
    """The levels, from the least to the most."""
    return tuple(map(str, table("skills")))
