"""What the page shows, before any markup."""

from __future__ import annotations

from decimal import Decimal

import pytest
from msgspec.structs import replace

from convert.document.materials import Materials, Yarn
from convert.document.numbers import PerSize
from convert.document.records import Document, Label, Part, Row, RowKind, TermSystem
from convert.document.steps import Place, Which, Work
from convert.errors import OutputRefused
from convert.exporters.page.build import page_edition, page_of, unknown_cautions
from convert.exporters.page.edition import Manner
from convert.exporters.page.records import Page
from convert.exporters.page.typeset import plain_text
from tests.exporters.samples import GRADING, LARGER, MERE, PROOF, UNSTATED, in_size, proof_of


def page(document: Document = MERE, system: TermSystem = TermSystem.US, size: str | None = None, proof=PROOF) -> Page:
    return page_of(page_edition(document, GRADING, proof, system, size))


def counts(shown: Page, part: int = 0) -> list[str]:
    return [plain_text(line.count) for line in shown.parts[part].lines]


def test_facts_in_us_terms():
    shown = page()
    assert ("en-US", "Mere Side Cap", "Ada Thornfell") == (shown.lang, shown.title, shown.designer)
    assert ("Easy", "3 sizes: Small, Medium, Large") == shown.byline
    assert ["16 sts and 9 rounds in dc measure 4 in (10 cm)", "Measured after washing."] == [
        *map(plain_text, shown.gauge)
    ]
    assert ("© 2026 Ada Thornfell", "Version 1.1", "March 14, 2026") == shown.closing
    assert ["A close cap in double crochets, worked from the crown down."] == [*map(plain_text, shown.summary)]


def test_facts_in_uk_terms():
    shown = page(system=TermSystem.UK)
    assert "en-GB" == shown.lang
    assert "16 sts and 9 rounds in tr measure 10 cm (4 in)" == plain_text(shown.gauge[0])
    assert "14 March 2026" == shown.closing[-1]
    assert ["A close cap in treble crochets, worked from the crown down."] == [*map(plain_text, shown.summary)]


def test_sizes_measure_what_the_grader_found():
    """The grader's figure takes the place of the target; a target without one stays."""
    table = page().sizes
    assert table is not None
    assert ("Size", "To fit", "Around", "Depth") == table.heads
    assert ("Small", "head 19¾–21½ in (50–54 cm)", "19¾ in (50.4 cm)", "8 in (20.3 cm)") == table.lines[0]
    assert ("Large", "", "24½ in (61.7 cm)", "8 in (20.3 cm)") == table.lines[2]
    assert "Numbers are given for Small, with Medium, Large in brackets." in page().sizes_note


def test_one_size_shows_its_own_numbers_alone():
    shown = page(size="L")
    assert shown.sizes is not None
    assert ["Large"] == [line[0] for line in shown.sizes.lines]
    assert "" == shown.sizes_note
    assert ["64 sc, 6 ch-2 sps"] == counts(shown, 1)
    assert "3 balls; 290 yd (260 m)" in [plain_text(flow) for flow in shown.materials[0].lines]


def test_a_row_for_other_sizes_is_left_out_of_one_size():
    assert ["Rnd 1", "Rnd 2", "", "Rnd 3", ""] == [line.label for line in page(size="s").parts[0].lines]
    told = page(size="s").parts[0].lines[-1]
    assert told.gap
    assert "Rnd 4: not worked in this size. The numbers stay the same for all sizes." == plain_text(told.text)
    assert ["Rnd 1", "Rnd 2", "", "Rnd 3", "Rnd 4"] == [line.label for line in page(size="m").parts[0].lines]


def test_a_size_that_is_not_there_is_refused():
    with pytest.raises(OutputRefused) as refused:
        page(size="xxl")
    assert "Its sizes are s, m, l." == refused.value.hint


def test_materials():
    yarn, hook, more = page().materials
    assert "Yarn A" == yarn.label
    assert [
        "Heronsfoot DK, Slate",
        "100% wool; DK weight (3); 50 g, 132 yd (120 m) a ball",
        "2 (2, 3) balls; 210 (250, 290) yd, 190 (220, 260) m",
        "or any smooth wool",
    ] == [*map(plain_text, yarn.lines)]
    assert ("Hook", ["US G-6 (4 mm)"]) == (hook.label, [*map(plain_text, hook.lines)])
    assert ("You also need", ["Stitch marker"]) == (more.label, [*map(plain_text, more.lines)])


