"""Writes a pattern as Markdown that a person reads with pleasure and that reads back into the same document.

The data stand at the head, as in the YAML form. Lists for people that only say the same in other words (sizes,
materials, gauge, abbreviations) are named under `generated`, so that no reader takes them for the author's own text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec.structs import replace

from convert.document.json_text import Plain
from convert.document.prose import Prose
from convert.document.records import Document, Part, Remark, Row, RowKind, Section, TermSystem
from convert.document.steps import ChangeColour, Verbatim
from convert.exporters.author_data import Data, author_data
from convert.exporters.markdown.lists import lists
from convert.exporters.markdown.text import escaped, heading, paragraph
from convert.exporters.page.edition import Edition, edition_of
from convert.exporters.written import Written
from convert.exporters.yaml.text import yaml_text
from convert.grader.results import Grading
from convert.grader.values import values_of
from convert.instructions.writing.labels import write_label
from convert.instructions.writing.rows import opening_colour, write_row
from convert.instructions.writing.wording import Wording, wording_for
from convert.instructions.writing.writer import write_definition
from convert.terms.naming import write_prose
from convert.trade.headings import section_of

_IN_TEXT = ("title", "summary", "notes", "finishing", "care")
"""What stands in the text and not in the data at its head."""
_SIMPLE = re.compile(r"[A-Za-z]{1,20}\Z")
"""A size's name that can stand behind a label without being taken for anything else."""
_PLAIN_NAME = frozenset("():;=*\\`_<&[]")


def write_markdown(document: Document, system: TermSystem | None = None, *, grading: Grading | None = None) -> Written:
    """The document in Markdown, in the given terms or those it was written in. Reading it gives the same document.

    With the `grading`, computed numbers show their values and the sizes what they measure.
    """
    edition = _edition(document, system, grading)
    wording = wording_for(document, edition.system, values=edition.values, formulas=True)
    inline = _sections_in_text(document)
    in_text = _specials_in_text(document)
    head = author_data(document, edition.system)
    listed = list(lists(edition))
    names = [name for name, _ in listed]
    if document.specials and not in_text:
        names.append(edition.say("specials"))
    data = _head(head, document, names, specials=not in_text, inline=len(inline))
    blocks = [
        f"---\n{yaml_text(data)}---",
        heading(1, document.title),
        *_paragraphs(document.summary, wording),
        *(block for name, found in listed for block in (heading(2, name), *found)),
        *_specials(edition, wording),
        *_chapter(edition.say("notes"), document.notes, wording),
        heading(2, edition.say("instructions")),
        *(block for part in document.parts for block in _part(part, edition, wording)),
        *_chapter(edition.say("finishing"), document.finishing, wording),
        *_chapter(edition.say("care"), document.care, wording),
        *(block for section in inline for block in _chapter(section.heading, section.paragraphs, wording, always=True)),
    ]
    return Written("\n\n".join(blocks) + "\n")


def _edition(document: Document, system: TermSystem | None, grading: Grading | None) -> Edition:
    values = values_of(document, grading) if grading is not None else {}
    return edition_of(document, grading, None, system=system, size=None, values=values)


def _head(head: Data, document: Document, generated: list[str], *, specials: bool, inline: int) -> Data:
    """The data at the head: what the text does not say itself."""
    data: dict[str, Plain] = {key: value for key, value in head.items() if key not in _IN_TEXT}
    if not specials:
        data.pop("special-stitches", None)
    sections = data.pop("sections", None)
    if isinstance(sections, list) and len(sections) > inline:
        data["sections"] = sections[: len(sections) - inline]
    if document.parts:
        data["parts"] = [_part_data(entry, part) for entry, part in zip(_entries(head), document.parts, strict=True)]
    own = {key: data.pop(key) for key in list(data) if key.startswith("x-")}
    return {**data, **({"generated": list(generated)} if generated else {}), **own}


def _entries(head: Data) -> list[Data]:
    parts = head.get("parts")
    return [entry for entry in parts if isinstance(entry, dict)] if isinstance(parts, list) else []


def _part_data(entry: Data, part: Part) -> Data:
    """A part without its rows, except for the `x-` keys of rows, which have no other place."""
    data = {key: value for key, value in entry.items() if key != "rows"}
    extras: dict[str, Plain] = {}
    shapes: dict[str, Plain] = {}
    rows = entry["rows"]
    for number, (item, row) in enumerate(zip(part.items, rows if isinstance(rows, list) else [], strict=True), start=1):
        if isinstance(item, Row) and (item.shaping or item.block):
            shapes[str(number)] = row
        elif isinstance(item, Row) and item.extra and isinstance(row, dict):
            extras[str(number)] = {key: value for key, value in row.items() if key.startswith("x-")}
    return {**data, **({"shapes": shapes} if shapes else {}), **({"extras": extras} if extras else {})}


def _sections_in_text(document: Document) -> tuple[Section, ...]:
    """The last sections, as many as can stand under headings of their own. Those in the data come first when read."""
    count = 0
    while count < len(document.sections) and _stands_in_text(document.sections[-1 - count], document):
        count += 1
    return document.sections[len(document.sections) - count :]


