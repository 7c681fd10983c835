"""The cautions that a pattern may need, from `shared/cautions.yaml`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from msgspec import Struct

from convert.trade.patterns import either
from convert.trade.tables import TableError, record, table


class Caution(Struct, frozen=True):
    """What the maker is warned of, and by which words a piece that calls for it is known."""

    id: str
    text: str
    called_by: tuple[re.Pattern[str], ...]
    """One pattern for each group of words; all of them must be found."""
    said_by: re.Pattern[str]

    def called(self, text: str) -> tuple[str, ...]:
        """The words by which a text about the piece calls for the caution; none where it does not.

        >>> table_of_cautions()["small-parts"].called("A doll with plastic eyes")
        ('doll',)
        """
        found = [pattern.search(text) for pattern in self.called_by]
        return tuple(hit.group() for hit in found if hit is not None) if all(found) else ()


@cache
def table_of_cautions() -> Mapping[str, Caution]:
    """Every caution by its id, in the order of the table."""
    found: dict[str, Caution] = {}
    for entry in table("cautions"):
        fields = record(entry, _KEYS, set(), f"cautions.yaml, {entry.get('id')!r}")
        if fields["id"] in found:
            raise TableError(f"cautions.yaml: {fields['id']!r} stands twice")
        calls = tuple(_any(words) for words in fields["called_by"])
        found[fields["id"]] = Caution(fields["id"], str(fields["text"]), calls, _any(fields["said_by"]))
    return MappingProxyType(found)


_KEYS = {"id", "applies", "called_by", "said_by", "text"}


def _any(words: list[str]) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w){either(words)}(?!\w)", re.IGNORECASE)


@cache
def cautions() -> Mapping[str, str]:
    """The text of every caution by its id, in the order of the table.

    >>> list(cautions())[:2]
    ['infant-sleep', 'small-parts']
    """
    return MappingProxyType({id: caution.text for id, caution in table_of_cautions().items()})
