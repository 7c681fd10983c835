"""Lists for people in a Markdown text, made from the data at its head: sizes, materials, gauge, abbreviations."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import quote

from convert.document.records import Picture
from convert.exporters.markdown.text import escaped, paragraph, table
from convert.exporters.page.edition import Edition
from convert.exporters.page.facts import gauge, materials, size_table, sizes_note
from convert.exporters.page.legend import abbreviations, beginning_chains, notice
from convert.exporters.page.plates import alternative
from convert.exporters.page.typeset import plain_text
from convert.exporters.used import row_texts, used_terms
from convert.trade.cautions import cautions


def lists(edition: Edition) -> Iterator[tuple[str, tuple[str, ...]]]:
    """A heading and the blocks under it, for each list that has anything in it."""
    for heading, found in (
        (edition.say("sizes"), _sizes(edition)),
        (edition.say("materials"), _materials(edition)),
        (edition.say("gauge"), tuple(paragraph(plain_text(line)) for line in gauge(edition))),
        (edition.say("abbreviations"), _abbreviations(edition)),
        (edition.say("cautions"), tuple(f"- {escaped(cautions().get(id, id))}" for id in edition.document.cautions)),
        (edition.say("pictures"), tuple(_picture(edition, picture) for picture in edition.document.pictures)),
    ):
        if found:
            yield heading, found


def _picture(edition: Edition, picture: Picture) -> str:
    """The picture itself, with what stands under it."""
    said = (plain_text(edition.flow(picture.caption)), picture.credit)
    under = [paragraph(" ".join(text.split())) for text in said if text.strip()]
    alt = " ".join(alternative(edition, picture).split())
    return "\\\n".join([f"![{escaped(alt)}]({quote(picture.file)})", *under])


def _sizes(edition: Edition) -> tuple[str, ...]:
    found = size_table(edition)
    note = sizes_note(edition)
    blocks = (table(found.heads, found.lines),) if found is not None and found.measured else ()
    return (*blocks, paragraph(note)) if note else blocks


def _materials(edition: Edition) -> tuple[str, ...]:
    lines = [
        f"- **{escaped(fact.label)}:** {escaped('; '.join(plain_text(line) for line in fact.lines))}"
        for fact in materials(edition)
    ]
    return ("\n".join(lines),) if lines else ()


def _abbreviations(edition: Edition) -> tuple[str, ...]:
    document, wording = edition.document, edition.wording
    printed = used_terms(document, wording, row_texts(document, wording))
    lines = [f"- **{escaped(entry.short)}:** {escaped(entry.meaning)}" for entry in abbreviations(edition, printed)]
    said = paragraph(plain_text(notice(edition, printed)))
    chains = [paragraph(plain_text(chain)) for chain in beginning_chains(edition)]
    return (said, *(("\n".join(lines),) if lines else ()), *chains)
