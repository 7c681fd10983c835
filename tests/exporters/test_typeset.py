"""Where a line may break, and that nothing but the breaks changes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.prose import Form, Term
from convert.document.records import TermSystem
from convert.exporters.page.records import Mark
from convert.exporters.page.typeset import LONGEST_CLUMP, LONGEST_LIST, flow_of, plain_text, text_flow
from convert.exporters.setting import set_flow


def clumps(*prose: str | Term, marks: bool = True) -> list[str]:
    return ["".join(piece.text for piece in clump) for clump in flow_of(prose, TermSystem.US, marks=marks)]


@pytest.mark.parametrize(
    ("prose", "expected"),
    [
        (("Work 3 ", Term("dc"), " in ", Term("ch"), "-2 ", Term("space"), "."), ["Work", "3 dc", "in", "ch-2 sp."]),
        ((Term("ch"), " 2, turn"), ["ch 2,", "turn"]),
        (("in next 5 sts, join",), ["in", "next 5 sts,", "join"]),
        (("48 (56) ", Term("ch"), "-4 sps"), ["48 (56) ch-4 sps"]),
        (("48 (56, 64) ", Term("dc")), ["48 (56, 64) dc"]),
        (
            (
                "*",
                Term("dc"),
                " in next 3 sts; rep from * around",
            ),
            ["*dc", "in", "next 3 sts;", "rep", "from *", "around"],
        ),
        (
            (
                "[",
                Term("sc"),
                " once] 4 times",
            ),
            ["[sc", "once]", "4 times"],
        ),
        (("Rnds 4 and 5",), ["Rnds 4", "and", "5"]),
        (("Rep last rnd 14 (16, 18) times more",), ["Rep", "last", "rnd", "14 (16, 18) times", "more"]),
        (("Rep last row 3 times more, skip Row 3",), ["Rep", "last", "row", "3 times", "more,", "skip", "Row 3"]),
        (("measures 2½ in across",), ["measures", "2½ in", "across"]),
        (("held\u00a0together always",), ["held together", "always"]),
    ],
)
def test_what_stays_on_one_line(prose, expected):
    assert expected == clumps(*prose)


def test_a_long_list_of_sizes_may_break():
    """A clump never grows so long that it leaves a narrow screen; what holds only where there is room is longer."""
    parts = clumps("120 (132, 144, 156, 168, 180, 192, 204) sts")
    assert len(parts) > 1
    assert max(map(len, parts)) <= LONGEST_LIST


def test_a_list_of_six_sizes_stays_with_its_stitches_where_there_is_room():
    """On a phone it goes to the next line as a whole, and may break there."""
    flow = flow_of(("Dc in next 32 (34, 34, 36, 40, 42) sts.",), TermSystem.US)
    assert "next 32 (34, 34, 36, 40, 42) sts." in ["".join(piece.text for piece in clump) for clump in flow]
    assert '<span class="i">next 32 (34, 34, 36, 40, 42) sts.</span>' in str(set_flow(flow))
    assert max(map(len, clumps("sc in next 5 sts, a sentence of many short words"))) <= LONGEST_CLUMP


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("*(dc, ch 2, dc) in next sp", "*(dc, ch 2, dc)"),
        ("work (2 tr, ch 1, 2 tr) in it", "(2 tr, ch 1, 2 tr)"),
        ("(sc in next 4 sts, 2 sc in next st) 6 times", "(sc"),
        ("[dc in ring, ch 2] 5 times", "[dc"),
    ],
)
def test_a_short_group_of_steps_stands_in_one_piece(text, whole):
    """Longer ones, and repeats in square brackets, break inside."""
    assert whole in clumps(text)


@given(st.text(alphabet="ab12 *[](),.-½\n\u00a0'", max_size=80), st.text(alphabet="xy3 ;)", max_size=40))
def test_the_text_stays_the_same(first, second):
    """Only runs of blanks become single ones, and the apostrophe between letters is set curved."""
    flow = flow_of((first, Term("dc"), second), TermSystem.US, marks=True)
    said = " ".join((first + "dc" + second).split())
    assert said == plain_text(flow).replace("’", "'")


@given(st.text(alphabet="ab12 *[](),.-½", max_size=120))
def test_only_a_single_word_is_longer_than_the_longest_clump(text):
    for clump in clumps(text):
        assert len(clump) <= LONGEST_CLUMP or " " not in clump


def test_terms_explain_themselves_and_names_need_not():
    (before, short), (plural,) = flow_of(("3 ", Term("dc"), " ", Term("dc", Form.PLURAL)), TermSystem.UK)
    assert (Mark.PLAIN, "3 ") == (before.mark, before.text)
    assert ("tr", Mark.TERM, "treble crochet") == (short.text, short.mark, short.title)
    assert (Mark.PLAIN, "treble crochets") == (plural.mark, plural.text)


def test_marks_of_repeats_only_in_instructions():
    """An asterisk in a note is an asterisk."""
    instruction = flow_of(("**sc in next st]",), TermSystem.US, marks=True)
    note = flow_of(("Sizes marked * are [new]",), TermSystem.US)
    assert ["**", "]"] == [p.text for clump in instruction for p in clump if p.mark is Mark.REPEAT]
    assert [] == [p for clump in note for p in clump if p.mark is Mark.REPEAT]


def test_lists_for_the_sizes_are_taken_apart():
    """Only lists with one number for each size; the text stays the same."""
    text = "48 (56, –) dc, 2 (3) sps, 19¾ (21½, 23½) in, 1.5 (2, 3) and 4 (5, 6, 7)"
    flow = text_flow(text, sizes=3)
    found = [(p.text, p.size) for clump in flow for p in clump if p.mark is Mark.SIZE]
    assert [("48", 0), ("56", 1), ("–", 2), ("19¾", 0), ("21½", 1), ("23½", 2), ("1.5", 0), ("2", 1), ("3", 2)] == found
    assert text == plain_text(flow)
    assert text_flow(text) == text_flow(text, sizes=1)


def test_the_apostrophe_is_curved_and_inch_marks_are_not():
    assert "the baby’s 4' and 5\" rows" == plain_text(text_flow("the baby's 4' and 5\" rows"))
