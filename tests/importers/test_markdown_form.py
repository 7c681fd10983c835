"""Markdown as people write it."""

from __future__ import annotations

import pytest

from convert.document.prose import Term
from convert.document.read import Read, ReadOptions
from convert.document.records import Document, Row, TermSystem, Worked
from convert.document.steps import Chain, Repeat, Verbatim, Work
from convert.errors import LimitExceeded, UnreadableInput
from convert.exporters.markdown.form import write_markdown
from convert.importers.markdown.form import read_markdown
from convert.source import Source

HEAD = "---\nterms: us\n---\n"


def read(text: str, terms: TermSystem | None = None) -> Read:
    return read_markdown(Source("scarf.md", text), ReadOptions(terms))


def document(text: str) -> Document:
    found = read(text)
    assert () == found.findings
    assert found.document is not None
    return found.document


SCARF = """\
---
terms: uk
sizes:
  - {id: S, name: Small, target: {width: 15 cm}}
yarn: [fine wool]
---

# Tideline Scarf

A scarf in *soft* waves.

## Notes

- Each row begins with a turning chain.
- Work **loosely**.

## Special stitches

- **Shell (sh):** 5 tr in next st.
- Fan: open it like a hand, and hope

## Scarf

Ch 22.

**Row 1:** Dc in 2nd ch from hook,
dc in each ch across, turn. (21 dc)

Row 2: Ch 1, *dc in next st, miss 2 sts; rep from * across. (7 dc)
Row 3: Ch 1, dc in each st across. (7 dc)

Now breathe out.

> Do the next row twice.

1. Row 4: Ch 1, \\*dc in next st, ch 1, miss next st; rep from \\* across.

```
Row 5: [dc, inc] 3 times
```

## Finishing

Weave in the ends.

## Where it began

On a shore.
"""


def test_a_scarf() -> None:
    found = document(SCARF)
    assert "Tideline Scarf" == found.title
    assert (("A scarf in soft waves.",),) == found.summary
    assert (("Each row begins with a turning chain.",), ("Work loosely.",)) == found.notes
    assert [("shell", "sh"), ("fan", "")] == [(s.id, s.abbreviation) for s in found.specials]
    assert [Work] == [type(step) for step in found.specials[0].steps]
    assert () == found.specials[1].steps
    assert ("open it like a hand, and hope",) == found.specials[1].words
    assert ["Scarf"] == [part.name for part in found.parts]
    kinds = [(item.label.first if isinstance(item, Row) else "remark") for item in found.parts[0].items]
    assert [None, 1, 2, 3, "remark", "remark", 4, 5] == kinds
    assert (("Weave in the ends.",),) == found.finishing
    assert [("Where it began", (("On a shore.",),))] == [(s.heading, s.paragraphs) for s in found.sections]
    assert TermSystem.UK == found.written


def test_asterisks_of_repeats_survive_escaped_or_not() -> None:
    second, fourth = document(SCARF).parts[0].rows[2], document(SCARF).parts[0].rows[4]
    assert [Chain, Repeat] == [type(step) for step in second.steps]
    assert [Chain, Repeat] == [type(step) for step in fourth.steps]


def test_clauses_know_their_place_in_the_file() -> None:
    row = document(SCARF).parts[0].rows[1]
    lines = SCARF.split("\n")
    line, column = row.span.line, row.span.column
    assert "Row 1" == lines[line][column : column + 5]
    second = row.steps[1]
    assert "dc in each ch across" == lines[second.span.line][second.span.column : second.span.end_column]
    fourth = document(SCARF).parts[0].rows[4].steps[0]
    assert "Ch 1" == lines[fourth.span.line][fourth.span.column : fourth.span.end_column]


def test_parts_without_data_tell_how_many_are_made() -> None:
    found = document(HEAD + "# Fox\n## Instructions\n### Ear (make 2)\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n")
    assert [("Ear", 2)] == [(part.name, part.make) for part in found.parts]


def test_data_of_a_part_are_found_by_its_heading() -> None:
    head = "---\nterms: us\nparts:\n  - {name: Ear, worked: spiral, make: 2, extras: {1: {x-a: 1}}}\n---\n"
    found = document(head + "# Fox\n## Ear (make 2)\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n")
    assert [("Ear", Worked.SPIRAL, 2)] == [(part.name, part.worked, part.make) for part in found.parts]
    assert "x-a" == found.parts[0].rows[0].extra[0].key


def test_a_heading_that_is_not_generated_is_kept() -> None:
    """Nothing is taken for a list made from the data unless the data say so."""
    body = "# Hat\n## Materials\n- wool\n## Crown\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n"
    assert ["wool"] == [yarn.name for yarn in document(HEAD + body).materials.yarns]
    assert () == document("---\nterms: us\ngenerated: [Materials]\n---\n" + body).materials.yarns
    other = body.replace("Materials", "Inspiration")
    assert ["Inspiration"] == [s.heading for s in document(HEAD + other).sections]
    assert () == document("---\nterms: us\ngenerated: [Inspiration]\n---\n" + other).sections


