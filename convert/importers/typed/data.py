"""The data of a text as typed: sizes, measurements, gauge, materials, and the short fields."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.sizing import Size
from convert.errors import LimitExceeded
from convert.importers.size_lists import first_cells, labelled_sizes, measured_sizes, names_in, told_sizes
from convert.importers.typed.draft import Draft
from convert.importers.typed.gauge import read_gauge
from convert.importers.typed.materials import read_materials
from convert.importers.typed.sections import INSTRUCTIONS, PART, Section
from convert.importers.typed.sizes import read_sizes, sizes_named, with_target, with_to_fit
from convert.importers.typed.words import entries, spaced
from convert.importers.yarn_keys import yarn_keys
from convert.limits import LIMITS
from convert.source import Passage
from convert.trade.skills import skills

_ROWS = frozenset({PART, INSTRUCTIONS})
_SUPPLIED = frozenset({"materials", "gauge", "abbreviations", "special-stitches", "yarn", "hook", "notions"})
"""Sections whose lengths are those of a swatch or of what is needed, and of no size."""
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


def take_sizes(found: Draft, section: Section) -> None:
    """The sizes of the pattern; further lines of the section are measurements."""
    names = first_cells([passage.text for passage in entries(section.units)])
    if names and not found.sizes and len(names) <= LIMITS.sizes:
        _settle(found, sizes_named(names, section.units[0].passage.whole))
    for passage in entries(section.units):
        sizes = () if found.sizes else read_sizes(passage)
        if len(sizes) > LIMITS.sizes:
            raise LimitExceeded(f"the pattern has more than {LIMITS.sizes} sizes", passage.whole)
        if sizes:
            _settle(found, sizes)
            rest = passage.cut(len(passage.text) - len(names_in(passage.text)[1]))
            if rest.text and with_target(found.sizes, rest) is None:
                found.notes.append(found.prose(rest.text))
            elif rest.text:
                _add_measures(found, section, rest)
        else:
            _add_measures(found, section, passage)


def find_sizes(found: Draft, sections: Sequence[Section]) -> None:
    """The sizes that the text names under no heading: in its title, in a note, over the columns of a table."""
    if found.sizes:
        return
    lines = [passage.text for section in sections if section.id not in _ROWS for passage in entries(section.units)]
    texts = [unit.passage.text for section in sections for unit in section.units]
    names, line = told_sizes(lines, texts)
    if not names:
        names, line = labelled_sizes(lines, texts)
    if not names:
        sized = [section for section in sections if section.id not in _ROWS | _SUPPLIED]
        names, line = measured_sizes((p.text for section in sized for p in entries(section.units)), texts)
    if len(names) > LIMITS.sizes or not names:
        return
    span = next(p.whole for section in sections for p in entries(section.units) if p.text == line)
    _settle(found, sizes_named(names, span))


def _settle(found: Draft, sizes: tuple[Size, ...]) -> None:
    found.sizes = sizes
    found.context = replace(found.context, sizes=tuple((size.id, size.name) for size in sizes))


def take_to_fit(found: Draft, section: Section) -> None:
    """Whom each size fits."""
    heading = spaced(section.headed.text).rstrip(": ") if section.headed else ""
    whom = re.sub(r"\A(?:to\sfit|fits)\s?", "", heading, flags=re.IGNORECASE)
    for passage in entries(section.units):
        fitted = any(size.to_fit for size in found.sizes)
        sizes = None if fitted else with_to_fit(found.sizes, whom, passage)
        if sizes is None:
            found.add_section(heading, [passage], passage.whole)
        else:
            found.sizes = sizes


def take_measurements(found: Draft, section: Section) -> None:
    """What each size measures."""
    for passage in entries(section.units):
        _add_measures(found, section, passage)


def _add_measures(found: Draft, section: Section, passage: Passage) -> None:
    """A measurement in every size or, failing that, a line of its section."""
    sizes = with_target(found.sizes, passage)
    if sizes is not None:
        found.sizes = sizes
        return
    heading = section.headed.text if section.headed else "Measurements"
    same = next((s for s in found.sections if s.heading == spaced(heading).rstrip(":.… ")), None)
    if same is None:
        found.add_section(heading, [passage], passage.whole)
    else:
        found.sections[found.sections.index(same)] = replace(
            same, paragraphs=(*same.paragraphs, found.prose(passage.text))
        )


def take_gauge(found: Draft, section: Section) -> None:
    """The gauge; a second one is kept in words under its heading."""
    passages = list(entries(section.units))
    if not passages:
        return
    if found.gauge is not None:
        take_other(found, section)
        return
    gauge = read_gauge(Passage("; ".join(p.text.rstrip("; ") for p in passages)), found.context.system)
    if gauge.words:
        first = read_gauge(passages[0], found.context.system)
        gauge = replace(first, words=found.prose(" ".join(passage.text for passage in passages)))
    span = passages[0].whole.to(passages[-1].whole)
    found.gauge = replace(gauge, span=span)
    found.spans["gauge"] = span


def take_materials(found: Draft, sections: Sequence[Section]) -> None:
    """Yarns, hooks and notions of all sections that list some."""
    items = [(section.id, passage) for section in sections for passage in entries(section.units)]
    found.materials = read_materials(items, found.context.system)
    yarns = found.materials.yarns
    told = (key for id, passage in items if id != "hook" for key in yarn_keys(passage.text))
    colours = dict.fromkeys([*(name for yarn in yarns for name in (yarn.key, yarn.colour, yarn.name) if name), *told])
    found.context = replace(found.context, colours=tuple(colours))


def take_field(found: Draft, section: Section) -> None:
    """One of the short fields; what does not fit it is kept under its heading."""
    passages = list(entries(section.units))
    text = spaced(" ".join(passage.text for passage in passages))
    fits = {
        "designer": bool(text),
        "copyright": bool(text),
        "version": bool(text),
        "date": bool(_DATE.fullmatch(text)),
        "skill": text.casefold().rstrip(".") in skills(),
    }[section.id]
    if fits and not getattr(found, section.id):
        setattr(found, section.id, text.casefold().rstrip(".") if section.id == "skill" else text)
    elif text:
        found.add_section(section.headed.text if section.headed else section.id.title(), passages, section.span)


def take_other(found: Draft, section: Section) -> None:
    """A section that the document has no place for, under its heading."""
    found.add_section(section.headed.text if section.headed else "", entries(section.units), section.span)
