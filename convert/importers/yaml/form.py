"""Reads a pattern that its author wrote in YAML: sizes and materials are data, rows are lines of pattern language."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from convert.document.located import Located
from convert.document.prose import Prose
from convert.document.read import Read, ReadOptions
from convert.document.records import Document, Label, Part, Remark, Row, RowKind, Worked
from convert.document.slugs import free_slug
from convert.findings import Finding, Severity
from convert.importers.author import Author
from convert.importers.blocks import document_fields, extras
from convert.importers.entrance import admit
from convert.importers.graded import block, shaping
from convert.importers.identities import find_same_names
from convert.importers.measures import number, words
from convert.importers.opening import open_author
from convert.importers.short_labels import in_rounds, with_rounds
from convert.importers.validation import sound_part, validate
from convert.importers.yaml.data import load_yaml
from convert.source import Passage, Source, Span


def read_yaml(source: Source, options: ReadOptions) -> Read:
    """The document in an author's YAML. Data of the wrong shape are reported and left out; the rest is read.

    Raises `LimitExceeded` and `UnreadableInput`.
    """
    data, findings = load_yaml(admit(source))
    if data is None:
        return Read(source, None, findings or (_empty(),))
    if not data.mapping:
        return Read(source, None, (*findings, *validate(data, "authored")))
    lacking = _lacking(data)
    data, wrong = sound_part(data, "authored")
    findings += lacking + wrong
    parts = data.get("parts") or Located(())
    author, sizes = open_author(data, [p for part in parts.items for p in row_passages(part)], options)
    fields = document_fields(data, author, source.name)
    read_parts = _parts(parts.items, author)
    fields["specials"] = author.specials  # rows may explain further ones
    document = Document(**fields, sizes=sizes, parts=read_parts)
    findings += tuple(author.findings) + find_same_names(document)
    return Read(source, document, findings, author.clauses, author.verbatim_clauses)


def _empty() -> Finding:
    message = "The file is empty: there is no pattern in it."
    return Finding("missing-key", Severity.ERROR, message, Span(0, 0, 0, 1), expected="title")


def _lacking(data: Located) -> tuple[Finding, ...]:
    """What a YAML text needs, and a Markdown text says elsewhere."""
    place = next(iter(data.keys.values()), data.span)
    return tuple(
        Finding("missing-key", Severity.ERROR, f'A pattern needs "{key}".', place, expected=key, hint=hint)
        for key, hint in (
            ("title", "Say what the pattern is called: `title: …`."),
            ("parts", "Rows stand in parts: `parts:`."),
        )
        if data.mapping and data.get(key) is None
    )


def row_passages(part: Located) -> Iterator[Passage]:
    """The lines of instructions of a part."""
    for item in _items(part):
        row = item.get("row") if item.mapping else item
        if row is not None:
            yield row.as_passage.cut(0)
        for key, lines in (("shape", ("shaped", "even")), ("block", ("begin", "close"))):
            shape = item.get(key) if item.mapping else None
            for line in (shape.get(line) for line in lines if shape is not None):
                if line is not None:
                    yield line.as_passage.cut(0)


def _items(part: Located) -> Iterator[Located]:
    """The entries of `rows`, or its lines where it is one text."""
    rows = part.get("rows")
    if rows is None:
        return
    if isinstance(rows.value, tuple):
        yield from rows.items
        return
    start = 0
    for line in rows.words.split("\n"):
        passage = rows.as_passage.cut(start, start + len(line))
        start += len(line) + 1
        if passage.text:
            yield Located(passage.text, passage.whole, passage=passage)


def _parts(parts: tuple[Located, ...], author: Author) -> tuple[Part, ...]:
    taken = {words(part.get("id")) for part in parts if part.get("id") is not None}
    found: list[Part] = []
    for data in parts:
        part = part_without_rows(data, taken)
        items = [_item(item, author) for item in _items(data)]
        found.append(replace(part, items=with_rounds(items, part.worked, before=any(map(in_rounds, found)))))
    return tuple(found)


def part_without_rows(part: Located, taken: set[str]) -> Part:
    """What the data say of a part beside its rows; `taken` are the ids that other parts have."""
    name, worked = words(part.get("name")), part.get("worked")
    return Part(
        id=words(part.get("id")) or free_slug(name, "part", taken),
        name=name,
        items=(),
        worked=Worked(worked.words) if worked is not None else Worked.UNSAID,
        make=number(part.get("make")),
        extra=extras(part),
        span=part.span,
    )


def _item(item: Located, author: Author) -> Row | Remark:
    if not item.mapping:
        return author.row(item.as_passage.cut(0))
    row, remark = item.get("row"), item.get("remark")
    sizes = _sizes(item.get("sizes"), author)
    if item.get("shape") is not None or item.get("block") is not None:
        return shaped_row(item, author)
    if row is None:
        said = remark.words if remark is not None else ""
        return Remark(author.prose(said), sizes, item.span)
    read = author.row(row.as_passage.cut(0), sizes)
    return replace(read, before=_before(item, author) or read.before, extra=extras(item))


def shaped_row(item: Located, author: Author) -> Row:
    """A schedule or a block of shaping, which stands among the rows."""
    shape, usual = item.get("shape"), item.get("block")
    if shape is None and usual is None:
        author.error("missing-key", 'Shaping needs "shape" or "block".', item.span, "Say which rows it makes.")
    return Row(
        Label(RowKind.UNLABELLED),
        (),
        sizes=_sizes(item.get("sizes"), author),
        before=_before(item, author),
        shaping=shaping(shape, author) if shape is not None else None,
        block=block(usual, author) if usual is not None and shape is None else None,
        extra=extras(item),
        span=item.span,
    )


def _before(item: Located, author: Author) -> Prose:
    before = item.get("before")
    return author.prose(before.words) if before is not None else ()


def _sizes(data: Located | None, author: Author) -> tuple[str, ...]:
    """Ids of sizes that are called by id or name, capitals or not."""
    found = []
    for item in data.items if data is not None else ():
        wanted = words(item).casefold()
        id = next((id for id, name in author.context.sizes if wanted in (id.casefold(), name.casefold())), None)
        if id is None:
            known = ", ".join(id for id, _ in author.context.sizes) or "none"
            author.error(
                "unknown-size", f'There is no size "{words(item)}".', item.span, f"Sizes: {known}.", words(item)
            )
        else:
            found.append(id)
    return tuple(found)
