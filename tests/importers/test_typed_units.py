"""How a text as typed is cut into rows, headings and paragraphs, and gathered into sections."""

from __future__ import annotations

import pytest

from convert.document.numbers import PerSize
from convert.document.read import ReadOptions
from convert.document.records import Document, Remark, Row, RowKind, TermSystem
from convert.importers.typed.form import read_typed
from convert.importers.typed.lines import blocks
from convert.importers.typed.parts import named
from convert.importers.typed.units import Kind, heading_prefix, kind_of, units
from convert.source import Source
from convert.terms.naming import write_prose
from convert.trade.headings import headings, section_of


def cut(text: str) -> list[tuple[str, str]]:
    return [(unit.kind.value, unit.passage.text) for block in blocks(text) for unit in units(block)]


def document(text: str) -> Document:
    found = read_typed(Source("mat.txt", text), ReadOptions(TermSystem.US)).document
    assert found is not None
    return found


def remarks(found: Document) -> list[str]:
    return [write_prose(i.words, found.written) for part in found.parts for i in part.items if isinstance(i, Remark)]


def rows(found: Document) -> list[str]:
    return [row.said for part in found.parts for row in part.rows]


# Rows


def test_lines_without_labels_are_rows_by_their_counts_whatever_they_begin_with() -> None:
    text = "Bowl\n\n6 sc in ring (6)\ninc in each st around (12)\n(sc, inc) x6 (18)\nsc around (18)\nfasten off"
    assert [
        "6 sc in ring (6)",
        "inc in each st around (12)",
        "(sc, inc) x6 (18)",
        "sc around (18) fasten off",
    ] == rows(document(text))


def test_a_heading_with_an_aside_stands_above_a_chain_for_several_sizes() -> None:
    text = (
        "Vest\n\nUS terms.\n\nSizes: S (M, L)\n\nYarn: wool, 3 (4, 5) balls; hook: 4 mm; markers\n\n"
        "YOKE (worked flat down from the neck)\nCh 21 (31, 41).\n"
        "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (20 (30, 40) sc)\n"
    )
    found = document(text)
    assert ["YOKE (worked flat down from the neck)"] == [part.name for part in found.parts]
    assert ["wool"] == [yarn.name for yarn in found.materials.yarns]


def test_a_sentence_goes_on_behind_a_figure_in_brackets() -> None:
    assert len(cut("Make a chain of twenty (20)\nand work one sc in each of them.\n")) == 1


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 1: 6 sc in ring. Rnd 2: 2 sc in each st.",
        "Rnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st.",
        "=Rnd 1=: 6 sc in ring. =Rnd 2=: 2 sc in each st.",
        "Rnd 1: 6 sc in ring\nRnd 2: 2 sc in each st",
        "• Rnd 1: 6 sc in ring.\n• Rnd 2: 2 sc in each st.",
        "1st rnd: 6 sc in ring. 2nd rnd: 2 sc in each st.",
        "1st Round. 6 sc in ring.\n\n2nd Round. 2 sc in each st.",
    ],
)
def test_two_rows_however_they_are_laid_out(text: str) -> None:
    assert ["row", "row"] == [kind for kind, _ in cut(text)]


@pytest.mark.parametrize(
    "text",
    [
        "Row 4: Repeat 2nd and 3rd rows 6 times.",
        "Row 4: Sc in each st to the end of the row, turn and work as row 3 did before.",
        "Row 4: Dc in each of the next 3 sts; rep from * to end, ch 3 to turn all\nrows. Work even.",
        "Row 4: Ch 3, *dc in next st, ch 1; rep from\n* 4 times, turn.",
        "Row 4: (Sc, ch 2)\n4 times, turn.",
    ],
)
def test_one_row_is_not_torn(text: str) -> None:
    assert 1 == len(cut(text))


def test_a_wrapped_row_is_joined_and_keeps_its_places() -> None:
    text = "Row 2: Ch 1, sc in each of the next five stitches, then dc in the\nlast one, and turn the work over.\n"
    (unit,) = [unit for block in blocks(text) for unit in units(block)]
    assert (1, 0) == unit.passage.place(unit.passage.text.index("last"))
    assert text.replace("\n", " ").strip() == unit.passage.text