def test_yarn_of_an_unknown_weight_class_is_shown_without_it():
    plain = replace(MERE, materials=Materials((Yarn("String", weight=9),)))
    assert [["String"]] == [[*map(plain_text, fact.lines)] for fact in page(plain).materials]


def test_counts_are_the_stated_ones_or_else_the_computed_ones():
    assert ["12 dc", "24 dc", "", "23 (27, 31) sc", ""] == counts(page())
    assert ["12 tr", "24 tr", "", "23 (27, 31) dc", ""] == counts(page(system=TermSystem.UK))


def test_without_a_proof_nothing_is_computed():
    assert ["12 dc", "24 dc", "", "", ""] == counts(page(proof=None))


def test_a_count_that_is_unknown_in_one_size_is_not_shown():
    half = proof_of(
        MERE, UNSTATED, in_size("s", ("sc", 23)), replace(in_size("m"), made=None, total=None), in_size("l", ("sc", 31))
    )
    assert "" == counts(page(proof=half))[3]


def test_a_size_that_does_not_work_the_row_has_a_dash():
    """A shell is left out where its stitches are counted already; spaces are told beside the stitches."""
    medium, large = in_size("m", ("dc", 20), ("shell", 4), ("ch-2 sp", 1)), in_size("l", ("dc", 28), ("shell", 4))
    proof = proof_of(MERE, LARGER, in_size("s", worked=0), medium, large)
    assert "– (20, 28) dc, – (1, 0) ch-2 sps" == counts(page(proof=proof))[4]


def test_a_cluster_that_is_a_stitch_of_its_own_is_counted():
    proof = proof_of(MERE, UNSTATED, *(in_size(size, ("sc", 6), ("cluster", 6), ("sl-st", 1)) for size in "sml"))
    proof = replace(
        proof, rows=(replace(proof.rows[0], sizes=tuple(replace(s, total=12) for s in proof.rows[0].sizes)),)
    )
    assert "6 sc, 6 cl" == counts(page(proof=proof))[3]


def test_kinds_that_do_not_add_up_give_the_total_alone():
    proof = proof_of(MERE, UNSTATED, *(replace(in_size(size, ("sc", 6)), total=9) for size in "sml"))
    assert "9 sts" == counts(page(proof=proof))[3]


def test_a_line_that_makes_nothing_has_no_count():
    proof = proof_of(MERE, UNSTATED, *(in_size(size) for size in "sml"))
    assert "" == counts(page(proof=proof))[3]


def test_many_kinds_of_stitches_give_the_total_alone():
    kinds = [("sc", 1), ("hdc", 2), ("dc", 3), ("tr", 4)]
    proof = proof_of(MERE, UNSTATED, *(in_size(size, *kinds) for size in "sml"))
    assert "10 sts" == counts(page(proof=proof))[3]


def test_rows_of_some_sizes_say_so():
    assert ["", "", "", "", "Medium, Large only"] == [line.sizes for line in page().parts[0].lines]
    assert "With B," == plain_text(page().parts[0].lines[4].before)


def test_a_long_label_breaks_between_its_numbers():
    """The numbers of the sizes in a label can be marked like those in the text."""
    row = replace(UNSTATED, label=Label(RowKind.NEXT_ROUND, repeat=PerSize((7, 8, 10))))
    long = replace(MERE, parts=(Part("p", "P", (row,)),))
    edition = page_edition(long, GRADING, PROOF, TermSystem.US, None, Manner(choose=True))
    (line,) = page_of(edition).parts[0].lines
    assert ("Next 7 (8, 10) rnds", 5) == (line.label, len(line.heading))
    assert [("7", 0), ("8", 1), ("10", 2)] == [(p.text, p.size) for c in line.heading for p in c if p.size >= 0]


def test_abbreviations_are_those_used_with_the_other_systems_word():
    entries = {entry.short: (entry.meaning, entry.other) for entry in page().abbreviations}
    assert ("double crochet", "tr") == entries["dc"]
    assert ("single crochet 2 together", "dc2tog") == entries["sc2tog"]
    assert ("skip", "miss") == entries["sk"]
    assert "tr" not in entries
    entries = {entry.short: (entry.meaning, entry.other) for entry in page(system=TermSystem.UK).abbreviations}
    assert ("treble crochet", "dc") == entries["tr"]
    assert "miss" not in entries, "a word that is no abbreviation needs no explanation"


