"""The cautions that a pattern may need, from `shared/cautions.yaml`."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from convert.trade.tables import TableError, record, table


@cache
def cautions() -> Mapping[str, str]:
    """The text of every caution by its id, in the order of the table.

    >>> list(cautions())[:2]
    ['infant-sleep', 'small-parts']
    """
    found: dict[str, str] = {}
    for entry in table("cautions"):
        fields = record(entry, {"id", "applies", "text"}, set(), f"cautions.yaml, {entry.get('id')!r}")
        if fields["id"] in found:
            raise TableError(f"cautions.yaml: {fields['id']!r} stands twice")
        found[fields["id"]] = str(fields["text"])
    return MappingProxyType(found)
