"""Measurements of bodies and blankets, and ease, from `shared/body_sizes.yaml`, `blanket_sizes.yaml` and
`ease.yaml`.
"""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from convert.document.lengths import Length
from convert.trade.tables import TableError, record, table


class BodyMeasure(Struct, frozen=True):
    """One measurement of one size of body; `confirmed` tells whether a source bears it out.

    Of a range it is the middle.
    """

    name: str
    cm: Decimal
    inches: Decimal
    confirmed: bool

    def length(self, unit: str) -> Length:
        """In the chart of that unit: the inches of the chart are not its centimetres converted.

        >>> body("child 4")["chest"].length("in").said, body("child 4")["chest"].length("cm").said
        ('23 in', '58.5 cm')
        """
        return Length(self.inches * Decimal("2.54"), "in") if unit == "in" else Length(self.cm, "cm")


def _middle(value: Any) -> Decimal:
    ends = [Decimal(str(v)) for v in (value if isinstance(value, list) else [value])]
    return sum(ends, Decimal(0)) / len(ends)


@cache
def _bodies() -> MappingProxyType[str, MappingProxyType[str, BodyMeasure]]:
    found: dict[str, MappingProxyType[str, BodyMeasure]] = {}
    for name, entry in table("body_sizes").items():
        fields = record(entry, {"sizes", "confirmed", "measures"}, set(), f"body_sizes.yaml, {name}")
        for index, size in enumerate(fields["sizes"]):
            found[f"{name} {size}".casefold()] = MappingProxyType(
                {
                    key: BodyMeasure(
                        key, _middle(both["cm"][index]), _middle(both["in"][index]), key in fields["confirmed"]
                    )
                    for key, both in fields["measures"].items()
                }
            )
    for entry in table("blanket_sizes"):
        fields = record(entry, {"name", "in"}, {"from_memory"}, "blanket_sizes.yaml")
        known = not fields.get("from_memory", False)
        sides = zip(("width", "length"), fields["in"], strict=True)
        measures = {k: BodyMeasure(k, Decimal(v) * Decimal("2.54"), Decimal(v), known) for k, v in sides}
        found[f"blanket {fields['name']}".casefold()] = MappingProxyType(measures)
    return MappingProxyType(found)


def bodies() -> tuple[str, ...]:
    """Every name of a body, as a size may give it."""
    return tuple(_bodies())


def body(name: str) -> MappingProxyType[str, BodyMeasure] | None:
    """The measurements of a body by its name ("child 4", "women M"); None where no table has it."""
    return _bodies().get(" ".join(name.split()).casefold())


def ease(fit: str, unit: str) -> Length:
    """The ease of a fit, the middle of its range. Raises `TableError` for a fit that the table lacks.

    >>> ease("classic", "cm").said
    '7.5 cm'
    """
    entry = table("ease").get(fit)
    if entry is None:
        raise TableError(f"ease.yaml: there is no fit {fit!r}")
    return Length(_middle(entry["in"]) * Decimal("2.54"), "in") if unit == "in" else Length(_middle(entry["cm"]), "cm")
