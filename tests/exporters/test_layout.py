"""What a layout artist would circle: broken lists, towers of labels, short last lines, tables cut off, empty pages."""

from __future__ import annotations

import re
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from msgspec.structs import replace
from pypdf import PdfReader

from convert.document.lengths import Length
from convert.document.materials import Amount, Yarn
from convert.document.numbers import PerSize
from convert.document.prose import Term
from convert.document.read import ReadOptions
from convert.document.records import (
    Brand,
    CountItem,
    CountKind,
    Document,
    Label,
    Part,
    Row,
    RowKind,
    Section,
    TermSystem,
)
from convert.document.sizing import Measure, Size
from convert.document.steps import Again, ChangeColour, FastenOff, Turn
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.markdown.form import write_markdown
from convert.exporters.page.build import page_edition, page_of
from convert.exporters.page.drawing import drawing
from convert.exporters.page.edition import USUAL, Manner
from convert.exporters.page.facts import MOST_COLUMNS
from convert.exporters.page.full_words import full_word
from convert.exporters.page.records import Line, Page
from convert.exporters.page.typeset import flow_of, plain_text, text_flow
from convert.exporters.pdf.form import Look, PdfOptions, write_pdf
from convert.exporters.setting import set_count, set_ending
from convert.pipeline import check_source
from convert.source import Source
from tests.exporters.samples import GRADING, MERE, PROOF, SECOND, dc, in_size, proof_of

DEMO = Path(__file__).parents[2] / "fixtures/demo"
SIX = tuple(Size(f"s{n}", f"Size {n}") for n in range(6))


def page(document: Document, size: str | None = None, manner: Manner = USUAL) -> Page:
    return page_of(page_edition(document, None, None, TermSystem.US, size, manner))


def one_row(row: Row, sizes: tuple[Size, ...] = MERE.sizes) -> Document:
    return replace(MERE, sizes=sizes, parts=(Part("p", "P", (row,)),), pictures=())


def test_each_figure_of_a_count_stands_in_one_piece():
    flow = flow_of(("96 (106, 114, 120, 126, 134) ", Term("dc"), ", 4 ", Term("ch"), "-2 sps"), TermSystem.US)
    pieces = [part.partition(">")[2] for part in str(set_count(flow)).split('<span class="i"')[1:]]
    assert ["96 (106, 114, 120, 126, 134) dc,", "4 ch-2 sps"] == [plain(piece) for piece in pieces]


def plain(markup: str) -> str:
    return " ".join("".join(part.partition(">")[2] for part in f">{markup}".split("<")).split())


@pytest.mark.parametrize(
    ("count", "room"),
    [
        ("12 dc", "narrow"),
        ("48 (56, 64) dc", "middle"),
        ("56 (64, 72, 80, 88) hdc", "wide"),
        ("96 (106, 114, 120, 126, 134) dc", "below"),
        ("16 dc, 6 ch-1 sps, 1 ch-2 sp", "middle"),
    ],
)
def test_a_count_has_the_room_that_its_longest_figure_needs(count, room):
    assert room == Line((), count=text_flow(count)).room


def test_a_label_too_long_for_its_column_opens_the_text():
    row = Row(Label(RowKind.NEXT_ROUND, repeat=PerSize((7, 8, 10))), (dc(4),))
    document = one_row(row)
    text = write_html(document, None, None, HtmlOptions(faces=False, system=TermSystem.US)).text
    (line,) = page(document).parts[0].lines
    assert line.run_in
    assert '<p class="work"><strong class="heading">Next ' in text
    assert 1 == text.count('class="heading"')
    assert not page(one_row(SECOND)).parts[0].lines[0].run_in


def test_one_row_more_is_the_next_row_in_a_size_of_its_own():
    document = one_row(Row(Label(RowKind.NEXT_ROUND, repeat=PerSize((1, 2, 2))), (dc(4),)))
    labels = [page(document, size).parts[0].lines[0].label for size in (None, "s", "m")]
    assert ["Next 1 (2, 2) rnds", "Next rnd", "Next 2 rnds"] == labels


