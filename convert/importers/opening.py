"""Opens an author's data: settles the term system, reads the author's own stitches, and makes ready for the rows."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.located import Located
from convert.document.read import ReadOptions
from convert.document.records import Special, TermSystem
from convert.document.sizing import Size
from convert.document.slugs import free_slug
from convert.importers.author import Author
from convert.importers.blocks import extras, sizes_of
from convert.importers.measures import words
from convert.importers.systems import settle_system
from convert.instructions.reader import Context, read_steps
from convert.instructions.rows.passes import speaks_of_passes
from convert.source import NOWHERE, Passage, Span


def open_author(
    data: Located, rows: Sequence[Passage], options: ReadOptions, specials: Sequence[Located] = ()
) -> tuple[Author, tuple[Size, ...]]:
    """The reading of a text with these data and rows, and its sizes; `specials` are definitions outside the data."""
    defined = (*_items(data, "special-stitches"), *specials)
    makes = [made.as_passage for item in defined if (made := item.get("make") or item.get("definition")) is not None]
    stated = data.get("terms")
    system, findings = settle_system(
        TermSystem(stated.words) if stated is not None else None, _span(stated), [*makes, *rows], options
    )
    author = Author(Context(system=system), list(findings))
    sizes = sizes_of(data, author)
    author.context = Context(
        system=system,
        specials=_names(defined),
        sizes=tuple((size.id, size.name) for size in sizes),
        colours=_colours(data),
        names=_numbers(data, sizes),
        passes=speaks_of_passes(passage.text for passage in (*makes, *rows)),
    )
    # The definitions may use one another, so their names have to be known before any of them is read.
    author.context = replace(
        author.context,
        specials=tuple(_defined(s, item, author) for s, item in zip(author.specials, defined, strict=True)),
    )
    return author, sizes


def _span(data: Located | None) -> Span:
    return data.span if data is not None else NOWHERE


def _items(data: Located, key: str) -> tuple[Located, ...]:
    found = data.get(key)
    return found.items if found is not None else ()


def _names(defined: Sequence[Located]) -> tuple[Special, ...]:
    taken = {words(item.get("id")) for item in defined if item.get("id") is not None}
    return tuple(
        Special(
            id=words(item.get("id")) or free_slug(words(item.get("name")), "stitch", taken),
            name=words(item.get("name")),
            abbreviation=words(item.get("abbreviation")),
            plural=words(item.get("plural")),
            extra=extras(item),
            span=item.span,
        )
        for item in defined
    )


def _defined(special: Special, data: Located, author: Author) -> Special:
    make, said = data.get("make"), data.get("words")
    definition = data.get("definition")
    if definition is not None:
        understood = read_steps(definition.as_passage, author.context)
        if understood.verbatim_clauses < understood.clauses or said is not None:
            make = definition
        else:
            said = definition
    return replace(
        special,
        steps=author.steps(make.as_passage.cut(0)) if make is not None and make.words.strip() else (),
        words=author.prose(said.words) if said is not None else (),
    )


def _colours(data: Located) -> tuple[str, ...]:
    names = (words(item.get(key)) for item in _items(data, "yarn") for key in ("key", "colour", "name"))
    return tuple(dict.fromkeys(name for name in names if name))


def _numbers(data: Located, sizes: tuple[Size, ...]) -> tuple[str, ...]:
    """The names that formulas may use."""
    fitted = [words(item.get("number")) for key in ("fits", "demands") for item in _items(data, key)]
    return tuple(dict.fromkeys([*fitted, *(number.name for size in sizes for number in size.numbers)]))
