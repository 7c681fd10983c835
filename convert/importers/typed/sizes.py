"""Sizes, what they fit and what they measure, from lines such as "Sizes: S (M, L)" and "Chest: 90 (100, 110) cm"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from msgspec.structs import replace

from convert.document.lengths import CENTIMETRES, Length, parse_length, with_glyphs
from convert.document.sizing import Measure, Size
from convert.document.slugs import free_slug, slug
from convert.importers.size_lists import cells_of, is_size, names_in
from convert.importers.typed.signs import names_supplies
from convert.importers.typed.words import PER_SIZE, decimals, spaced
from convert.source import Passage, Span

_CLOSED = re.compile(r"[)\]}]")
_PAIR = re.compile(r"[\w-]+(?:,\s?|\s(?:\w+|/)\s)[\w-]+")
_UNITS = r"cms?|mm|in(?:s|ches|ch)?\.?|[\"″”]|yds?|yards?|ft|feet|metres?|meters?|m"
_UNIT = rf"(?P<unit>{_UNITS})"
_AGAIN = rf"(?:\s?[/;,(\[]\s?(?P<again>\d[\d\s(),:;\[\].\/½¼¾⅓⅔⅛⅜⅝⅞–-]*?)\s?(?P<other>{_UNITS})[)\]]?)?"
"""The same lengths in the other system, behind a stroke or in a bracket."""
_LINE = re.compile(
    rf"\A(?:(?P<name>[A-Za-z][A-Za-z ]{{0,40}}?)\s?[:=–-]?\s)?\s*(?P<values>{PER_SIZE})\s?{_UNIT}{_AGAIN}\s*\.?\Z",
    re.IGNORECASE,
)
_NAME_WORDS = 4


def read_sizes(passage: Passage) -> tuple[Size, ...]:
    """The sizes that a line names; empty if it names fewer than two.

    >>> [size.id for size in read_sizes(Passage("Small (Medium, Large)"))]
    ['small', 'medium', 'large']
    """
    names, _ = names_in(passage.text)
    if len(names) == 2 and not _CLOSED.search(passage.text) and not _PAIR.fullmatch(passage.text.rstrip(". ")):
        return ()
    if not _CLOSED.search(passage.text) and names_supplies(passage.text) and not all(map(is_size, names)):
        return ()  # "3 mm hook, green yarn, a button" below "Size: about 9 cm" are no sizes
    if len(names) < 2 or not all(name and len(name) <= 30 and len(name.split()) <= _NAME_WORDS for name in names):
        return ()
    return sizes_named(names, passage.whole)


def sizes_named(names: Sequence[str], span: Span) -> tuple[Size, ...]:
    """The sizes with these names; none if two are called the same."""
    if len({name.casefold() for name in names}) < len(names):
        return ()
    taken: set[str] = set()
    return tuple(Size(free_slug(name, "size", taken), name, span=span) for name in names)


def with_to_fit(sizes: tuple[Size, ...], whom: str, passage: Passage) -> tuple[Size, ...] | None:
    """The sizes with whom they fit; None if the line does not give one length for each of them."""
    line = _line(passage, sizes)
    if line is None:
        return None
    name, lengths = line
    words = spaced(f"{whom} {name}")
    return tuple(replace(s, to_fit=f"{words} {length.said}".strip()) for s, length in zip(sizes, lengths, strict=True))


def with_target(sizes: tuple[Size, ...], passage: Passage) -> tuple[Size, ...] | None:
    """The sizes with one more measurement; None if the line does not give one length for each of them."""
    line = _line(passage, sizes)
    if line is None or not line[0]:
        return None
    name, lengths = slug(line[0], "measure"), line[1]
    if any(measure.name == name for measure in sizes[0].target):
        return None
    return tuple(
        replace(s, target=(*s.target, Measure(name, length))) for s, length in zip(sizes, lengths, strict=True)
    )


def _as_line(text: str, sizes: int) -> str:
    """A row of a table, "Bust | 80 cm | 90 cm", as the line that says the same: "Bust: 80 (90) cm"."""
    cells = cells_of(text)
    if len(cells) != sizes + 1:
        return text
    said_in = re.search(rf"[(\[,]\s?{_UNIT}\s?[)\]]?\Z", cells[0], re.IGNORECASE)
    name = cells[0][: said_in.start()].strip() if said_in else cells[0]
    values = [re.sub(rf"\s?{_UNIT}\Z", "", cell, flags=re.IGNORECASE) for cell in cells[1:]]
    last = re.search(rf"{_UNIT}\Z", cells[-1], re.IGNORECASE)
    found = said_in or last
    return f"{name}: {values[0]} ({', '.join(values[1:])}) {found['unit']}" if found else text


def _line(passage: Passage, sizes: tuple[Size, ...]) -> tuple[str, tuple[Length, ...]] | None:
    if len(sizes) < 2:
        return None
    match = _LINE.match(with_glyphs(_as_line(passage.text, len(sizes))))
    if match is None:
        return None
    one = parse_length(f"1 {match['unit'].rstrip('.').lower()}")
    values = decimals(match["values"])
    if one is None or one.unit not in CENTIMETRES or len(values) != len(sizes):
        return None
    lengths = tuple(Length(value * CENTIMETRES[one.unit], one.unit) for value in values)
    if match["again"] and not _said_again(lengths, match["again"], match["other"]):
        return None
    return spaced(match["name"] or ""), lengths


_ROUNDED = Decimal("0.04")
"""How far, as a share, rounding takes a length in one system from the same in the other."""


def _said_again(lengths: Sequence[Length], said: str, unit: str) -> bool:
    """Whether a second list tells the same lengths."""
    parts = [part.strip() for part in re.split(r"[(),:;\[\]]+", said) if part.strip()]
    again = [parse_length(f"{part} {unit.rstrip('.').lower()}") for part in parts]
    if len(again) != len(lengths):
        return False
    pairs = zip(lengths, again, strict=True)
    return all(two is not None and abs(one.cm - two.cm) <= _ROUNDED * one.cm for one, two in pairs)