def test_repeats_are_told_once_or_twice_more_in_a_size_of_its_own():
    """The number of the size shown decides; a list of numbers keeps its "times"."""
    document = one_row(Row(Label(RowKind.UNLABELLED), (Again(-3, -1, times=PerSize((1, 2, 4))),)))
    told = [plain_text(page(document, size).parts[0].lines[0].text) for size in (None, "s", "m", "l")]
    ending = [text.partition("Rep last 3 ")[2].split(" ", 1)[1] for text in told]
    assert ["1 (2, 4) times more.", "once more.", "twice more.", "4 times more."] == ending


def test_a_size_that_does_not_work_a_shaping_row_has_a_dash():
    """Not a 0: nothing is worked no times, and no stitches are left."""
    (file,) = (Path(__file__).parents[2] / "fixtures/demo").glob("otter*")
    found = check_source(Source(file.name, file.read_text("utf-8")), "yaml", ReadOptions())
    assert found.written is not None
    rows = re.findall(r"Rep last \d rnds (\S+) \(.*\) times more\. — (\S+) \(", write_markdown(found.written).text)
    assert rows
    assert {("–", "–")} == set(rows)


@pytest.mark.parametrize("steps", [(FastenOff(),), (ChangeColour("A"),), (Turn(),)])
def test_a_line_that_leaves_the_stitches_as_they_are_has_no_count(steps):
    """Though the fabric knows that they are still there."""
    row = Row(Label(RowKind.UNLABELLED), steps)
    document = one_row(row)
    proof = proof_of(document, row, *(in_size(size.id, ("dc", 12)) for size in MERE.sizes))
    edition = page_edition(document, None, proof, TermSystem.US, None)
    assert "" == plain_text(page_of(edition).parts[0].lines[0].count)
    worked = Row(Label(RowKind.UNLABELLED), (dc(12),))
    other = one_row(worked)
    proof = proof_of(other, worked, *(in_size(size.id, ("dc", 12)) for size in MERE.sizes))
    edition = page_edition(other, None, proof, TermSystem.US, None)
    assert "12 dc" == plain_text(page_of(edition).parts[0].lines[0].count)


@pytest.mark.parametrize(
    ("stated", "made", "count"),
    [
        (("shell", "sc"), (("shell", 5), ("dc", 25), ("sc", 6)), "5 sh, 6 sc"),
        (("shell", "hdc"), (("shell", 5), ("dc", 25), ("sc", 6)), "25 dc, 6 sc"),
        ((), (("shell", 5), ("dc", 25), ("sc", 6)), "25 dc, 6 sc"),
    ],
)
def test_a_repeated_row_counts_as_its_author_did(stated, made, count):
    """Unless it made something else this time, or its author stated no count."""
    items = tuple(CountItem(1, CountKind.STITCH, of) for of in stated)
    again = Row(Label(RowKind.UNLABELLED), (Again(2, 3),))
    document = one_row(again)
    rows = (Row(Label(RowKind.ROW, 3), (dc(1),), items), again)
    document = replace(document, parts=(replace(document.parts[0], items=rows),))
    proof = proof_of(document, again, *(in_size(size.id, *made) for size in MERE.sizes))
    shown = page_of(page_edition(document, None, proof, TermSystem.US, None))
    assert count == plain_text(shown.parts[0].lines[1].count)


def test_a_count_stands_in_the_first_line_if_there_is_no_other():
    """Beside a label of two lines, such as "Rnd 3" over "Yarn A"."""
    short = Line(text_flow("[Sc in next 4 sts, invdec over next 2 sts] 6 times."), "Rnd 3", count=text_flow("30 sts"))
    assert not short.level
    assert replace(short, colour="A").level
    assert replace(short, side="RS").level
    assert not replace(short, colour="A", text=text_flow("dc in next st, " * 5)).level


