"""Plain data that knows where it stands in a file: what a YAML or JSON text becomes before it is a document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from types import MappingProxyType

from msgspec import Struct, field

from convert.document.json_text import Plain, json_text
from convert.source import NOWHERE, Passage, Span

_NO_KEYS: Mapping[str, Span] = MappingProxyType({})


class Located(Struct, frozen=True):
    """A value with its place in the file.

    A list holds `Located` values as a tuple, a mapping holds them by key; `keys` gives the place of each key. `text` is
    a number as it was typed ("1.10"), `passage` a text whose every character knows its place.
    """

    value: bool | int | Decimal | str | tuple[Located, ...] | Mapping[str, Located] | None
    span: Span = NOWHERE
    text: str = ""
    passage: Passage | None = None
    keys: Mapping[str, Span] = field(default_factory=lambda: _NO_KEYS)

    @property
    def mapping(self) -> Mapping[str, Located]:
        """The entries by key; empty for anything but a mapping."""
        return self.value if isinstance(self.value, Mapping) else {}

    @property
    def items(self) -> tuple[Located, ...]:
        """The values of a list; empty for anything but a list."""
        return self.value if isinstance(self.value, tuple) else ()

    @property
    def words(self) -> str:
        """A text or, for a number, true, false or null, the characters that were typed.

        >>> Located(Decimal("1.1"), text="1.10").words
        '1.10'
        """
        return self.value if isinstance(self.value, str) else self.text

    @property
    def as_passage(self) -> Passage:
        """The words with their places."""
        return self.passage or Passage.at(self.words, self.span.line, self.span.column)

    def get(self, key: str) -> Located | None:
        """The value under a key of a mapping."""
        return self.mapping.get(key)

    def at(self, path: Iterable[str | int]) -> Located:
        """The value at the end of a path; the last one reached where the path goes on into nothing."""
        here = self
        for step in path:
            inner = here.items[step] if isinstance(step, int) and step < len(here.items) else here.get(str(step))
            if inner is None:
                break
            here = inner
        return here

    def plain(self) -> Plain:
        """The same data without places."""
        value = self.value
        if isinstance(value, tuple):
            return [item.plain() for item in value]
        if isinstance(value, Mapping):
            return {key: item.plain() for key, item in value.items()}
        return value

    def extras(self) -> Iterator[tuple[str, str]]:
        """Every entry whose key begins with `x-`, with its JSON text."""
        return ((key, item.json()) for key, item in self.mapping.items() if key.startswith("x-"))

    def json(self) -> str:
        """The value as JSON text, its numbers as they were typed."""
        if isinstance(self.value, tuple):
            return f"[{', '.join(item.json() for item in self.value)}]"
        if isinstance(self.value, Mapping):
            return f"{{{', '.join(f'{json_text(key)}: {item.json()}' for key, item in self.value.items())}}}"
        if isinstance(self.value, int | Decimal) and not isinstance(self.value, bool):
            return self.text or json_text(self.value)
        return json_text(self.value)


def located(data: Plain) -> Located:
    """Plain data as `Located` values that stand nowhere.

    >>> located({"chains": 3}).at(["chains"]).value
    3
    """
    if isinstance(data, list):
        return Located(tuple(located(item) for item in data))
    if isinstance(data, dict):
        return Located({key: located(item) for key, item in data.items()})
    return Located(data, text="" if isinstance(data, str) else json_text(data))
