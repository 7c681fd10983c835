"""Puts the whole page together."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import Document, Section, TermSystem
from convert.exporters.page.both_units import in_both_units
from convert.exporters.page.edition import USUAL, Edition, Manner, edition_of
from convert.exporters.page.explained import beside_entries
from convert.exporters.page.facts import gauge, materials, size_facts, size_table, sizes_note
from convert.exporters.page.handed import left_handed
from convert.exporters.page.legend import abbreviations, beginning_chains, definitions, language, notice
from convert.exporters.page.phrases import calm, capitalised, date_text
from convert.exporters.page.plates import cover, further, logo
from convert.exporters.page.records import Chapter, Page
from convert.exporters.page.rows import parts
from convert.exporters.page.typeset import text_flow
from convert.exporters.used import row_texts, used_terms
from convert.fabric.results import Proof
from convert.findings import Finding, Severity
from convert.grader.results import Grading
from convert.grader.values import values_of
from convert.source import NOWHERE
from convert.trade.cautions import cautions
from convert.trade.headings import section_of
from convert.trade.skills import skills


def page_edition(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    system: TermSystem | None,
    size: str | None,
    manner: Manner = USUAL,
) -> Edition:
    """The edition of a document with the values of its formulas worked out."""
    values = values_of(document, grading) if grading is not None else {}
    return edition_of(document, grading, proof, system=system, size=size, manner=manner, values=values)


def page_editions(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    system: TermSystem | None,
    size: str | None,
    manner: Manner = USUAL,
    *,
    both: bool = False,
) -> tuple[Edition, ...]:
    """The edition asked for and, for `both`, the one in the other terms behind it, each with anchors of its own."""
    first = page_edition(document, grading, proof, system, size, manner)
    if not both:
        return (first,)
    values = first.values
    return tuple(
        edition_of(
            document, grading, proof, system=one, size=size, manner=replace(manner, mark=f"{one}-"), values=values
        )
        for one in (first.system, first.other)
    )


def page_of(edition: Edition) -> Page:
    """Everything that the edition shows, in order."""
    document = edition.document
    texts = row_texts(document, edition.wording)
    printed = used_terms(document, edition.wording, texts)
    sizes, note = size_table(edition), sizes_note(edition)
    sizes = sizes if sizes is not None and (sizes.measured or note) else None
    return Page(
        lang=language(edition.system),
        mark=edition.manner.mark,
        terms=edition.say("terms"),
        title=document.title,
        designer=document.designer,
        brand=document.brand.name,
        logo=logo(edition),
        cover=cover(edition),
        summary=edition.flows(document.summary),
        byline=_byline(edition),
        notice=notice(edition, printed),
        sizes=sizes,
        size_facts=size_facts(sizes) if edition.manner.large and sizes else (),
        size_names=tuple(size.name or size.id for size in document.sizes) if edition.listed else (),
        sizes_note=note,
        measured=_measured(edition),
        materials=materials(edition),
        gauge=gauge(edition),
        abbreviations=() if edition.manner.full_words else abbreviations(edition, printed),
        definitions=definitions(edition),
        notes=_notes(edition),
        cautions=_cautions(edition),
        parts=parts(edition, texts),
        after=_after(edition),
        closing=_closing(edition),
        created=document.date,
        kept=" ".join(filter(None, ("tallyhook", document.id, document.version))),
    )


def unknown_cautions(document: Document) -> tuple[Finding, ...]:
    """A finding for every caution that has no text of ours: the page shows its name alone."""
    return tuple(
        Finding(
            "unknown-caution",
            Severity.WARNING,
            f"There is no caution {id!r}; the page shows its name alone.",
            span=document.spans.get("cautions", NOWHERE),
            hint=f"Known cautions: {', '.join(cautions())}.",
        )
        for id in document.cautions
        if id not in cautions()
    )


def _byline(edition: Edition) -> tuple[str, ...]:
    skill = edition.document.skill
    shown = [edition.say(f"skill-{skill}") if skill in skills() else skill]
    sizes = edition.document.sizes
    if edition.size is not None:
        shown.append(edition.say("one-size-of", name=sizes[edition.size].name or sizes[edition.size].id))
    elif len(sizes) > 1:
        names = ", ".join(size.name or size.id for size in sizes)
        shown.append(edition.say("all-sizes", count=str(len(sizes)), names=names))
    return tuple(filter(None, shown))


def _notes(edition: Edition) -> Chapter | None:
    handed = text_flow(left_handed(edition))
    paragraphs = edition.flows(edition.document.notes) + beginning_chains(edition) + ((handed,) if handed else ())
    return Chapter("notes", edition.say("notes"), paragraphs=paragraphs) if paragraphs else None


def _cautions(edition: Edition) -> Chapter | None:
    texts = tuple(text_flow(cautions().get(id, id)) for id in edition.document.cautions)
    return Chapter("cautions", edition.say("cautions"), paragraphs=texts) if texts else None


def _after(edition: Edition) -> tuple[Chapter, ...]:
    document = edition.document
    chapters = list(filter(None, (further(edition),)))
    chapters += [
        Chapter(anchor, edition.say(anchor), paragraphs=edition.flows(paragraphs))
        for anchor, paragraphs in (
            ("finishing", document.finishing),
            ("care", document.care),
            ("errata", document.errata),
        )
        if paragraphs
    ]
    chapters += [
        Chapter(f"section-{number}", calm(section.heading), paragraphs=edition.flows(paragraphs))
        for number, section in enumerate(document.sections, start=1)
        if not _measures(section) and (paragraphs := _left(edition, section))
    ]
    if document.credits:
        chapters.append(Chapter("credits", edition.say("credits"), paragraphs=edition.flows(document.credits)))
    return tuple(chapters)


def _left(edition: Edition, section: Section) -> tuple[Prose, ...]:
    """What the list of abbreviations has not taken in; a page in full words has no such list."""
    return section.paragraphs if edition.manner.full_words else beside_entries(section)


def _measures(section: Section) -> bool:
    return section_of(section.heading) == "measurements"


def _measured(edition: Edition) -> tuple[Chapter, ...]:
    """What the author says in words of the finished piece, which readers look for beside its sizes."""
    system = edition.system
    return tuple(
        Chapter(
            f"section-{number}",
            calm(section.heading),
            paragraphs=edition.flows([capitalised(in_both_units(told, system)) for told in section.paragraphs]),
        )
        for number, section in enumerate(edition.document.sections, start=1)
        if _measures(section)
    )


def _closing(edition: Edition) -> tuple[str, ...]:
    document = edition.document
    version = edition.say("version", version=document.version) if document.version else ""
    return tuple(filter(None, (document.copyright, version, date_text(document.date, edition.system))))