@pytest.mark.slow
@pytest.mark.timeout(60)
def test_a_repeat_begins_in_the_line_of_what_is_before_it():
    """It breaks inside itself rather than before its first stitch."""
    found = check_source(Source("tideline-scarf.md", _TIDELINE.read_text("utf-8")), "markdown", ReadOptions())
    assert found.document is not None
    written = write_pdf(found.document, found.grading, found.proof, PdfOptions(TermSystem.UK, size="slim"))
    text = "\n".join(page.extract_text() for page in PdfReader(BytesIO(written.data)).pages)
    assert re.search(r"2 tr in same st, \*miss next 2 tr", text)
    assert re.search(r"dc in first tr, \*miss next 2 tr", text)


_TIDELINE = Path(__file__).parents[2] / "fixtures/demo/tideline-scarf.md"


@pytest.mark.parametrize(
    ("text", "ending"),
    [
        ("The scarf grows until the border finishes it.", "finishes it."),
        ("A cap worked from the crown downwards in unhurriedness.", "unhurriedness."),
        ("Fold it.", ""),
    ],
)
def test_a_paragraph_does_not_end_in_one_short_word(text, ending):
    markup = str(set_ending(text_flow(text)))
    tied = f'<span class="t">{ending}</span>'
    assert text == plain(markup)
    assert (ending if " " not in ending else tied) in markup
    assert markup.endswith(tied) == (" " in ending)


def test_the_mark_of_a_repeat_stays_with_what_sends_back_to_it():
    flow = flow_of(("*", Term("dc"), " in next st; rep from * around"), TermSystem.US, marks=True)
    clumps = ["".join(piece.text for piece in clump) for clump in flow]
    assert ["rep", "from *", "around"] == clumps[-3:]


def test_long_words_stay_with_their_number():
    manner = Manner(full_words=True)
    document = replace(one_row(SECOND), notes=(("Work 2 ", Term("hdc"), " here."),))
    notes = page(document, manner=manner).notes
    assert notes is not None
    clumps = ["".join(piece.text for piece in clump) for clump in notes.paragraphs[0]]
    assert ["Work", "2 half double crochets", "here."] == clumps
    assert ("round", "Round") == (full_word("rnd", TermSystem.US), full_word("Rnd", TermSystem.US))


def test_large_print_has_facts_where_a_table_has_no_room():
    """A table of many columns would be cut off; its figures are all there, line by line."""
    table = page_of(page_edition(MERE, GRADING, PROOF, TermSystem.US, None, Manner(large=True)))
    assert () == table.size_facts
    assert table.sizes is not None
    many = replace(MERE, sizes=tuple(replace(s, target=s.target + _measures()) for s in MERE.sizes))
    wide = page(many, manner=Manner(large=True))
    assert wide.sizes is not None
    assert len(wide.sizes.heads) > MOST_COLUMNS
    assert ["Small", "Medium", "Large"] == [fact.label for fact in wide.size_facts]
    said = [plain_text(line) for line in wide.size_facts[0].lines]
    assert [f"{head}: {cell}" for head, cell in zip(wide.sizes.heads[1:], wide.sizes.lines[0][1:], strict=True)] == said
    assert () == page(many).size_facts


def _measures():
    return tuple(Measure(name, Length(Decimal(20 + n))) for n, name in enumerate(("neck", "wrist", "sleeve length")))


def test_a_drawing_is_as_large_as_what_it_shows():
    """Long figures lie inside its field; a shape without a measurement below leaves no room for one."""

    def field(shape: str, name: str, sizes: int) -> tuple[int, int, int, int]:
        own = tuple(Size(f"s{n}", "", (Measure(name, Length(Decimal(100 + n))),)) for n in range(sizes))
        found = drawing(page_edition(replace(MERE, shape=shape, sizes=own), None, None, TermSystem.US, None))
        assert found is not None
        return found.box

    left, upper, width, height = field("triangle", "depth", 2)
    assert (-8, 416) == (left, width)
    assert upper + height < 175
    assert upper + field("square", "width", 2)[3] >= 165 + 20 + 32
    assert field("triangle", "depth", 12)[2] > 550
    assert field("square", "width", 12)[0] < -50


