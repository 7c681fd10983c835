"""What the list of abbreviations has to explain."""

from __future__ import annotations

from decimal import Decimal

import pytest
from msgspec.structs import replace

from convert.document.prose import Form, Term
from convert.document.records import Document, Label, Part, Row, RowKind, Side, TermSystem
from convert.document.sizing import Gauge
from convert.document.steps import Chain, Decrease, Place, Skip, What, Work
from convert.exporters.used import row_texts, used_terms
from convert.instructions.writing.wording import wording_for
from tests.exporters.samples import MERE

EMPTY = Document("Square", "square", TermSystem.US)


def terms_of(document: Document, system: TermSystem) -> tuple[str, ...]:
    wording = wording_for(document, system)
    return used_terms(document, wording, row_texts(document, wording))


def used(document: Document, system: TermSystem = TermSystem.US) -> set[str]:
    return set(terms_of(document, system))


def row(*steps: object, kind: RowKind = RowKind.ROW, side: Side | None = None) -> Document:
    line = Row(Label(kind, 1, side=side), tuple(steps))  # type: ignore[arg-type]
    return replace(EMPTY, parts=(Part("p", "P", (line,)),))


def test_an_empty_pattern_uses_nothing():
    assert set() == used(EMPTY)


@pytest.mark.parametrize("system", TermSystem)
def test_stitches_and_words_of_the_rows(system):
    document = row(Work("hdc", 1, Place()), Skip(Place(What.SPACE, chains=2)), kind=RowKind.ROUND, side=Side.WRONG)
    assert {"hdc", "stitch", "skip", "ch", "space", "round", "wrong-side"} == used(document, system)


def test_a_decrease_is_listed_by_its_legs():
    assert {"sc:3", "stitch"} == used(row(Decrease("sc", 3, (Place(number=3),))))


def test_what_is_not_printed_is_not_listed():
    assert "round" not in used(row(Chain(3)))
    assert "sc" not in used(row(Chain(3)))


def test_prose_counts_by_its_abbreviations_alone():
    assert {"sl-st"} == used(replace(EMPTY, finishing=(("Join with ", Term("sl-st"), "."),)))
    assert set() == used(replace(EMPTY, finishing=(("Join with a ", Term("sl-st", Form.NAME), "."),)))


def test_the_gauge_counts_stitches():
    """ "13 sts" stands in it, even if no row says "st"."""
    assert {"stitch"} == used(replace(EMPTY, gauge=Gauge(stitches=Decimal(13))))
    assert set() == used(replace(EMPTY, gauge=Gauge(rows=Decimal(7))))


def test_a_word_that_only_looks_like_one_is_not_listed():
    """ "RS" is an abbreviation, "rs" and "Reps" are not."""
    assert set() == used(replace(EMPTY, notes=(("The rs of Reps and stamps.",),)))
    assert {"right-side"} == used(replace(EMPTY, notes=(("Keep the RS outside.",),)))


def test_the_order_is_that_of_first_use():
    found = terms_of(MERE, TermSystem.US)
    assert "dc" == found[0]
    assert len(set(found)) == len(found)