def test_a_label_broken_over_two_lines() -> None:
    text = (
        "Row 1: Ch 9, sc in 2nd ch from hook and in each ch to the end. =2nd\n"
        "row=: Ch 1, turn, sc in each stitch to the end of it.\n"
    )
    assert ["Row 1", "2nd row"] == [
        text[: len(start)] for (_, text), start in zip(cut(text), ["Row 1", "2nd row"], strict=True)
    ]


def test_a_remark_between_rows_on_a_line_of_its_own() -> None:
    assert [("row", "Rnd 4: Sc around (18)"), ("text", "Stuff lightly."), ("row", "Rnd 5: Sc around (18)")] == cut(
        "Rnd 4: Sc around (18)\nStuff lightly.\nRnd 5: Sc around (18)"
    )


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Row 3 (RS): Sc", Kind.ROW),
        ("Next 4 rows: Sc", Kind.ROW),
        ("Sizes M and L only: Row 7: Sc", Kind.ROW),
        ("12) Sc in each", Kind.NUMBERED),
        ("46, 47. Sc in each", Kind.NUMBERED),
        ("Row 3 is worked loosely.", Kind.TEXT),
        ("Rows of shells look best.", Kind.TEXT),
        ("2 balls of yarn", Kind.TEXT),
        ("3.5 mm hook", Kind.TEXT),
    ],
)
def test_kinds(text: str, kind: Kind) -> None:
    assert kind is kind_of(text)


# Lines


@pytest.mark.parametrize("rule", ["----------", "* * *", "=====", "~~~~~~", "_________", "•••"])
def test_ornaments_part_blocks_and_vanish(rule: str) -> None:
    assert [("text", "One"), ("text", "Two")] == cut(f"One\n{rule}\nTwo")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("_Band_ and =Cuff=", "Band and Cuff"),
        ("7 sc = 2 in; 4 rows = 1 in", "7 sc = 2 in; 4 rows = 1 in"),
        ("=Both\nlines=", "Both lines"),
        ("snake_case_word", "snake_case_word"),
        ("sc=single crochet", "sc=single crochet"),
        ("## Band", "Band"),
        ("• Band", "Band"),
    ],
)
def test_marks(text: str, expected: str) -> None:
    assert expected == " ".join(text for _, text in cut(text))


def test_an_asterisk_of_a_repeat_is_no_bullet() -> None:
    assert [("text", "* Ch 3, sc in next sp; rep from * around.")] == cut("* Ch 3, sc in next sp; rep from * around.")
    assert [("text", "Yarn"), ("text", "Hook")] == cut("* Yarn\n* Hook")


# Headings


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ("MATERIALS:", "materials"),
        ("You will need", "materials"),
        ("Tension", "gauge"),
        ("=STITCH GUIDE=....", "special-stitches"),
        ("Making Up", "finishing"),
        ("Left ear", None),
    ],
)
def test_headings_of_the_table(text: str, section: str | None) -> None:
    assert section == section_of(text)


def test_every_form_of_the_table_opens_its_section() -> None:
    assert all(section_of(form.upper() + ":") == section for form, section in headings().items())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("BODY: Ch 4, join.", "BODY"),
        ("Notes - work loosely", "Notes"),
        ("MATERIALS—Yarn: 2 balls", "MATERIALS"),
        ("BACK—First Square: Ch 4", "BACK—First Square"),
        ("RUFFLE.... Join yarn", "RUFFLE"),
        ("Sew it on. Then: wait", None),
        ("Row 3: Sc in each", None),
    ],
)
def test_headings_in_front_of_text(text: str, expected: str | None) -> None:
    found = heading_prefix(text)
    assert expected == (found[0] if found else None)