@pytest.mark.slow
@pytest.mark.timeout(60)
def test_large_print_keeps_every_figure_of_a_wide_table():
    many = replace(MERE, sizes=tuple(replace(s, target=s.target + _measures()) for s in MERE.sizes))
    data = write_pdf(many, None, None, PdfOptions(TermSystem.US, look=Look.LARGE)).data
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(BytesIO(data)).pages).split())
    assert "Sleeve length: 8¾ in (22 cm)" in text


@pytest.mark.slow
@pytest.mark.timeout(60)
def test_the_second_edition_opens_without_the_last_heading_of_the_first():
    """Its first page is headed by the title alone, every other one by its own first heading too."""
    document = replace(MERE, pictures=(), care=(("Wash by hand.",),), errata=(), credits=(), sections=())
    document = replace(document, brand=Brand("Thornfell Makes"))
    pages = PdfReader(BytesIO(write_pdf(document, None, None, PdfOptions(both=True)).data)).pages
    heads = [page.extract_text().splitlines()[-2].strip() for page in pages]
    assert ["Mere Side Cap", "Mere Side Cap Abbreviations", "Mere Side Cap Ear flap"] == heads[3:]
    assert heads[1:3] == heads[4:]


def test_large_print_breaks_no_name_of_a_size():
    """A column is at least as wide as its longest word, however long the others are."""
    named = replace(MERE, sizes=(Size("a", "Travelling"), Size("b", "Receiving")), parts=(), pictures=())
    measures = tuple(Measure(name, Length(Decimal("64.77"), "in")) for name in ("width", "length", "diagonal"))
    document = replace(named, sizes=tuple(replace(size, target=measures) for size in named.sizes))
    data = write_pdf(document, None, None, PdfOptions(TermSystem.US, look=Look.LARGE)).data
    text = PdfReader(BytesIO(data)).pages[0].extract_text() + PdfReader(BytesIO(data)).pages[1].extract_text()
    assert {"Travelling", "Receiving"} <= set(re.findall(r"\w+", text.partition("Diagonal")[2].partition("Numbers")[0]))


def test_a_list_of_facts_breaks_between_the_sizes_lists():
    amount = Amount(metres=tuple(map(Decimal, range(600, 1200, 100))))
    many = replace(MERE, sizes=SIX, materials=replace(MERE.materials, yarns=(Yarn(name="Wool", amount=amount),)))
    text = write_html(replace(many, pictures=()), None, None, HtmlOptions(faces=False, system=TermSystem.UK)).text
    pieces = [plain(one) for one in text.partition("<dt>Yarn</dt>")[2].partition("</dl>")[0].split('<span class="i"')]
    assert "600 (700, 800, 900, 1000, 1100) m," in [piece.removeprefix(">").strip() for piece in pieces]


def test_a_crowded_table_has_every_second_unit_below_the_first():
    """Else some cells break and others do not. Large print is crowded sooner."""
    more = (Measure("hem", Length(Decimal(90))), Measure("back", Length(Decimal(40))))
    many = replace(MERE, sizes=tuple(replace(s, target=s.target + _measures() + more) for s in MERE.sizes), pictures=())
    some = replace(MERE, sizes=tuple(replace(s, target=_measures()) for s in MERE.sizes), pictures=())
    tables = [table for table in (page(many).sizes, page(some).sizes) if table is not None]
    crowded = [[table.crowded(large=large) for large in (False, True)] for table in tables]
    assert [[True, True], [False, True]] == crowded
    assert 'class="crowded"' in write_html(many, None, None, HtmlOptions(faces=False)).text
    assert 'class="crowded"' not in write_html(MERE, None, None, HtmlOptions(faces=False)).text


def test_neighbouring_sizes_are_told_by_the_first_and_the_last():
    def only(*ids: str) -> str:
        return page(one_row(replace(SECOND, sizes=ids), SIX)).parts[0].lines[0].sizes

    assert "Size 1 to Size 5 only" == only("s1", "s2", "s3", "s4", "s5")
    assert "Size 1, Size 2 only" == only("s1", "s2")
    assert "Size 0, Size 1, Size 3 only" == only("s0", "s1", "s3")


