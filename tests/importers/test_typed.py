"""A whole pattern typed without markup becomes a document, and nothing of it is lost."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from msgspec import Struct

from convert.document.lengths import Length
from convert.document.prose import Term
from convert.document.read import Read, ReadOptions
from convert.document.records import BeginningChain, Document, Part, Remark, Row, RowKind, TermSystem, Worked
from convert.document.steps import Counts, Work
from convert.errors import LimitExceeded, PatternError, UnreadableInput
from convert.findings import Severity
from convert.importers.typed.form import read_typed
from convert.limits import LIMITS
from convert.source import Source
from convert.terms.naming import write_prose, written_term

OWL = """\
Pocket Owl
by Tamsin Orrell

A small owl for a coat pocket. This pattern uses US terms.

MATERIALS
- Fernlea Cotton DK, 50 g / 110 m, 1 ball in Moss (A)
- Yarn B: scrap of cream
- 3.5 mm hook
- Safety eyes, 8 mm

GAUGE: 11 sc and 12 rounds = 5 cm

Abbreviations
ch = chain
sc = single crochet
flp = flap of the wing

Special Stitches
Wing fan (wf): 5 dc in next st

NOTES
Work in continuous rounds; do not join. Ch 3 at the beginning of a row counts as dc throughout.
Stuff as you go, and use dc only where told.

BODY
With A, 6 sc in adjustable ring (6)
Rnd 1: 2 sc in each st around (12)
Rnd 2: *sc in next st, 2 sc in next st; rep from * around (18)
Rnds 3-6: sc in each st around (18)
Stuff lightly.
Rnd 7: *sc in next st, sc2tog; rep from * around (12)
Fasten off.

EARS (make 2)
Rnd 1: 4 sc in adjustable ring (4)
Rnd 2: 2 sc in each st around (8). Fasten off, leaving a tail for
sewing.

FINISHING
Sew the ears to the top of the head.
Weave in all ends.