@pytest.mark.parametrize(
    ("heading", "name", "make"),
    [
        ("EARS (make 2)", "EARS", 2),
        ("Legs - make two", "Legs", 2),
        ("Arm (x2)", "Arm", 2),
        ("Petal x 6", "Petal", 6),
        ("SQUARE (Make 12 (16, 20))", "SQUARE", PerSize((12, 16, 20))),
        ("Body:", "Body", 1),
        ("Make believe hat", "Make believe hat", 1),
    ],
)
def test_parts_that_are_made_more_than_once(heading: str, name: str, make: int) -> None:
    assert (name, make) == named(heading)


@pytest.mark.parametrize(
    "heading",
    [
        "HANDLE",
        "Handle",
        "Handle:",
        "=Handle=",
        "HANDLE (make 2)",
        "For the handle:",
        "# Handle",
        "TOP HANDLE—First Strip....",
    ],
)
def test_names_of_parts(heading: str) -> None:
    found = document(
        f"Bag\n\nBASE\nRow 1: Ch 6, sc in 2nd ch from hook.\n\n{heading}\nRow 1: Ch 30, sc in 2nd ch from hook.\n"
    )
    assert ["BASE", "handle"] == [found.parts[0].name, "handle" if "handle" in found.parts[1].name.casefold() else ""]
    assert ["Row 1: Ch 30, sc in 2nd ch from hook."] == [row.said for row in found.parts[1].rows]


@pytest.mark.parametrize(
    "layout",
    ["HANDLE: {}", "HANDLE.... {}", "=HANDLE=: {}", "Handle: {}", "For the handle: {}", "HANDLE\n{}", "HANDLE\n\n{}"],
)
def test_a_part_opens_with_an_unlabelled_row(layout: str) -> None:
    opening = layout.format("Ch 30, sc in 2nd ch from hook and in each ch across, turn.")
    found = document(f"Bag\n\nBASE\nRow 1: Ch 6, sc in 2nd ch from hook.\n\n{opening}\nRow 2: Ch 1, sc in each sc.\n")
    assert [RowKind.UNLABELLED, RowKind.ROW] == [row.label.kind for row in found.parts[1].rows]


def test_a_heading_after_which_the_rows_go_on_stays_in_the_part() -> None:
    found = document("Hat\n\nCROWN\nRnd 1: 6 sc in ring.\nRnd 2: 2 sc in each st.\n\nBRIM\nRnd 3: Sc in each st.\n")
    assert ["CROWN"] == [part.name for part in found.parts]
    assert ["Rnd 1", "Rnd 2", "Rnd 3"] == [said[:5] for said in rows(found)]
    assert "BRIM" in write_prose(found.parts[0].rows[2].before, found.written)


def test_a_heading_inside_a_paragraph_is_kept_before_its_row() -> None:
    found = document(
        "Vest\n\n=BACK=: Ch 20. =Row 2=: Sc in each ch. =SHAPE NECK=: Sc in next 5 ch, turn. =Row 3=: Sc.\n"
    )
    (part,) = found.parts
    assert ["SHAPE NECK:"] == [write_prose(row.before, found.written) for row in part.rows if row.before]


def test_prose_among_rows_stays_in_its_place() -> None:
    found = document(
        "Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n\nNote: keep the edge straight.\n\nRow 2: Ch 1, sc in each sc.\n"
    )
    assert [Row, Remark, Row] == [type(item) for item in found.parts[0].items]
    assert ["Note: keep the edge straight."] == remarks(found)


def test_notes_between_rows_of_one_part_do_not_end_it() -> None:
    found = document(
        "Mat\n\nMAT\nRow 1: Ch 6, sc in 2nd ch from hook.\n\nNOTES\nBreathe.\n\nRow 2: Ch 1, sc in each sc.\n"
    )
    assert [2] == [len(part.rows) for part in found.parts]
    assert (("Breathe.",),) == found.notes


def test_rows_without_any_heading_make_one_part_named_by_the_title() -> None:
    found = document("Sunny Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n")
    assert [("Sunny Mat", "sunny-mat")] == [(part.name, part.id) for part in found.parts]


def test_instructions_heading_names_no_part() -> None:
    found = document("Sunny Mat\n\nINSTRUCTIONS\nRow 1: Ch 6, sc in 2nd ch from hook.\n")
    assert ["Sunny Mat"] == [part.name for part in found.parts]


