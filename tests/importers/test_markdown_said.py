"""Markdown without a pattern's data at its head: what its own words say, and which asterisks are markup."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.document.records import BeginningChain, TermSystem
from convert.document.steps import Counts
from convert.findings import Severity
from convert.importers.markdown.text import plain_words
from convert.pipeline import check_source
from convert.source import Passage, Source

PAGE = """---
title: "Fernlea Cap"
tags: [crochet]
---

Written in **UK terms** | Sizes S (M, L)

## Notes

- Ch 2 at the beginning of a round does not count as a stitch.

## Crown

**Rnd 1:** Make a magic ring, ch 2, 12 tr in ring, join. *(12 tr)*

**Rnds 2-4 (5, 6):** Ch 2, \\*tr in next st; rep from \\* around, join. *(12 (12, 12) tr)*
"""


def test_terms_sizes_and_chains_are_taken_from_the_words() -> None:
    """UK terms, three sizes, and two chains that do not count."""
    document = check_source(Source("page.md", PAGE), "markdown", ReadOptions()).document
    assert document is not None
    assert TermSystem.UK is document.written
    assert ["S", "M", "L"] == [size.name for size in document.sizes]
    assert (BeginningChain(2, Counts()),) == document.beginning_chains


def test_every_row_of_a_page_is_proved_and_its_foreign_keys_are_no_mistake() -> None:
    """Nothing worse than a note: the key of the page."""
    done = check_source(Source("page.md", PAGE), "markdown", ReadOptions())
    assert [("unknown-key", Severity.NOTE)] == [(finding.code, finding.severity) for finding in done.findings]
    assert done.proof is not None
    assert all(size.proved for row in done.proof.rows for size in row.sizes)


def test_a_key_that_is_misspelt_in_a_pattern_is_an_error() -> None:
    """Beside keys of a pattern a foreign one is a slip."""
    done = check_source(Source("page.md", PAGE.replace("tags:", "terms: uk\ntagz:")), "markdown", ReadOptions())
    assert [("unknown-key", Severity.ERROR)] == [(finding.code, finding.severity) for finding in done.findings]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (r"\*Sc in next st; rep from \* around. *(12 sc)*", "*Sc in next st; rep from * around. (12 sc)"),
        ("2 sc in each st. *(12 (14, 16) sc)*", "2 sc in each st. (12 (14, 16) sc)"),
        ("2 sc in each st. *[12 sc]*.", "2 sc in each st. [12 sc]."),
        ("2 sc in each st; join. *(14 sc)* Cut the yarn.", "2 sc in each st; join. (14 sc) Cut the yarn."),
        ("Ch 1. *(2 sc in next st)* Repeat 6 times.", "Ch 1. *(2 sc in next st)* Repeat 6 times."),
        ("*(Sc, inc)* 6 times.", "*(Sc, inc)* 6 times."),
        ("*(Sc, inc), sc* 6 times.", "*(Sc, inc), sc* 6 times."),
    ],
)
def test_italics_around_a_count_are_markup_and_the_marks_of_repeats_are_not(typed: str, words: str) -> None:
    """A bracket alone at the end is a count set apart; beside escaped asterisks the others are markup."""
    assert words == plain_words(Passage(typed)).text


def test_terms_in_capitals_are_the_terms() -> None:
    """At the head of a text, `terms: UK` says what `terms: uk` does."""
    typed = "---\nterms: UK\n---\n# Fen Coaster\n## Coaster\n- Rnd 1: 8 dc in magic ring. (8)\n"
    done = check_source(Source("page.md", typed), "markdown", ReadOptions())
    assert done.document is not None
    assert TermSystem.UK is done.document.written
    assert () == done.findings


@pytest.mark.parametrize(
    ("typed", "title", "parts"),
    [
        ("## Fen Coaster\n\n**Rnd 1:** 8 sc in magic ring. (8)\n", "Fen Coaster", ["Fen Coaster"]),
        ("## Fen Coaster\n\n## Middle\n\n- Rnd 1: 8 sc in magic ring. (8)\n", "Fen Coaster", ["Middle"]),
        ("## Left\n\n- Rnd 1: 8 sc in magic ring. (8)\n\n## Right\n\n- Rnd 1: 8 sc in magic ring. (8)\n", None, []),
    ],
)
def test_a_heading_of_another_level_that_begins_a_text_is_its_title(
    typed: str, title: str | None, parts: list[str]
) -> None:
    """Where rows stand under every heading, none is a title, and one is missed."""
    done = check_source(Source("page.md", typed), "markdown", ReadOptions(terms=TermSystem.US))
    lacking = [finding.code for finding in done.findings if finding.code == "missing-key"]
    assert lacking == ([] if title else ["missing-key"])
    if title:
        assert done.document is not None
        assert (title, parts) == (done.document.title, [part.name for part in done.document.parts])


TABLE = """# Fen Ball