def test_what_is_not_understood_is_kept_verbatim() -> None:
    found = read(HEAD + "# Hat\n## Crown\n- Rnd 1: Wibble the wobble. (6)\n")
    assert found.document is not None
    assert [Verbatim] == [type(step) for step in found.document.parts[0].rows[0].steps]
    assert 0 < found.verbatim_clauses <= found.clauses


def test_markup_of_every_kind_loses_no_words() -> None:
    """Code, tables, quotations, nested lists, references and HTML all leave their words somewhere in the document."""
    body = (
        "# Hat\n## Crown\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n## Story\n`alpha`\n\n"
        "| bravo | charlie |\n| --- | --- |\n"
        "| delta | echo |\n\n> foxtrot\n\n- golf\n  - hotel\n\n[india]: juliett\n\n"
        "<b>kilo</b> <script>lima</script>\n\n    mike\n\n***\n"
        "![november](oscar.png) [papa](javascript:quebec)\n\nromeo\n=====\n"
    )
    found = document(HEAD + body)
    said = repr(found)
    for word in [
        "alpha",
        "bravo",
        "charlie",
        "delta",
        "echo",
        "foxtrot",
        "golf",
        "hotel",
        "india",
        "juliett",
        "kilo",
        "lima",
        "mike",
        "november",
        "oscar",
        "papa",
        "quebec",
        "romeo",
    ]:
        assert word in said, word


def test_terms_in_prose_are_references() -> None:
    found = document("---\nterms: uk\n---\n# Hat\nUse dc.\n## Crown\n- Rnd 1: 6 dc in adjustable ring. (6 dc)\n")
    assert Term("sc") in found.summary[0]


def test_values_beside_formulas_read_back() -> None:
    sizes = "".join(
        f"  - {{id: {id}, name: {id}, numbers: {{pairs: {pairs}}}}}\n" for id, pairs in (("S", 3), ("M", 5))
    )
    head = f"---\nterms: us\nsizes:\n{sizes}---\n"
    found = document(head + "# Hat\n## Crown\n- Row 1: Ch 1, [sc in next st, ch 1, skip 1 st] {pairs} times.\n")
    for system in TermSystem:
        again = read(write_markdown(found, system).text)
        assert () == again.findings
        assert found == again.document


@pytest.mark.parametrize("text", ["", "# Hat\n", "---\n---\n", "---\ntitle: [\n---\n# Hat", "Just some words."])
def test_texts_without_rows_say_so(text: str) -> None:
    assert "no-rows" in {f.code for f in read(text, TermSystem.US).findings}


def test_positions_in_the_data_count_from_the_file() -> None:
    findings = read(
        "---\nterms: us\nskill: eazy\n---\n# Hat\n## Crown\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n"
    ).findings
    assert [("value-not-allowed", (3, 8))] == [(f.code, f.span.for_people) for f in findings]


HOSTILE = {
    "brackets": "[" * 19_000,
    "stars": "*" * 19_000,
    "star words": "*a " * 6_000,
    "strong": "**a " * 4_500,
    "underscores": "_a_ " * 4_500,
    "backticks": "`" * 19_000,
    "ticked": "`a" * 9_000,
    "quotes": "> " * 9_000,
    "entities": "&amp" * 4_000,
    "backslashes": "\\" * 19_000,
    "angles": "<" * 19_000,
    "lists": "- " * 9_000,
    "digits": "1" * 19_000,
    "dashes": "-" * 19_000,
}


@pytest.mark.parametrize("line", HOSTILE.values(), ids=HOSTILE)
def test_the_longest_line_of_any_mark_is_read_in_time(line: str) -> None:
    """Whatever mark a line is made of, it is read within the time that every test has."""
    found = read(
        HEAD + f"# Hat\n\n{line}\n\n## Crown\n\n- Rnd 1: 6 sc in adjustable ring. (6 sc)\n\n## Notes\n\n{line}\n"
    )
    assert found.document is not None


def test_limits_and_binary_stop_the_reading() -> None:
    with pytest.raises(LimitExceeded):
        read("x" * 30_000)
    with pytest.raises(UnreadableInput):
        read("# Hat\x00")


def test_rows_right_under_the_title_are_a_part_of_that_name() -> None:
    """What stands before the first row is still the summary."""
    rows = "**Rnd 1:** 6 sc in adjustable ring. (6)\n\n**Rnd 2:** 2 sc in each st around. (12)\n"
    text = f"# Fen Square\n\nA square.\n\n{rows}"
    document = read(text, TermSystem.US).document
    assert document is not None
    assert [("Fen Square", 2)] == [(part.name, len(part.rows)) for part in document.parts]
    assert (("A square.",),) == document.summary


def test_rows_under_the_title_of_a_pattern_with_parts_stay_text() -> None:
    """There a heading has rows of its own, and what stands in front tells of them."""
    text = "# Fen Square\n\nRow 1 is the longest.\n\n## Square\n\n- Rnd 1: 6 sc in adjustable ring. (6)\n"
    document = read(text, TermSystem.US).document
    assert document is not None
    assert ["Square"] == [part.name for part in document.parts]