def test_the_yarn_of_a_part_is_told_once_if_there_is_one():
    """At its head; where it changes, every row tells its own."""
    two = replace(MERE.materials, yarns=(Yarn("Wool", "A"), Yarn("Wool", "B")))
    plain_rows = (Row(Label(RowKind.ROW, 1), (ChangeColour("B"), dc(4))), Row(Label(RowKind.ROW, 2), (dc(4),)))
    striped = (*plain_rows, Row(Label(RowKind.ROW, 3), (ChangeColour("A"), dc(4))))
    document = replace(MERE, materials=two, pictures=())
    one, other = page(replace(document, parts=(Part("p", "EARS", plain_rows, make=2), Part("q", "Q", striped)))).parts
    assert ("Ears", "Make 2 · Yarn B", ["", ""]) == (one.heading, one.aside, [line.colour for line in one.lines])
    assert ("", ["B", "B", "A"]) == (other.aside, [line.colour for line in other.lines])


def test_balls_follow_from_what_the_author_says_of_one():
    wool = Yarn(name="Wool", ball_metres=Decimal(180), amount=Amount(metres=(Decimal(420), Decimal(690))))
    two = replace(MERE, sizes=MERE.sizes[:2], materials=replace(MERE.materials, yarns=(wool,)), pictures=())
    assert plain_text(page(two).materials[0].lines[-1]).startswith("3 (4) balls; ")
    bare = replace(wool, ball_metres=None)
    two = replace(two, materials=replace(MERE.materials, yarns=(bare,)))
    assert "ball" not in plain_text(page(two).materials[0].lines[-1])


def test_what_the_author_says_of_the_finished_size_stands_before_the_materials():
    """In both units, the reader's own first."""
    told = Section("FINISHED SIZE", (("about 9 cm tall",),))
    document = replace(MERE, sections=(told, Section("Thanks", (("Yes.",),))), pictures=())
    (measured,) = page(document).measured
    assert ("Finished size", "About 3½ in (9 cm) tall") == (measured.heading, plain_text(measured.paragraphs[0]))
    assert [] == [chapter for chapter in page(document).after if chapter.heading == "Finished size"]
    text = write_html(document, None, None, HtmlOptions(faces=False)).text
    assert text.index(">Finished size</h2>") < text.index(">Materials</h2>") < text.index(">Thanks</h2>")
    assert '<a href="#section-1">Finished size</a>' in text


def test_several_slip_stitches_are_counted_as_such():
    row = Row(Label(RowKind.ROW, 1), (dc(4),), (CountItem(25, CountKind.STITCH, of="sl-st"),))
    one = Row(Label(RowKind.ROW, 1), (dc(4),), (CountItem(1, CountKind.STITCH, of="sl-st"),))
    counts = {
        system: [
            plain_text(page_of(page_edition(one_row(r), None, None, system, None)).parts[0].lines[0].count)
            for r in (row, one)
        ]
        for system in TermSystem
    }
    assert {TermSystem.US: ["25 sl sts", "1 sl st"], TermSystem.UK: ["25 ss", "1 ss"]} == counts
    full = page(one_row(row), manner=Manner(full_words=True)).parts[0].lines[0].count
    assert "25 slip stitches" == plain_text(full)


def test_amounts_of_many_sizes_stand_in_lines_of_their_own():
    amount = Amount(balls=tuple(map(Decimal, range(4, 10))), metres=tuple(map(Decimal, range(600, 1200, 100))))
    yarns = (Yarn(name="Wool", amount=amount),)
    many = replace(MERE, sizes=SIX, materials=replace(MERE.materials, yarns=yarns), pictures=())
    told = [plain_text(line) for line in page(many).materials[0].lines]
    assert ["Wool", "4 (5, 6, 7, 8, 9) balls"] == told[:2]
    assert told[2].endswith(" yd, 600 (700, 800, 900, 1000, 1100) m")
    assert "4 balls; 660 yd (600 m)" == plain_text(page(many, SIX[0].id).materials[0].lines[1])