US terms

## Ball

| Rnd | What to do | Sts |
|:---:|---|---|
| 1 | 5 sc in magic ring | 5 |
| **2** | inc x 5 | [10] |
| 3-4 | *sc in next st, ch 1; rep from * around | 10 sc, 10 ch-1 sps |
"""
LIST = """# Fen Ball

UK terms

## Ball

Begin with green.

1. Magic ring: 5 dc. **[5 dc]**
2. 2 dc in each st. **[10 dc]**
3. Close it.
"""


@pytest.mark.parametrize(("typed", "numbers"), [(TABLE, [(1, None), (2, None), (3, 4)]), (LIST, [1, 2, 3])])
def test_rows_in_a_table_and_in_an_ordered_list(typed: str, numbers: list[object]) -> None:
    """Numbers under a heading for rows and numbers of items with counts are labels of rounds; all are proved."""
    done = check_source(Source("page.md", typed), "markdown", ReadOptions())
    assert done.document is not None
    rows = done.document.parts[0].rows
    assert all(row.label.kind.is_round for row in rows)
    pairs = [number if isinstance(number, tuple) else (number, None) for number in numbers]
    assert pairs == [(row.label.first, row.label.last) for row in rows]
    assert [1, 1] == [len(row.stated) for row in rows[:2]]
    assert "count-mismatch" not in {finding.code for finding in done.findings}
    wrong = check_source(Source("page.md", typed.replace("[10", "[11")), "markdown", ReadOptions())
    assert ["count-mismatch"] == [finding.code for finding in wrong.findings if finding.severity is Severity.ERROR]


def test_clauses_in_a_table_know_their_place() -> None:
    """A wrong count is shown in its own cell."""
    wrong = check_source(Source("page.md", TABLE.replace("| 5 |", "| 6 |")), "markdown", ReadOptions())
    spans = [finding.span for finding in wrong.findings if finding.code == "count-mismatch"]
    assert [8] == [span.line for span in spans if span is not None]


@pytest.mark.parametrize(
    "body",
    ["1. Sew on the ears.\n2. Stuff it (2 handfuls).\n3. Close it.\n", "| Rnd | Yarn |\n|---|---|\n| 1 | red |\n"],
)
def test_other_lists_and_tables_are_no_rows(body: str) -> None:
    """Steps without counts, and a table that tells something else."""
    done = check_source(Source("page.md", f"{LIST}\n## Ears\n\n{body}"), "markdown", ReadOptions())
    assert done.document is not None
    assert ["Ball"] == [part.name for part in done.document.parts]
    assert ["Ears"] == [section.heading for section in done.document.sections]


SIZED = """# Fernlea Cuff

Written in US terms. Sizes: S (M, L)

## Cuff

Ch 12 (14, 16), join.

**Rnd 1:** Ch 1, sc in each ch around, join. 12 (14, 16) sc

*L only:*

**Rnd 2:** Ch 1, 2 sc in first sc, sc in each sc around, join. 17 sc

## Edge

**Rnd 1:** Ch 1, sc in each sc around, join.
"""


def test_a_line_that_names_sizes_holds_for_the_rows_below_it() -> None:
    """Round 2 is of size L alone; the next part is of all sizes again, and nothing is wrong."""
    checked = check_source(Source("page.md", SIZED), "markdown", ReadOptions())
    assert checked.document is not None
    assert [("Cuff", [(), (), ("l",)]), ("Edge", [()])] == [
        (part.name, [row.sizes for row in part.rows]) for part in checked.document.parts
    ]
    assert [] == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]