def test_the_notice_names_a_stitch_that_could_be_mistaken():
    assert "Written in US terms. Here dc is double crochet; a UK pattern calls it tr." == plain_text(page().notice)
    assert plain_text(page(system=TermSystem.UK).notice).startswith("Written in UK terms. Here ")


def test_the_notice_of_a_piece_in_single_crochet_names_it():
    """In US terms no stitch of it is mistaken for another; still a UK reader is told what it is."""
    steps = (Work("sc", place=Place(which=Which.EACH)),)
    bare = Document("Square", "square", TermSystem.US, parts=(Part("p", "P", (Row(Label(RowKind.ROW, 1), steps),)),))
    said = plain_text(page_of(page_edition(bare, None, None, None, None)).notice)
    assert "Written in US terms. Here sc is single crochet; a UK pattern calls it dc." == said


def test_special_stitches_and_beginning_chains_are_explained():
    (shell,) = page().definitions
    assert ("Shell", "sh", ["5 dc.", "Five stitches from one place."]) == (
        shell.name,
        shell.short,
        [*map(plain_text, shell.how)],
    )
    notes = page(system=TermSystem.UK).notes
    assert notes is not None
    assert [
        "Do not turn.",
        "Ch 3 at the beginning of a row or round counts as 1 tr.",
        "Ch 1 at the beginning of a row or round does not count as a stitch.",
    ] == [*map(plain_text, notes.paragraphs)]


def test_parts_say_how_many_are_made():
    assert [("Crown", ""), ("Ear flap", "Make 2")] == [(part.heading, part.aside) for part in page().parts]
    per_size = replace(MERE, parts=(Part("flap", "Flap", (), make=PerSize((2, 4, 4))),))
    assert "Make 2 (4, 4)" == page(per_size).parts[0].aside
    assert "Make 4" == page(per_size, size="m").parts[0].aside


def test_cautions_show_the_text_and_unknown_ones_are_reported():
    cautions = page().cautions
    assert cautions is not None
    assert "strangle" in plain_text(cautions.paragraphs[0])
    odd = replace(MERE, cautions=("dragons",))
    assert ["dragons"] == [plain_text(p) for p in page(odd).cautions.paragraphs]  # type: ignore[union-attr]
    (finding,) = unknown_cautions(odd)
    assert "unknown-caution" == finding.code
    assert "There is no caution 'dragons'; the page shows its name alone." == finding.message


def test_sections_of_the_author_come_after_finishing_and_care():
    assert ["Finishing", "Care", "A warmer cap"] == [chapter.heading for chapter in page().after]


def test_a_bare_document_has_a_page():
    """A title alone is enough."""
    shown = page_of(page_edition(Document("Square", "square", TermSystem.UK), None, None, None, None))
    assert (None, (), (), None) == (shown.sizes, shown.materials, shown.parts, shown.notes)
    assert "Written in UK terms." == plain_text(shown.notice)


def test_amounts_shorter_than_the_sizes_are_left_as_given():
    odd = replace(
        MERE,
        materials=Materials(
            (Yarn("String", amount=replace(MERE.materials.yarns[0].amount, balls=(Decimal(2), Decimal(3)))),)
        ),
    )
    assert "2 (3) balls" in plain_text(page(odd, size="l").materials[0].lines[1])


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("The ch 3 at the start of a row counts as the first dc.", [1]),
        ("The chain at the beginning of a round never counts.", []),
        ("Ch 4 at the start counts as dc and ch 1.", [3, 1]),
        ("Count your stitches before you begin.", [3, 1]),
    ],
)
def test_what_a_note_tells_of_beginning_chains_is_not_told_again(note, told):
    """The document's own chains of 3 and 1 are explained unless the author has done it."""
    notes = page(replace(MERE, notes=((note,),))).notes
    assert notes is not None
    said = [plain_text(paragraph) for paragraph in notes.paragraphs[1:]]
    assert told == [int(text.split()[1]) for text in said if text.startswith("Ch ")]