def _stands_in_text(section: Section, document: Document) -> bool:
    """Whether a reader takes the heading for that of a section of the author's own, whatever stands under it."""
    names = {part.name.casefold() for part in document.parts}
    plain = section.heading == section.heading.strip() and bool(section.heading)
    rows = any(
        isinstance(p[0], str) and p[0][:1].isalpha() and any(c.isdigit() for c in p[0][:30])
        for p in section.paragraphs
        if p
    )
    return plain and section_of(section.heading) is None and section.heading.casefold() not in names and not rows


def _paragraphs(texts: tuple[Prose, ...], wording: Wording) -> Iterator[str]:
    for text in texts:
        yield paragraph(write_prose(text, wording.system, wording.specials))


def _chapter(name: str, texts: tuple[Prose, ...], wording: Wording, *, always: bool = False) -> Iterator[str]:
    if texts or always:
        yield heading(2, name)
        yield from _paragraphs(texts, wording)


def _specials_in_text(document: Document) -> bool:
    """Whether every special stitch can be read back from its list item; if not, they stand in the data."""
    names = [special.id for special in document.specials]
    data = author_data(replace(document, parts=(), extra=()), document.written).get("special-stitches")
    entries = [entry for entry in data if isinstance(entry, dict)] if isinstance(data, list) else []
    plain = all(not (_PLAIN_NAME & set(f"{s.name}{s.abbreviation}{s.plural}")) and s.name for s in document.specials)
    told = all(s.steps and not all(isinstance(step, Verbatim) for step in s.steps) for s in document.specials)
    short = all(s.abbreviation or not s.plural for s in document.specials)
    return (
        plain
        and told
        and short
        and len(set(names)) == len(names)
        and not any("id" in e or _has_extra(e) for e in entries)
    )


def _has_extra(entry: Data) -> bool:
    return any(key.startswith("x-") for key in entry)


def _specials(edition: Edition, wording: Wording) -> Iterator[str]:
    specials = edition.document.specials
    if specials:
        yield heading(2, edition.say("specials"))
    for special in specials:
        plural = f"; plural {special.plural}" if special.plural else ""
        short = f" ({special.abbreviation}{plural})" if special.abbreviation else ""
        made = escaped(write_definition(special.steps, wording))
        said = escaped(write_prose(special.words, wording.system, wording.specials))
        item = f"- **{escaped(special.name + short)}:** {made}".rstrip()
        yield f"{item}\n\n  {paragraph(said) if not made else said}" if said else item


def _part(part: Part, edition: Edition, wording: Wording) -> Iterator[str]:
    aside = f" (make {part.make})" if isinstance(part.make, int) and part.make != 1 else ""
    yield heading(3, part.name + aside)
    rows: list[str] = []
    opening = opening_colour(part.rows)
    for item in part.items:
        if isinstance(item, Row) and (item.shaping or item.block):
            continue  # it stands in the data at the head
        if isinstance(item, Row) and not item.before and _sizes_fit_label(item, wording):
            rows.append(f"- {_line(item, wording, opening)}")
            continue
        if rows:
            yield "\n".join(rows)
        rows = []
        yield _remark(item, wording) if isinstance(item, Remark) else _row_after_remark(item, wording, opening)
    if rows:
        yield "\n".join(rows)


def _line(row: Row, wording: Wording, opening: ChangeColour | None) -> str:
    """A row with its label in bold."""
    text = write_row(replace(row, before=()), wording, opening)
    label = write_label(row.label, wording)
    head, colon, rest = text.partition(": ")
    if not (label and colon and head.startswith(label)):
        return paragraph(text)
    return f"**{escaped(head)}:** {escaped(rest)}"


def _sizes_fit_label(row: Row, wording: Wording) -> bool:
    """Whether the sizes can stand behind the label, where a reader finds them."""
    names = dict(zip(wording.size_ids, wording.size_names, strict=True))
    return not row.sizes or (
        row.label.kind is not RowKind.UNLABELLED and all(_SIMPLE.match(names[id]) for id in row.sizes)
    )


def _row_after_remark(row: Row, wording: Wording, opening: ChangeColour | None) -> str:
    """A row with the sizes and the remark that stand in front of it in a paragraph of their own."""
    before = write_prose(row.before, wording.system, wording.specials)
    parts = [] if _sizes_fit_label(row, wording) else [_for_sizes(row.sizes, wording)]
    parts += [f"*{escaped(before)}*"] if before else []
    line = _line(replace(row, sizes=()) if not _sizes_fit_label(row, wording) else row, wording, opening)
    return f"- {' '.join(parts)}\n\n  {line}"


def _for_sizes(ids: tuple[str, ...], wording: Wording) -> str:
    """ "*Sizes M, L:*"; a size whose name holds a comma goes by its id."""
    names = dict(zip(wording.size_ids, wording.size_names, strict=True))
    called = [id if "," in names[id] else names[id] for id in ids]
    return f"*Sizes {escaped(', '.join(called))}:*"


def _remark(remark: Remark, wording: Wording) -> str:
    words = write_prose(remark.words, wording.system, wording.specials)
    if not remark.sizes:
        return f"> {paragraph(words) or '&nbsp;'}"
    return f"> {_for_sizes(remark.sizes, wording)} {escaped(words)}"
