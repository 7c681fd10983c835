"""Bold words that head something in a Markdown text are headings; others stay where they stand."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.document.records import Document, Row, TermSystem
from convert.findings import Severity
from convert.importers.markdown.form import read_markdown
from convert.pipeline import check_source
from convert.source import Source


def read(body: str) -> Document:
    found = read_markdown(Source("cup.md", "# Tilly Cup\n\n" + body), ReadOptions(TermSystem.US))
    assert found.document is not None
    return found.document


def shape(document: Document) -> list[tuple[str, object, int]]:
    """Name, number made and number of rows of every part."""
    return [(part.name, part.make, len(part.rows)) for part in document.parts]


ROUNDS = "Rnd 1: 6 sc in adjustable ring. (6)\n\nRnd 2: 2 sc in each st around. (12)\n\n"
FLAT = "Row 1: Sc in 2nd ch from hook and in each ch across. (8)\n\n"


def test_bold_lines_head_parts() -> None:
    """A bold line with a first row below it names a part, with how many are made."""
    found = read(f"**BODY**\n\n{ROUNDS}**Lug (make 3)**\n\nCh 9.\n\n{FLAT}")
    assert [("BODY", 1, 2), ("Lug", 3, 2)] == shape(found)


def test_bold_words_in_front_of_a_foundation_head_a_part() -> None:
    """So do bold words in front of a foundation, with a colon or a full stop, within the bold or behind it."""
    found = read(
        f"**Strap:** Ch 9.\n\n{FLAT}**Tab.** Ch 9.\n\n{FLAT}"
        "**Leaf**: Ch 9. Sc in 2nd ch from hook and in next 7 ch. (8)\n"
    )
    assert [("Strap", 1, 2), ("Tab", 1, 2), ("Leaf", 1, 1)] == shape(found)


def test_bold_words_within_a_part_head_nothing() -> None:
    """Yarn to change to, a word for the foundation, and a label in bold stay in the part that they stand in."""
    behind = "**Change to blue.**\n\nRow 2: Ch 1, turn, sc in each st across. (8)\n"
    assert [("Band", 1, 4)] == shape(read(f"## Band\n\n**Foundation:** Ch 9.\n\n{FLAT}{behind}"))
    assert [("Band", 1, 3)] == shape(
        read(
            "## Band\n\n**Use the smaller hook**\n\nCh 9.\n\n"
            + FLAT
            + "**Row 2**\nCh 1, turn, sc in each st across. (8)\n"
        )
    )


def test_sections_may_be_headed_in_bold() -> None:
    """A bold line of the table of headings heads its section, and not what the rows are counted in."""
    found = read(f"## Cup\n\n{ROUNDS}**Finishing**\n\nWeave in the ends.\n")
    assert ([("Cup", 1, 2)], 1) == (shape(found), len(found.finishing))


def test_the_foundation_above_the_first_row_belongs_to_it() -> None:
    """Under the title alone, a paragraph with the foundation is no introduction, with or without a word in front."""
    for said in (
        "Ch 8 loosely, join with sl st to form a ring.",
        "Begin: chain 8 loosely, join with sl st to form a ring.",
    ):
        found = read(f"A cup for tea.\n\n{said}\n\nRnd 1: Ch 1, 12 sc in ring, join. (12)\n")
        assert (1, [("Tilly Cup", 1, 2)]) == (len(found.summary), shape(found))


def test_nothing_is_accused_that_bold_headings_keep_apart() -> None:
    """Pieces under bold headings are worked each from its own beginning."""
    text = f"# Tilly Cup\n\nUS terms.\n\n**BODY**\n\n{ROUNDS}**Strap:** Ch 9.\n\n{FLAT}"
    found = check_source(Source("cup.md", text), "markdown", ReadOptions())
    assert [] == [finding.code for finding in found.findings if finding.severity is Severity.ERROR]


def test_a_stitch_may_be_defined_in_the_introduction() -> None:
    """ "**Fan** = 7 dc in same st" defines a stitch wherever it stands before the rows."""
    found = read(f"**Fan** = 7 dc in the same stitch.\n\n{ROUNDS}")
    assert ([("Fan", True)], ()) == ([(s.name, bool(s.steps)) for s in found.specials], found.summary)


def test_a_paragraph_in_italics() -> None:
    """Italics around whole sentences are markup, whatever figures stand in them."""
    row = read(f"*Aran weight, 6 mm hook, 220 m.*\n\n{ROUNDS}")
    assert [("Aran weight, 6 mm hook, 220 m.",)] == [tuple(text) for text in row.summary]
    assert all(isinstance(item, Row) for item in row.parts[0].items)
