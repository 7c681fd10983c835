"""What a Markdown text without data at its head says in its own words: its terms, sizes and beginning chains."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from msgspec.structs import replace

from convert.document.located import Located
from convert.document.records import BeginningChain, TermSystem
from convert.document.sizing import Size
from convert.findings import Finding, Severity
from convert.importers.markdown.blocks import BlockKind
from convert.importers.markdown.sections import PART, Chapter, begins_row
from convert.importers.markdown.text import plain_words
from convert.importers.size_lists import cells_of, told_sizes
from convert.importers.typed.conventions import read_convention, sentences
from convert.importers.typed.sizes import read_sizes, sizes_named
from convert.source import Passage
from convert.terms.statement import stated_system
from convert.trade.headings import forms_of, section_of
from convert.trade.patterns import either

_OURS = frozenset({"format", "terms", "written", "sizes", "yarn", "hooks", "parts", "gauge", "special-stitches"})
"""Keys that tell that the data at the head are those of a pattern."""


def is_ours(data: Located) -> bool:
    """Whether the data at the head of a text are a pattern's, and not those of a page that it was published on."""
    return not data.mapping or bool(_OURS & set(data.mapping))


def of_a_page(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """What was found wrong in the data of a page: keys that mean nothing in a pattern are no mistake there."""
    return tuple(
        replace(finding, severity=Severity.NOTE) if finding.code == "unknown-key" else finding for finding in findings
    )


def with_terms_in_small(data: Located) -> Located:
    """The data with `terms: US` as the key's value is spelt, without capitals."""
    terms = data.get("terms")
    if terms is None or terms.words.casefold() not in {str(system) for system in TermSystem}:
        return data
    return replace(data, value={**data.mapping, "terms": replace(terms, value=terms.words.casefold())})


def with_said(data: Located, title: Passage | None, found: Sequence[Chapter]) -> Located:
    """The data with the terms and sizes that the text states, where they say nothing of them."""
    lines = [*([title] if title is not None else []), *_lines(found)]
    more: dict[str, Located] = {}
    if data.get("terms") is None:
        stated = [statement for line in lines if (statement := stated_system(line)) is not None]
        best = next((statement for statement in stated if statement.whole), stated[0] if stated else None)
        if best is not None:
            more["terms"] = Located(str(best.system), best.span)
    if data.get("sizes") is None:
        sizes = next((sizes for line in lines if (sizes := _sizes(line))), None) or _unheaded(lines, found)
        if sizes:
            more["sizes"] = Located(tuple(sizes), sizes[0].span)
    return replace(data, value={**data.mapping, **more}) if more else data


def said_conventions(found: Sequence[Chapter], system: TermSystem) -> tuple[BeginningChain, ...]:
    """What the text says once of beginning chains, each length once."""
    chains: dict[int, BeginningChain] = {}
    for line in _lines(found):
        for sentence in sentences(line):
            convention = read_convention(sentence, system)
            if convention is not None:
                chains.setdefault(convention.chain.chains, convention.chain)
    return tuple(chains.values())


def _lines(found: Sequence[Chapter]) -> Iterator[Passage]:
    """The lines of the texts around the rows; under a heading of sizes or terms the heading stands in front."""
    for chapter in found:
        labelled = section_of(chapter.heading.text) == "sizes"
        for block in chapter.blocks:
            for lines in block.paragraphs:
                if chapter.id == PART and (block.kind is BlockKind.ITEM or begins_row(lines[0])):
                    continue
                for line in lines:
                    words = plain_words(Passage.joined([line]), prose=True)
                    yield _as_sizes(words) if labelled else words


def _as_sizes(words: Passage) -> Passage:
    return Passage(f"{forms_of('sizes')[0]}: {words.text}") if not _label().match(words.text) else words


@cache
def _label() -> re.Pattern[str]:
    return re.compile(rf"[\s*•-]{{0,4}}{either(forms_of('sizes'))}(?:\s?[:–—-]\s?|\s)", re.IGNORECASE)


def _sizes(line: Passage) -> list[Located]:
    """The sizes in "Sizes: S (M, L)", which may stand beside other statements, parted by upright strokes."""
    head, *columns = cells_of(line.text)
    if section_of(head) == "sizes" and len(columns) > 1:
        return _located(sizes_named(columns, line.whole), line)
    for part in line.text.split("|"):
        label = _label().match(part.strip())
        sizes = read_sizes(Passage(part.strip()[label.end() :])) if label else ()
        if sizes:
            return _located(sizes, line)
    return []


def _unheaded(lines: Sequence[Passage], found: Sequence[Chapter]) -> list[Located]:
    """The sizes that the text names without saying that they are sizes, if a row has a number for each."""
    rows = (line[0] for chapter in found for block in chapter.blocks for lines in block.paragraphs for line in lines)
    names, said = told_sizes((line.text for line in lines), rows)
    line = next((line for line in lines if line.text == said), None)
    return _located(sizes_named(names, line.whole), line) if names and line is not None else []


def _located(sizes: Sequence[Size], line: Passage) -> list[Located]:
    return [
        Located({"id": Located(size.id, line.whole), "name": Located(size.name, line.whole)}, line.whole)
        for size in sizes
    ]
