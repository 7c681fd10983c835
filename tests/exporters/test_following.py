"""What helps to follow along: repeats that show, the yarn of every row, a word for the left-handed, the long form."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from convert.document.materials import Materials, Yarn
from convert.document.prose import Term
from convert.document.records import Document, Label, Part, Row, TermSystem
from convert.document.steps import Again, ChangeColour
from convert.exporters.page.build import page_edition, page_of
from convert.exporters.page.full_words import spelled
from convert.exporters.page.groups import repeat_groups
from convert.exporters.page.typeset import flow_of, plain_text
from convert.exporters.page.yarns_used import yarns_of_rows
from convert.exporters.setting import set_flow
from convert.terms.naming import write_prose
from tests.exporters.samples import GRADING, MERE, PROOF, dc, rounds


def grouped(text: str) -> list[str]:
    """What stands in each repeat, from its sign to the sign that ends it."""
    flow = flow_of((text,), TermSystem.US, marks=True)
    groups = repeat_groups(flow)
    found: list[str] = []
    waiting: list[str] = []
    for number, clump in enumerate(flow):
        waiting = [text + " " for text in waiting]
        for place, piece in enumerate(clump):
            if (number, place) in groups.opens:
                waiting.append("")
            waiting = [text + piece.text for text in waiting]
            if (number, place) in groups.closes:
                found.append(waiting.pop())
    assert [] == waiting
    return found


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("[sc, ch 1] 5 times, sc", ["[sc, ch 1]"]),
        ("*sc, ch 1; rep from * around", ["*sc, ch 1; rep from *"]),
        ("[a, *b; rep from * to c] twice", ["*b; rep from *", "[a, *b; rep from * to c]"]),
        ("*a, ** b; rep from * around, ending last rep at **", ["*a, ** b; rep from *"]),
        ("*a; rep from * twice, *b; rep from * around", ["*a; rep from *", "*b; rep from *"]),
        ("[a, b", []),
        ("a] b, *c", []),
    ],
)
def test_how_far_repeats_reach(text, expected):
    assert expected == grouped(text)


@given(st.text(alphabet="ab *[],", max_size=60))
def test_whatever_signs_there_are_the_markup_is_well_formed(text):
    markup = set_flow(flow_of((text,), TermSystem.US, marks=True))
    depth = 0
    for part in markup.split("<")[1:]:
        depth += -1 if part.startswith("/") else 1
        assert depth >= 0
    assert 0 == depth


TWO = replace(MERE, materials=Materials((Yarn("Wool", "A"), Yarn("Wool", "B"))))


def part_of(*rows: object) -> Part:
    return Part("p", "P", tuple(rows))  # type: ignore[arg-type]


def test_every_row_knows_its_yarn():
    part = part_of(
        rounds(1, ChangeColour("A"), dc(1)),
        rounds(2, dc(1)),
        rounds(3, dc(1), ChangeColour("B"), dc(1)),
        rounds(4, dc(1)),
        rounds(5, Again(1, 2)),
        rounds(6, dc(1)),
    )
    assert [("A",), ("A",), ("A", "B"), ("B",), ("A",), ("A",)] == list(yarns_of_rows(TWO, part).values())


def test_a_part_begins_with_its_yarn_and_changes_to_the_next():
    part = part_of(rounds(1, ChangeColour("A"), dc(1), ChangeColour("B"), dc(1)), rounds(2, ChangeColour("A"), dc(1)))
    late = part_of(rounds(1, dc(1)), rounds(2, ChangeColour("B"), dc(1)))
    shown = page_of(page_edition(replace(TWO, parts=(part, late)), None, None, TermSystem.US, None))
    said = [[plain_text(line.text) for line in chapter.lines] for chapter in shown.parts]
    assert ["With A, dc in next st, change to B, dc in next st.", "Change to A, dc in next st."] == said[0]
    assert ["Dc in next st.", "Change to B, dc in next st."] == said[1]


@pytest.mark.parametrize(
    ("rows", "aside", "lines"),
    [
        ((rounds(1, dc(1)), rounds(2, dc(1))), "Yarn A", ["|Rnd 1|", "|Rnd 2|"]),
        ((rounds(1, dc(1)), rounds(2, ChangeColour("B"), dc(1))), "", ["A|Rnd 1|", "B|Rnd 2|Change to B, "]),
        ((rounds(1, dc(1)), Row(Label(), (ChangeColour("B"),))), "", ["A|Rnd 1|", "B||Change to B."]),
    ],
)
def test_a_line_that_only_names_the_first_yarn_is_no_row_of_its_own(rows, aside, lines):
    """The head of the part says it, or the label of its first row; a change further down is something to do."""
    document = replace(TWO, parts=(part_of(Row(Label(), (ChangeColour("A"),)), *rows),))
    (chapter,) = page_of(page_edition(document, None, None, TermSystem.US, None)).parts
    told = [f"{one.colour}|{one.label}|{plain_text(one.text)}" for one in chapter.lines]
    assert (aside, lines) == (chapter.aside, [one.partition("Dc in")[0].partition("dc in")[0] for one in told])
    alone = replace(document, materials=Materials((Yarn("Wool", "A"),)))
    (chapter,) = page_of(page_edition(alone, None, None, TermSystem.US, None)).parts
    assert "With A." == plain_text(chapter.lines[0].text), "nothing else on the page would say it"


def test_with_one_yarn_nothing_is_said_of_it():
    assert {} == yarns_of_rows(replace(TWO, materials=Materials((Yarn("Wool"),))), part_of(rounds(1, dc(1))))


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("Work from right to left.", True),
        ("Sew on the left ear.", True),
        ("Turn it clockwise.", True),
        ("The right side faces you; leave what is left over.", False),
        ("Weave in the ends.", False),
    ],
)
def test_the_left_handed_are_told_where_it_matters(note, told):
    document = replace(MERE, notes=((note,),))
    chapter = page_of(page_edition(document, GRADING, PROOF, TermSystem.US, None)).notes
    assert chapter is not None
    assert told == any("Left-handed" in plain_text(flow) for flow in chapter.paragraphs)


def test_the_long_form_keeps_lengths_of_chains_and_counts():
    prose = ("6 ", Term("ch"), "-2 sps, 2 ", Term("dc"), " in next st, 1 ", Term("dc"), ".")
    said = write_prose(spelled(prose, TermSystem.UK), TermSystem.UK)
    assert "6 chain-2 spaces, 2 treble crochets in next stitch, 1 treble crochet." == said


def test_corrections_and_credits_stand_at_the_end():
    document: Document = replace(MERE, errata=(("Rnd 2: the count.",),), credits=(("Checked by Ola Brandrow.",),))
    shown = page_of(page_edition(document, GRADING, PROOF, TermSystem.US, None))
    assert ["Put right in this version", "A warmer cap", "With thanks to"] == [c.heading for c in shown.after][-3:]
    assert "Checked by Ola Brandrow." == plain_text(shown.after[-1].paragraphs[0])
