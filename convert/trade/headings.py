"""The headings of a pattern's sections, from `shared/headings.yaml`."""

from __future__ import annotations

import re
from functools import cache
from types import MappingProxyType

from convert.trade.patterns import either
from convert.trade.tables import TableError, record, table

_FRAME = re.compile(r"\A[\s\W_]*?(?=[^\W_]|©|\(c\))|[\s:.…\-–—=_*#!]+\Z", re.IGNORECASE)


def bare_heading(text: str) -> str:
    """A heading as the table is searched by: without capitals, marks around it, and doubled spaces.

    >>> bare_heading("* MATERIALS  Needed: ...")
    'materials needed'
    """
    return " ".join(_FRAME.sub("", text).casefold().split())


def section_of(heading: str) -> str | None:
    """The id of the section that a heading opens; None if it stands for no section of the table.

    The name of a term system beside it says nothing of what the section holds.

    >>> section_of("MATERIALS:"), section_of("Left ear"), section_of("Abbreviations (US terms)")
    ('materials', None, 'abbreviations')
    """
    bare = bare_heading(heading)
    found = headings().get(bare)
    return found if found is not None or len(bare) > _LONGEST else headings().get(_system_beside().sub("", bare))


_LONGEST = 60
"""Characters of the longest heading that names a system as well."""


@cache
def _system_beside() -> re.Pattern[str]:
    """The name of a system in front of a heading ("UK abbreviations"), or in a bracket behind it."""
    said = table("systems")["statements"]
    system, nouns = either([*said["us"], *said["uk"]]), either(said["nouns"])
    return re.compile(rf"\A{system}\s(?=\S)|\s?[(\[]{system}(?:\s{nouns})?[)\]]?\Z", re.IGNORECASE)


@cache
def forms_of(section: str) -> tuple[str, ...]:
    """Every form that opens a section, without capitals."""
    return tuple(form for form, id in headings().items() if id == section)


@cache
def headings() -> MappingProxyType[str, str]:
    """Every form with the id of its section. A form that stands twice stops the load."""
    found: dict[str, str] = {}
    for entry in table("headings"):
        fields = record(entry, {"id", "forms"}, set(), f"headings.yaml, {entry.get('id')!r}")
        for form in fields["forms"]:
            bare = bare_heading(str(form))
            if bare in found:
                raise TableError(f"headings.yaml: {form!r} stands twice")
            found[bare] = str(fields["id"])
    return MappingProxyType(found)