© 2024 Tamsin Orrell
"""


def read(text: str, options: ReadOptions | None = None) -> Read:
    return read_typed(Source("pocket-owl.txt", text), options or ReadOptions())


def document(text: str) -> Document:
    found = read(text).document
    assert found is not None
    return found


@pytest.fixture(scope="module")
def owl() -> Document:
    return document(OWL)


def rows(part: Part) -> list[tuple[RowKind, tuple[int, ...]]]:
    return [(row.label.kind, row.label.numbers) for row in part.rows]


# The pattern as a whole


def test_front(owl: Document) -> None:
    assert ("Pocket Owl", "pocket-owl", "Tamsin Orrell", "© 2024 Tamsin Orrell") == (
        owl.title,
        owl.id,
        owl.designer,
        owl.copyright,
    )
    assert owl.written is TermSystem.US
    assert (("A small owl for a coat pocket.",),) == owl.summary


def test_short_fields_end_with_their_line() -> None:
    found = document("Mat\n\nDesigned by Ada Oak\nUS terms\nSkill level: easy\nFor a small table.\n\nRow 1: Ch 6.\n")
    assert ("Ada Oak", "easy", (("For a small table.",),)) == (found.designer, found.skill, found.summary)


def test_materials(owl: Document) -> None:
    first, second = owl.materials.yarns
    assert ("Fernlea Cotton DK", "A", 3, "Moss") == (first.name, first.key, first.weight, first.colour)
    assert (Decimal(50), Decimal(110), (Decimal(1),)) == (first.ball_grams, first.ball_metres, first.amount.balls)
    assert ("scrap of cream", "B") == (second.name, second.key)
    assert [(Decimal("3.5"), ())] == [(hook.mm, hook.use) for hook in owl.materials.hooks]
    assert (("Safety eyes, 8 mm",),) == owl.materials.notions


def test_gauge(owl: Document) -> None:
    assert owl.gauge is not None
    assert (Decimal(11), Decimal(12), Length(Decimal(5)), "sc", True, ()) == (
        owl.gauge.stitches,
        owl.gauge.rows,
        owl.gauge.over,
        owl.gauge.stitch,
        owl.gauge.rounds,
        owl.gauge.words,
    )


def test_special_stitch_is_read(owl: Document) -> None:
    (special,) = owl.specials
    assert ("wing-fan", "wing fan", "wf", ()) == (special.id, special.name, special.abbreviation, special.words)
    assert ["dc"] == [step.stitch for step in special.steps if isinstance(step, Work)]


def test_what_the_tables_know_of_a_list_of_abbreviations_is_not_kept_twice(owl: Document) -> None:
    assert [("Abbreviations", (("flp = flap of the wing",),))] == [(s.heading, s.paragraphs) for s in owl.sections]


def test_conventions_become_data_and_other_notes_stay(owl: Document) -> None:
    assert (BeginningChain(3, Counts("dc")),) == owl.beginning_chains
    assert ("Work in continuous rounds; do not join.",) == owl.notes[0]
    assert (("Stuff as you go, and use ", Term("dc"), " only where told.")) == owl.notes[1]


def test_parts(owl: Document) -> None:
    body = owl.parts[0]
    assert [("BODY", 1, Worked.SPIRAL), ("EARS", 2, Worked.SPIRAL)] == [(p.name, p.make, p.worked) for p in owl.parts]
    assert [
        (RowKind.UNLABELLED, ()),
        (RowKind.ROUND, (1,)),
        (RowKind.ROUND, (2,)),
        (RowKind.ROUND, (3, 4, 5, 6)),
        (RowKind.ROUND, (7,)),
        (RowKind.UNLABELLED, ()),
    ] == rows(body)
    assert [("Stuff lightly.",)] == [item.words for item in body.items if isinstance(item, Remark)]
    assert [4] == [index for index, item in enumerate(body.items) if isinstance(item, Remark)]


def test_a_row_runs_over_lines(owl: Document) -> None:
    last = owl.parts[1].rows[-1]
    assert "Rnd 2: 2 sc in each st around (8). Fasten off, leaving a tail for sewing." == last.said


def test_finishing(owl: Document) -> None:
    assert (("Sew the ears to the top of the head.",), ("Weave in all ends.",)) == owl.finishing


def test_positions_are_those_of_the_file(owl: Document) -> None:
    lines = OWL.split("\n")
    for row in [row for part in owl.parts for row in part.rows]:
        assert lines[row.span.line][row.span.column :].startswith(row.said[:12])
        for step in row.steps:
            assert row.span.line <= step.span.line <= row.span.end_line


def test_a_clean_pattern_has_no_findings_of_the_form() -> None:
    assert set() == {f.code for f in read(OWL).findings} & {
        "title-missing",
        "no-rows",
        "terms-untold",
        "terms-contradicted",
    }


# Line ends, marks, signs


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("\n", "\r\n"),
        lambda text: "\ufeff" + text,
        lambda text: text.replace("- ", "• "),
        lambda text: text.replace("BODY", "=BODY=").replace("EARS (make 2)", "_EARS (make 2)_"),
        lambda text: text.replace("BODY", "## BODY").replace("Pocket Owl\n", "# Pocket Owl\n"),
        lambda text: text.replace("BODY", "BODY:").replace("NOTES", "Notes:").replace("FINISHING", "Making up"),
        lambda text: text.replace("BODY\n", "BODY\n\n").replace("\nRnd", "\n\nRnd"),
        lambda text: text.replace("\nBODY", "\n-----------\nBODY"),
    ],
    ids=["crlf", "bom", "bullets", "emphasis", "hashes", "colons", "blank lines", "rule"],
)
def test_the_same_pattern_in_other_clothes(change, owl: Document) -> None:  # type: ignore[no-untyped-def]  # a lambda
    other = document(change(OWL))
    assert owl.title == other.title
    assert owl.materials == other.materials
    assert [rows(part) for part in owl.parts] == [rows(part) for part in other.parts]
    assert owl.parts[0].rows[2].steps == other.parts[0].rows[2].steps
    assert owl.finishing == other.finishing


def test_columns_do_not_move_under_marks_and_tabs() -> None:
    text = "Band\n\n=BAND=: Ch 5. =2nd ROW=:\tSc in each ch. US terms.\n"
    part = document(text).parts[0]
    second = part.rows[1]
    assert text.split("\n")[2].index("2nd") == second.span.column
    assert "2nd ROW:\tSc in each ch. US terms." == second.said


# Terms


def test_terms_from_statement_before_options() -> None:
    text = "Mat\n\nUK terms\n\nRow 1: Ch 4, dc in ring.\n"
    found = read(text, ReadOptions(TermSystem.US)).document
    assert found is not None
    assert found.written is TermSystem.UK
    assert () == found.notes


def test_terms_from_options_where_nothing_is_stated() -> None:
    found = read("Mat\n\nRow 1: Ch 4, dc in ring.\n", ReadOptions(TermSystem.UK)).document
    assert found is not None
    assert found.written is TermSystem.UK


def test_terms_from_the_words() -> None:
    assert document("Mat\n\nRow 1: Ch 4, htr in ring.\n").written is TermSystem.UK


def test_terms_that_cannot_be_told_are_reported() -> None:
    found = [f for f in read("Mat\n\nRow 1: Ch 4, dc in ring.\n").findings if f.code == "terms-untold"]
    assert [Severity.WARNING] == [f.severity for f in found]
    assert '"US terms" on a line of its own' in found[0].hint


def test_terms_that_contradict_their_label_are_reported() -> None:
    found = [
        f for f in read("Mat\n\nUK terms.\n\nRow 1: Ch 4, sc in ring.\n").findings if f.code == "terms-contradicted"
    ]
    assert [(5, 14)] == [f.span.for_people for f in found]


# What is missing, broken, hostile


@pytest.mark.parametrize("text", ["", "\n\n  \n", "-----\n\n* * *\n"])
def test_an_empty_text(text: str) -> None:
    result = read(text)
    assert result.document is None
    assert ["nothing-to-read"] == [f.code for f in result.findings]


def test_a_text_without_title_takes_the_file_name() -> None:
    result = read("Rnd 1: 6 sc in adjustable ring (6)\n")
    assert result.document is not None
    assert "Pocket owl" == result.document.title
    assert ["title-missing"] == [f.code for f in result.findings]


def test_a_text_without_rows() -> None:
    result = read("A letter\n\nDear reader, all is well here.\n")
    assert result.document is not None
    assert "no-rows" in [f.code for f in result.findings]


def test_binary_and_endless_input_is_refused() -> None:
    with pytest.raises(UnreadableInput):
        read("Mat\x00\n")
    with pytest.raises(LimitExceeded):
        read("x" * (LIMITS.line + 1))
    with pytest.raises(LimitExceeded):
        read("Mat\n\n" + "Row 1: ch 1\n" * (LIMITS.rows + 1))


@pytest.mark.parametrize(
    "text",
    [
        "© © © " * 3000,
        "AB: " * 4000,
        "=" * 9000,
        "_a_ " * 4000,
        "Row 1: " * 2500,
        "1. " * 5000,
        "(" * 9000,
        "- " * 9000,
    ],
)
def test_monotonous_lines_end_soon(text: str) -> None:
    assert read(f"Mat\n\n{text}\n").source.name == "pocket-owl.txt"


# Nothing is lost


def words_of(found: Document) -> set[str]:
    """Every word that the document holds, in whatever field."""
    gathered: list[str] = []

    def take(value: object) -> None:
        if isinstance(value, Row):
            gathered.extend([value.said, write_prose(value.before, found.written, found.specials)])
        elif isinstance(value, Term):
            gathered.append(written_term(value, found.written, found.specials))
        elif isinstance(value, Length):
            gathered.append(value.said)
        elif isinstance(value, Struct):
            for name in value.__struct_fields__:
                take(getattr(value, name))
        elif isinstance(value, tuple):
            for item in value:
                take(item)
        elif isinstance(value, (str, int, Decimal)):
            gathered.append(str(value))

    take(found)
    return set(re.findall(r"\w+", " ".join(gathered)))


@pytest.mark.timeout(60)
@given(st.lists(st.tuples(st.integers(0, len(OWL.split(" ")) - 1)), min_size=1, max_size=8), st.data())
def test_words_put_in_anywhere_are_kept(places: list[tuple[int]], data: st.DataObject) -> None:
    parts = OWL.split(" ")
    marks = [f"zq{number}xv" for number in range(len(places))]
    for mark, (place,) in zip(marks, places, strict=True):
        parts[place] = data.draw(
            st.sampled_from([f"{mark} {parts[place]}", f"{parts[place]} {mark}", f"{parts[place]}\n{mark}"])
        )
    found = document(" ".join(parts))
    assert set(marks) <= words_of(found)


LINES = st.one_of(
    st.sampled_from(
        [
            "BODY",
            "Left Ear (make 2)",
            "NOTES",
            "Materials:",
            "Special Stitches",
            "Abbreviations",
            "Finishing",
            "Sizes: S (M, L)",
            "Rnd 1: 6 zqa in ring",
            "Row 2. zqb in each",
            "2nd row: turn zqc",
            "1. zqd sc in each st",
            "Ch 4, join. zqe",
            "- zqf yarn",
            "* zqg, rep from *",
            "zqh: 5 dc in next st",
            "Note: zqi",
            "=ZQJ=: ch 3",
            "_zqk_",
            "zql mm hook",
            "Gauge: 10 zqm",
            "(continued zqn)",
            "© zqo",
            "by zqp",
            "Width: 90 zqq cm",
            "next 3 rows: zqr",
            "Skill level: zqs",
            "To fit: zqt",
            "Yarn: zqu; zqv, (zqw)",
            "date: zqx",
            "Subject: zqy",
            "",
        ]
    ),
    st.from_regex(r"\A(zz[a-y]{1,4}[ ,.;:-]{1,2}){1,6}\Z"),
)


@given(st.lists(LINES, min_size=1, max_size=14))
@example(["BODY", "", "BODY"])
def test_no_order_of_lines_loses_a_word(lines: list[str]) -> None:
    text = "\n".join(lines)
    result = read(text)
    marks = set(re.findall(r"(?i)\bz[qz]\w+", text))
    if result.document is None:
        assert set() == marks
    else:
        assert set() == marks - words_of(result.document)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        result = read(text)
    except PatternError:
        return
    if result.document is not None:
        assert result.document.title


@pytest.mark.parametrize(("word", "names"), [("Thumb", ["Mitt", "Thumb"]), ("Press flat", ["Mitt", "Mitt"])])
def test_a_piece_named_in_front_of_its_foundation(word: str, names: list[str]) -> None:
    """The word for a piece in front of its first work heads it; other words name nothing."""
    text = (
        "Mitt\n\nMake a magic ring and work 7 sc into it. 2nd round: 2 sc in each sc (14). 3rd round: ch 3, skip 3 sc, "
        f"1 sc in each of next 11 sc. Fasten off.\n\n{word}. Rejoin yarn to first skipped sc. "
        "1st round: 1 sc in each of the 3 skipped sc, 1 sc in each of the 3 ch (6).\n"
    )
    document = read_typed(Source("mitt.txt", text), ReadOptions(TermSystem.US)).document
    assert document is not None
    assert names == [part.name for part in document.parts]
