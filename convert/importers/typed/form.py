"""Reads a pattern that was typed as plain text, without any markup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import PurePath

from msgspec.structs import replace

from convert.document.read import Read, ReadOptions
from convert.document.records import Document, TermSystem
from convert.document.slugs import slug
from convert.errors import LimitExceeded
from convert.findings import Finding, Severity, sorted_findings
from convert.importers.entrance import admit
from convert.importers.systems import settle_system
from convert.importers.typed.conventions import with_said_in_rows
from convert.importers.typed.draft import Draft
from convert.importers.typed.fields import fields_apart
from convert.importers.typed.filling import draft
from convert.importers.typed.legend import Legend
from convert.importers.typed.letter import letter_length, set_aside
from convert.importers.typed.lines import blocks
from convert.importers.typed.pages import without_pages
from convert.importers.typed.parts import opens_work, reads_as_steps
from convert.importers.typed.repeats import counts_besides, without_doubt
from convert.importers.typed.sections import gather
from convert.importers.typed.sized import sizes_said
from convert.importers.typed.stitches import equates, is_abbreviation, is_alias, is_likely_entry, own_stitches
from convert.importers.typed.units import Kind, Unit, units
from convert.instructions.reader import Context
from convert.instructions.rows.passes import speaks_of_passes
from convert.limits import LIMITS
from convert.source import Passage, Source, Span
from convert.terms.statement import Statement, stated_system

_MOST_UNITS = 4 * LIMITS.rows
_START = Span(0, 0, 0, 1)


def read_typed(source: Source, options: ReadOptions) -> Read:
    """The document in a text as people type it: title, headings and rows are told by their form alone.

    Raises `LimitExceeded` and `UnreadableInput`.
    """
    text, pages, paged = without_pages(admit(source, pages=True))
    found = [unit for block in blocks(text) for unit in units(block)]
    if not found:
        return Read(source, None, (_empty(),))
    _check_limits(found)
    begins = letter_length(found)
    letter, told = set_aside(found[:begins])
    found = [field for unit in found[begins:] for field in fields_apart(unit)]
    statement = _statement(found)
    stated, where = (statement.system, statement.span) if statement else (None, _START)
    system, findings = settle_system(stated, where, [unit.passage for unit in found], options)
    context = Context(system=system, passes=speaks_of_passes(unit.passage.text for unit in found))
    sized = replace(context, sizes=tuple((size.id, size.name) for size in sizes_said(found)))
    legend = Legend(_remembered(_is_short_form, sized), _remembered(_may_be_short_form, sized))
    sections = gather(found, _remembered(_reads_as_steps, sized), _remembered(opens_work, sized), legend)
    gathered = draft(sections, context)
    if statement:
        gathered.spans["terms"] = statement.span
    findings = (*paged, *told, *map(_in_plain_words, findings), *gathered.findings, *_missing(gathered))
    document = with_said_in_rows(replace(_document(gathered, system, source), extra=(*letter, *pages)))
    return Read(source, document, sorted_findings(findings), gathered.clauses, gathered.verbatim_clauses)


def _reads_as_steps(passage: Passage, context: Context) -> bool:
    """Whether a paragraph is instructions, and not an abbreviation or a name with what it stands for."""
    told = is_abbreviation(passage, context.system) or equates(passage.text)
    return not told and reads_as_steps(passage, context)


def _is_short_form(passage: Passage, context: Context) -> bool:
    return is_abbreviation(passage, context.system) or is_alias(passage, context)


def _may_be_short_form(passage: Passage, context: Context) -> bool:
    return is_likely_entry(passage, context.system)


def _remembered(tells: Callable[[Passage, Context], bool], context: Context) -> Callable[[Passage], bool]:
    """What a test tells of a passage, found out once for each wording."""
    told: dict[str, bool] = {}

    def remembered(passage: Passage) -> bool:
        known = told.get(passage.text)
        if known is None:
            known = told[passage.text] = tells(passage, context)
        return known

    return remembered


def _check_limits(found: Sequence[Unit]) -> None:
    if len(found) > _MOST_UNITS:
        span = found[_MOST_UNITS].passage.whole
        raise LimitExceeded(f"the text has more than {_MOST_UNITS:,} paragraphs and lines", span, "Is it a pattern?")
    rows = [unit for unit in found if unit.kind is not Kind.TEXT]
    if len(rows) > LIMITS.rows:
        span = rows[LIMITS.rows].passage.whole
        raise LimitExceeded(f"the pattern has more than {LIMITS.rows:,} rows", span, "Split it into several patterns.")


def _statement(found: Sequence[Unit]) -> Statement | None:
    """What the text says about its terms: a paragraph that says nothing else goes before one that says more."""
    said = [stated for unit in found if unit.kind is Kind.TEXT and (stated := stated_system(unit.passage)) is not None]
    return next((statement for statement in said if statement.whole), said[0] if said else None)


def _document(found: Draft, system: TermSystem, source: Source) -> Document:
    title = found.title or _name(source)
    return Document(
        title=title,
        id=slug(title, "pattern"),
        written=system,
        summary=tuple(found.summary),
        designer=found.designer,
        copyright=found.copyright,
        date=found.date,
        version=found.version,
        skill=found.skill,
        sizes=found.sizes,
        gauge=found.gauge,
        materials=found.materials,
        beginning_chains=tuple(found.chains),
        specials=own_stitches(found.context.specials),
        notes=tuple(found.notes),
        parts=without_doubt(found.parts) if counts_besides((*found.summary, *found.notes)) else tuple(found.parts),
        finishing=tuple(found.finishing),
        care=tuple(found.care),
        sections=tuple(found.sections),
        spans=found.spans,
    )


def _name(source: Source) -> str:
    """The name of the file as a title, for a text without one."""
    stem = PurePath(source.name).stem.strip("<>").removesuffix(".pattern")
    return stem.replace("-", " ").replace("_", " ").strip().capitalize() or "Untitled"


def _missing(found: Draft) -> tuple[Finding, ...]:
    missing: list[Finding] = []
    if not found.title:
        missing.append(
            Finding(
                "title-missing",
                Severity.WARNING,
                "The text begins without a title; the name of the file stands in for it.",
                _START,
                hint="Put the name of the pattern on the first line, with an empty line after it.",
            )
        )
    if not any(part.rows for part in found.parts):
        missing.append(
            Finding(
                "no-rows",
                Severity.ERROR,
                "No instructions were found in this text.",
                _START,
                expected="rows or rounds",
                hint='Begin each row with its label, such as "Row 1: ..." or "Rnd 1: ...".',
            )
        )
    return tuple(missing)


def _in_plain_words(finding: Finding) -> Finding:
    """The hint of a finding about terms, for a text that has no keys to set."""
    hint = finding.hint.replace("`terms: us`", '"US terms" on a line of its own').replace(
        "`terms: uk`", '"UK terms" on a line of its own'
    )
    return replace(finding, hint=hint)


def _empty() -> Finding:
    return Finding("nothing-to-read", Severity.ERROR, "The file is empty: there is no pattern in it.", _START)
