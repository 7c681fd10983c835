"""Hook sizes and their names, from `shared/hooks.yaml`."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from convert.trade.tables import TableError, record, table

_PARTS = re.compile(r"[^A-Z0-9.]+")


class HookSize(Struct, frozen=True):
    """A hook: its diameter in millimetres and what US and old British packets call it; empty where nothing."""

    mm: Decimal
    us: str = ""
    uk: str = ""
    steel: bool = False


def _hook(entry: dict[str, Any]) -> HookSize:
    fields = record(entry, {"mm"}, {"us", "uk", "kind", "from_memory"}, f"hooks.yaml, {entry.get('mm')!r} mm")
    if fields.get("kind", "steel") != "steel":
        raise TableError(f"hooks.yaml: the kind {fields['kind']!r} is unknown")
    return HookSize(Decimal(str(fields["mm"])), fields.get("us", ""), fields.get("uk", ""), "kind" in fields)


@cache
def hooks() -> tuple[HookSize, ...]:
    """Every hook of the table. A diameter or a US name that stands twice in one kind stops the load."""
    found = tuple(_hook(entry) for entry in table("hooks"))
    for steel in (False, True):
        kind = [hook for hook in found if hook.steel is steel]
        names = [hook.us for hook in kind if hook.us]
        if len({hook.mm for hook in kind}) < len(kind) or len(set(names)) < len(names):
            raise TableError("hooks.yaml: a hook stands twice")
    return found


def hook_size(mm: Decimal) -> HookSize | None:
    """The hook of this diameter: the yarn hook, or the steel hook where there is no yarn hook.

    >>> hook_size(Decimal("5")).us
    'H-8'
    """
    return next((hook for hook in hooks() if hook.mm == mm), None)


def _names(us: str) -> frozenset[str]:
    return frozenset(part for part in _PARTS.split(us.upper().replace("½", ".5").replace(" 1/2", ".5")) if part)


def hook_named(us: str) -> HookSize | None:
    """The yarn hook that a US packet names so: "H-8", "H/8", "h8", "K-10 1/2" or a letter that only one hook has.

    None where no hook or more than one bears the name.

    >>> hook_named("h/8").mm, hook_named("K-10 1/2").mm, hook_named("N")
    (Decimal('5'), Decimal('6.5'), None)
    """
    said = _names(re.sub(r"(?<=[A-Za-z])(?=\d)", "-", us.strip()))
    fitting = [hook for hook in hooks() if not hook.steel and said and said <= _names(hook.us)]
    return fitting[0] if len(fitting) == 1 else None
