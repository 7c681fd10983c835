"""The page's own words, from `shared/page_words.yaml`, and dates as each edition writes them."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from types import MappingProxyType

from convert.document.prose import Prose
from convert.document.records import TermSystem
from convert.trade.tables import TableError, table


@cache
def _phrases() -> MappingProxyType[str, tuple[str, str]]:
    found: dict[str, tuple[str, str]] = {}
    for id, entry in table("page_words").items():
        if isinstance(entry, str):
            found[id] = (entry, entry)
        elif isinstance(entry, dict) and entry.keys() == {"us", "uk"}:
            found[id] = (str(entry["us"]), str(entry["uk"]))
        else:
            raise TableError(f"page_words.yaml, {id!r}: expected a text, or one for us and one for uk")
    return MappingProxyType(found)


def phrase(id: str, system: TermSystem, **filled: str) -> str:
    """A phrase of the page in one edition, its curly brackets filled. Raises KeyError for a phrase that is not there.

    >>> phrase("gauge", TermSystem.UK), phrase("one-size-of", TermSystem.US, name="Lap")
    ('Tension', 'Size Lap')
    """
    text = _phrases()[id][0 if system is TermSystem.US else 1]
    for name, value in filled.items():
        text = text.replace("{" + name + "}", value)
    return text


def measure_name(name: str, system: TermSystem) -> str:
    """The heading of a measurement: the table's word for it, else the author's own with a capital.

    >>> measure_name("width", TermSystem.US), measure_name("brim_depth", TermSystem.US)
    ('Width', 'Brim depth')
    """
    if name in _phrases():
        return phrase(name, system)
    plain = name.replace("_", " ").replace("-", " ")
    return plain[:1].upper() + plain[1:]


_KEPT_CAPITALS = re.compile(r"\W*(?:[A-Z]|[IVX]+|[^AEIOUY\W]{2}|\w*\d\w*)\W*")
"""Words that stay in capitals: one letter, a Roman number, "XL", whatever holds a figure."""


def calm(heading: str) -> str:
    """A heading typed in capitals throughout, as the page sets its headings; any other as it stands.

    >>> calm("LEFT FRONT"), calm("EAR II"), calm("V-NECK"), calm("Square A"), calm("C2C"), calm("A")
    ('Left front', 'Ear II', 'V-neck', 'Square A', 'C2C', 'A')
    """
    if not heading.isupper():
        return heading
    said = " ".join(word if _KEPT_CAPITALS.fullmatch(word) else word.lower() for word in heading.split(" "))
    return said[:1].upper() + said[1:]


def capitalised(prose: Prose) -> Prose:
    """A paragraph that begins with a capital letter."""
    first = prose[0] if prose else None
    if not isinstance(first, str):
        return prose
    return (first[:1].upper() + first[1:], *prose[1:])


def date_text(iso: str, system: TermSystem) -> str:
    """A date as the edition's readers write it; what is no ISO date stays as it stands.

    >>> (
    ...     date_text("2026-03-14", TermSystem.US),
    ...     date_text("2026-03-14", TermSystem.UK),
    ...     date_text("spring", TermSystem.UK),
    ... )
    ('March 14, 2026', '14 March 2026', 'spring')
    """
    try:
        day = date.fromisoformat(iso)
    except ValueError:
        return iso
    month = phrase("months", system).split()[day.month - 1]
    return f"{month} {day.day}, {day.year}" if system is TermSystem.US else f"{day.day} {month} {day.year}"
