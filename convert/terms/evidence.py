"""The table of what tells US terms from UK terms, from `shared/systems.yaml`."""

from __future__ import annotations

from functools import cache

from msgspec import Struct

from convert.document.records import TermSystem
from convert.terms.lookup import first_words, key
from convert.trade.stitches import Stitch, stitches
from convert.trade.tables import TableError, record, table

_KEYS = {"only", "older", "decides", "hints", "statements", "left_alone"}


class Mark(Struct, frozen=True):
    """A form that speaks for a system: with full weight (`strong`), or as a hint."""

    system: TermSystem
    weight: int
    strong: bool


class Marks(Struct, frozen=True):
    """Every mark by its form, their first words, and by how much one side must outweigh the other."""

    marks: dict[str, Mark]
    firsts: frozenset[str]
    decides: int
    older: frozenset[str]
    """Forms that old books of the other system used too, for another stitch."""


@cache
def marks() -> Marks:
    """The marks of the table. One that the table of stitches contradicts stops the load with `TableError`."""
    data = record(table("systems"), _KEYS, set(), "systems.yaml")
    found: dict[str, Mark] = {}
    for system in TermSystem:
        for form in map(key, map(str, data["only"][system.value])):
            _check_only(form, system)
            _add(found, form, Mark(system, 0, strong=True))
        for form, weight in data["hints"][system.value].items():
            _add(found, key(str(form)), Mark(system, int(weight), strong=False))
    older = frozenset(key(str(form)) for forms in data["older"].values() for form in forms)
    if not older <= found.keys():
        raise TableError(f"systems.yaml: {sorted(older - found.keys())} of the older words stand nowhere else")
    return Marks(found, first_words(found), int(data["decides"]), older)


def _add(found: dict[str, Mark], form: str, mark: Mark) -> None:
    if form in found:
        raise TableError(f"systems.yaml: {form!r} stands twice")
    found[form] = mark


def _check_only(form: str, system: TermSystem) -> None:
    other = TermSystem.UK if system is TermSystem.US else TermSystem.US
    if form in readings(other) or form not in readings(system):
        raise TableError(f"systems.yaml: {form!r} is no form of the {system.value} stitches alone")


@cache
def readings(system: TermSystem) -> dict[str, Stitch]:
    """Each form in which the system names a stitch."""
    found: dict[str, Stitch] = {}
    for stitch in stitches().values():
        names = stitch.names(system)
        found.update({key(form): stitch for form in (names.abbreviation, names.name, names.plural, *names.variants)})
    return found


@cache
def stitch_forms() -> frozenset[str]:
    """All forms in which either system names a stitch."""
    return frozenset({*readings(TermSystem.US), *readings(TermSystem.UK)})