def test_rows_numbered_without_a_word() -> None:
    found = document(
        "Mat\n\nMake a chain of 12 stitches.\n\n1. Sc in each ch.\n\n2. Sc in each sc, turn.\n\n3, 4. Sc in each sc.\n"
    )
    labels = [row.label for row in found.parts[0].rows]
    assert [RowKind.UNLABELLED, RowKind.ROW, RowKind.ROW, RowKind.ROW] == [label.kind for label in labels]
    assert [(), (1,), (2,), (3, 4)] == [label.numbers for label in labels]


def test_a_numbered_list_in_the_finishing_is_no_row() -> None:
    found = document("Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n\nFINISHING\n1. Sew the ends in.\n2. Block it.\n")
    assert (("1. Sew the ends in.",), ("2. Block it.",)) == found.finishing
    assert 1 == len(rows(found))


def test_finishing_with_rows_is_a_part() -> None:
    found = document("Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n\nFINISHING\nRnd 1: Sc in each st around.\n")
    assert ["Mat", "FINISHING"] == [part.name for part in found.parts]
    assert () == found.finishing


def test_a_list_of_abbreviations_before_the_title() -> None:
    found = document(
        "CROCHET ABBREVIATIONS\n\nch          chain\nsc          single crochet\n\n"
        "A star (*) marks where the part to be repeated in a row begins.\n\n"
        "Sunny Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n"
    )
    assert "Sunny Mat" == found.title
    assert 1 == len(rows(found))
    assert () == found.sections


def test_an_unknown_heading_with_text_becomes_a_section() -> None:
    found = document("Mat\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n\nABOUT THE SHEEP\n\nThey live on a hill.\n")
    assert [("ABOUT THE SHEEP", (("They live on a hill.",),))] == [(s.heading, s.paragraphs) for s in found.sections]


@pytest.mark.parametrize(
    "heading", ["2nd STAR: Work 1st 2 rnds same as 1st star.", "2nd star: Work first 2 rnds as for 1st star."]
)
def test_one_of_several_pieces_is_a_part(heading: str) -> None:
    found = document(
        f"Star Net\n\nRnd 1: Ch 5, join, 8 sc in ring, join.\nRnd 2: 2 sc in each sc, join.\n\n{heading}\n"
    )
    assert ["Star Net", heading[:8]] == [part.name for part in found.parts]
    assert heading[10:] == rows(found)[-1]


def test_a_first_round_behind_a_branch_is_no_part() -> None:
    found = document(
        "Star Net\n\n1st branch.--1st round: 18 chain, 1 double in the 13th chain.\n\n2nd round: 8 chain.\n"
    )
    assert ["Star Net"] == [part.name for part in found.parts]


def test_a_piece_named_behind_the_materials() -> None:
    """A sentence may stand between its name and its first row; an item of the list is no name."""
    text = (
        "Mats\n\nMaterials Required:\n2 balls of white cotton\n\n{}\n\n{}\n\nRnd 1: Ch 5, join, 8 sc in ring, join.\n"
    )
    assert ["SMALL MAT"] == [p.name for p in document(text.format("SMALL MAT", "The small one fits an egg cup.")).parts]
    assert ["Mats"] == [p.name for p in document(text.format("STEEL HOOK", "a hoop as wide as the mat")).parts]


def test_pieces_that_are_told_in_a_sentence_and_one_row() -> None:
    """The heading of the next piece may follow soon."""
    first = "Motif 1\nRnd 1: Ch 5, join, 8 sc in ring, join.\nRnd 2: 2 sc in each sc, join."
    second = "Motif 2\nWork Rnd 1 as for Motif 1.\nRnd 2: Sc in each sc, sl st in any sc of Motif 1, join."
    found = document(f"Star Net\n\n{first}\n\n{second}\n\nMotifs 3-9\nWork as for Motif 2.\n")
    assert ["Motif 1", "Motif 2"] == [part.name for part in found.parts][:2]
