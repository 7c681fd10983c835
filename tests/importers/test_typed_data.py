"""Materials, gauge, sizes, stitches and conventions as people type them."""

from __future__ import annotations

from decimal import Decimal

import pytest

from convert.document.lengths import Length
from convert.document.materials import Materials
from convert.document.read import ReadOptions
from convert.document.records import BeginningChain, Document, TermSystem
from convert.document.steps import Counts, Verbatim, Work
from convert.errors import LimitExceeded
from convert.importers.making import named
from convert.importers.typed.conventions import is_spiral, read_convention
from convert.importers.typed.form import read_typed
from convert.importers.typed.gauge import read_gauge
from convert.importers.typed.materials import read_materials
from convert.importers.typed.sizes import read_sizes
from convert.limits import LIMITS
from convert.source import Passage, Source
from convert.terms.naming import write_prose

US, UK = TermSystem.US, TermSystem.UK


def materials(text: str, section: str = "materials") -> Materials:
    return read_materials([(section, Passage(text))], US)


def document(text: str, system: TermSystem = US) -> Document:
    found = read_typed(Source("mat.txt", text), ReadOptions(system)).document
    assert found is not None
    return found


# Materials


@pytest.mark.parametrize(
    ("text", "mm", "use"),
    [
        ("5 mm hook", "5", ""),
        ("4.50mm crochet hook", "4.5", ""),
        ("US H/8 (5.00 mm) crochet hook", "5", ""),
        ("3,5 mm hook for the ears", "3.5", "for the ears"),
        ("Crochet hook size K", "6.5", "Crochet hook size K"),
        ("Steel crochet hook No. 7", "1.65", "Steel crochet hook No. 7"),
        ("G-6 (5 mm) hook", "5", "G-6 (5 mm) hook"),
    ],
)
def test_hooks(text: str, mm: str, use: str) -> None:
    (hook,) = materials(text).hooks
    assert (Decimal(mm), use) == (hook.mm, write_prose(hook.use, US))


def test_two_hooks_on_one_line() -> None:
    assert [Decimal(5), Decimal("4.5")] == [hook.mm for hook in materials("5 mm and 4.5 mm hooks").hooks]


@pytest.mark.parametrize(
    "text", ["a hook of your choice", "Yarn needle", "Safety eyes, 8 mm", "Scissors", "a kind heart"]
)
def test_what_is_not_understood_stays_a_notion(text: str) -> None:
    found = materials(text)
    assert ((text,),) == found.notions
    assert () == found.hooks + found.yarns


@pytest.mark.parametrize(
    ("text", "name", "expected"),
    [
        (
            "Riverbend Aran (100 g / 180 m), 3 balls in Moss",
            "Riverbend Aran",
            {"weight": 4, "colour": "Moss", "ball_grams": Decimal(100), "ball_metres": Decimal(180)},
        ),
        ("MC: Fernlea DK, 2 (3, 4) skeins, colour Rust", "Fernlea DK", {"key": "MC", "weight": 3, "colour": "Rust"}),
        ("50 m of black yarn (A)", "black yarn", {"key": "A", "weight": None}),
        ("Yarn B: worsted weight scraps", "worsted weight scraps", {"key": "B", "weight": 4}),
        ("8-70 yd. skeins Clover cotton", "8-70 yd. skeins Clover cotton", {"weight": None}),
    ],
)
def test_yarns(text: str, name: str, expected: dict[str, object]) -> None:
    (yarn,) = materials(text).yarns
    assert name == yarn.name
    assert expected == {key: getattr(yarn, key) for key in expected}


def test_amounts_of_yarn_per_size() -> None:
    (yarn,) = materials("Fernlea DK, 2 (3, 4) skeins").yarns
    assert (Decimal(2), Decimal(3), Decimal(4)) == yarn.amount.balls


def test_one_yarn_in_several_colours() -> None:
    first, second = materials(
        "Clover cotton, 100% cotton, 50 g = 130 m: 1 ball each of A (heather) and B (cream)"
    ).yarns
    assert [("A", "heather"), ("B", "cream")] == [(yarn.key, yarn.colour) for yarn in (first, second)]
    assert ("Clover cotton", "100% cotton", Decimal(130)) == (second.name, second.fibre, second.ball_metres)
    assert ((Decimal(1),), ()) == (second.amount.balls, second.note)


@pytest.mark.parametrize(
    ("text", "yarn", "mm", "notions"),
    [
        (
            "4 (4, 5) balls of DK cotton, 4 mm hook, stitch markers, scissors",
            "DK cotton",
            "4",
            ["stitch markers", "scissors"],
        ),
        ("Hook 3.5 mm, 100 g sock wool", "sock wool", "3.5", []),
        ("Pearl cotton, in two colours, hook 2.5 mm", "Pearl cotton", "2.5", []),
    ],
)
def test_a_line_of_everything_parted_by_commas(text: str, yarn: str, mm: str, notions: list[str]) -> None:
    found = materials(text)
    assert [yarn] == [one.name for one in found.yarns]
    assert [(Decimal(mm), ())] == [(hook.mm, hook.use) for hook in found.hooks]
    assert [(notion,) for notion in notions] == list(found.notions)


def test_items_parted_by_semicolons() -> None:
    found = materials("2 balls Fernlea cotton; 3 mm hook; pins")
    assert (1, 1, 1) == (len(found.yarns), len(found.hooks), len(found.notions))


# Gauge


@pytest.mark.parametrize(
    ("text", "stitches", "rows", "over", "stitch", "in_words"),
    [
        ("16 sts and 9 rows = 10 cm in dc", 16, 9, Length(Decimal(10)), "dc", False),
        ("7 sc = 2 inches", 7, None, Length(Decimal("5.08"), "in"), "sc", False),
        ("3 sts = 1 inch; 4 rows = 1 inch", 3, 4, Length(Decimal("2.54"), "in"), None, False),
        ("6 sts = 2 in; 4 rows = 1 in", 6, 8, Length(Decimal("5.08"), "in"), None, False),
        ("16 dc x 8 rows to 10 x 10 cm", 16, 8, Length(Decimal(10)), "dc", False),
        ("14 hdc and 10 rounds over 4 in / 10 cm", 14, 10, Length(Decimal("10.16"), "in"), "hdc", False),
        ("12 sts over 4 in / 12 cm", 12, None, Length(Decimal("10.16"), "in"), None, True),
        ("18 sts = 10 cm in sc, using a 4 mm hook", 18, None, Length(Decimal(10)), "sc", True),
        ("4½ sts = 1 in", "4.5", None, Length(Decimal("2.54"), "in"), None, False),
    ],
)
def test_gauges(text: str, stitches: int, rows: int | None, over: Length, stitch: str | None, in_words: bool) -> None:
    gauge = read_gauge(Passage(text), US)
    assert (Decimal(stitches), None if rows is None else Decimal(rows), over, stitch) == (
        gauge.stitches,
        gauge.rows,
        gauge.over,
        gauge.stitch,
    )
    assert (text if in_words else "") == write_prose(gauge.words, US)


@pytest.mark.parametrize(
    ("text", "repeats", "each", "rows", "stitch", "in_words"),
    [
        ("2 repeats of 6 sts and 4 rows = 10 cm", 2, 6, 4, None, False),
        ("2½ pattern repeats (12 sts each) = 10 cm; 8 rows = 10 cm", "2.5", 12, 8, None, False),
        ("3 shells of 6 sts and 5 rows = 4 in in dc", 3, 6, 5, "dc", False),
        # Nothing tells how wide a shell is in stitches: the rows are known, the rest stands in words.
        ("3 shells and 5 rows = 4 in", None, 0, 5, None, True),
    ],
)
def test_gauges_over_repeats(
    text: str, repeats: str | int | None, each: int, rows: int, stitch: str | None, in_words: bool
) -> None:
    """So many repeats of the stitch pattern, or groups that are repeats, in place of stitches."""
    gauge = read_gauge(Passage(text), US)
    assert (None if repeats is None else Decimal(repeats), each, Decimal(rows), stitch, None) == (
        gauge.repeats,
        gauge.repeat,
        gauge.rows,
        gauge.stitch,
        gauge.stitches,
    )
    assert (text if in_words else "") == write_prose(gauge.words, US)


def test_a_gauge_may_end_as_a_sentence_does() -> None:
    gauge = read_gauge(Passage("17 dc and 9 rounds = 4 inches."), US)
    assert (17, 9, True, ()) == (gauge.stitches, gauge.rows, gauge.rounds, gauge.words)


def test_a_gauge_of_a_motif_stays_in_words() -> None:
    gauge = read_gauge(Passage("First 3 rnds measure 8 cm."), US)
    assert gauge.stitches is None
    assert ("First 3 rnds measure 8 cm.",) == gauge.words


def test_a_stitch_of_the_other_system_is_no_stitch_here() -> None:
    assert read_gauge(Passage("14 tr = 10 cm"), UK).stitch == "dc"
    assert read_gauge(Passage("14 htr = 10 cm"), US).words == ("14 htr = 10 cm",)


# Sizes


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("S (M, L)", ["S", "M", "L"]),
        ("XS [S: M: L]", ["XS", "S", "M", "L"]),
        ("Small, Medium, Large", ["Small", "Medium", "Large"]),
        ("S/M (L/XL)", ["S/M", "L/XL"]),
        ("0-3 months (3-6 months, 6-12 months)", ["0-3 months", "3-6 months", "6-12 months"]),
        ("One size", []),
        ("Directions are for the small size, with larger ones in brackets", []),
        ("S (S, M)", []),
    ],
)
def test_sizes(text: str, names: list[str]) -> None:
    assert names == [size.name for size in read_sizes(Passage(text))]


VEST = """\
Vest

Sizes: S (M, L)
To fit chest: 80 (90, 100) cm
Finished measurements
Chest: 86 (96, 106) cm
Length: 19 (20, 21) in
Sleeve: as long as you like

Row 1: Ch 20 (24, 28), sc in 2nd ch from hook.
Size L only: Row 2: Sc in each st.
"""


def test_sizes_with_their_measurements() -> None:
    vest = document(VEST)
    assert ["chest 80 cm", "chest 90 cm", "chest 100 cm"] == [size.to_fit for size in vest.sizes]
    assert [("chest", "86 cm"), ("length", "19 in")] == [(m.name, m.length.said) for m in vest.sizes[0].target]
    assert [("Finished measurements", (("Sleeve: as long as you like",),))] == [
        (s.heading, s.paragraphs) for s in vest.sections
    ]


def test_rows_know_the_sizes() -> None:
    (part,) = document(VEST).parts
    assert [(), ("l",)] == [row.sizes for row in part.rows]


def test_measurements_that_do_not_match_the_sizes_are_kept_in_words() -> None:
    found = document("Vest\n\nSizes: S (M, L)\nChest: 86 (96) cm\n\nRow 1: Ch 6, sc in 2nd ch from hook.\n")
    assert () == found.sizes[0].target
    assert "Chest: 86 (96) cm" in [write_prose(p, US) for s in found.sections for p in s.paragraphs]


# Stitches


def special(lines: str, row: str = "Row 1: Ch 6, sc in 2nd ch from hook.", system: TermSystem = US) -> Document:
    return document(f"Mat\n\nSpecial stitches\n{lines}\n\nINSTRUCTIONS\n{row}\n", system)


@pytest.mark.parametrize(
    ("line", "name", "abbreviation"),
    [
        ("Wing fan: 5 dc in next st", "wing fan", "wing fan"),
        ("Wing fan (wf): 5 dc in next st", "wing fan", "wf"),
        ("Wing fan - 5 dc in next st.", "wing fan", "wing fan"),
        ("Wing fan = 5 dc in next st", "wing fan", "wing fan"),
        ("wf = wing fan: 5 dc in next st", "wing fan", "wf"),
        ("wf: wing fan (5 dc in next st)", "wing fan", "wf"),
        ("Wing fan\n5 dc in next st", "wing fan", "wing fan"),
        ("• Wing fan: 5 dc in next st", "wing fan", "wing fan"),
        ("Shell: 5 dc in next st", "shell", "shell"),
        ("V-stitch (V-st): 5 dc in next st", "V-stitch", "V-st"),
    ],
)
def test_special_stitches(line: str, name: str, abbreviation: str) -> None:
    (found,) = special(line).specials
    assert (name, abbreviation) == (found.name, found.abbreviation)
    assert ["dc"] == [step.stitch for step in found.steps if isinstance(step, Work)]
    assert () == found.words


def test_a_definition_that_cannot_be_read_is_kept_in_words() -> None:
    (found,) = special("Wing fan: whisper to the yarn, then dc in next st").specials
    assert () == found.steps
    assert "whisper to the yarn, then dc in next st" == write_prose(found.words, US)


def test_a_definition_may_use_an_earlier_one() -> None:
    first, second = special("Wing fan: 5 dc in next st\nTwin fan: wing fan in next st, wing fan in next st").specials
    assert {first.id} == {step.stitch for step in second.steps if isinstance(step, Work)}


def test_rows_use_the_stitches_of_the_author() -> None:
    found = special("Wing fan (wf): 5 dc in next st", "Row 2: wf in next st.")
    assert [["wing-fan"]] == [
        [s.stitch for s in row.steps if isinstance(s, Work)] for part in found.parts for row in part.rows
    ]


def test_a_plain_stitch_explained_again_is_no_stitch_of_the_authors() -> None:
    found = special("tr2tog = work 2 tr together\nhtr: yrh, insert hook", "Row 1: Ch 6, tr2tog over next 2 ch.", UK)
    assert () == found.specials
    assert ["tr2tog = work 2 tr together", "htr: yrh, insert hook"] == [
        write_prose(p, UK) for p in found.sections[0].paragraphs
    ]
    assert not any(isinstance(step, Verbatim) for step in found.parts[0].rows[0].steps)


def test_a_list_of_abbreviations_on_one_line() -> None:
    found = document(
        "Mat\n\nAbbreviations: ch = chain; sc = single crochet; st(s) = stitch(es); zz = zigzag yarn\n\nRow 1: Ch 6.\n"
    )
    assert ["zz = zigzag yarn"] == [write_prose(p, US) for s in found.sections for p in s.paragraphs]


def test_abbreviations_of_the_other_system_are_kept() -> None:
    found = document(
        "Mat\n\nAbbreviations\ndc = double crochet\ntr = treble\nhtr = half treble\n\nRow 1: Ch 6, sc in ring.\n", US
    )
    assert ["htr = half treble"] == [write_prose(p, US) for s in found.sections for p in s.paragraphs]


def test_a_definition_in_a_list_of_abbreviations() -> None:
    (found,) = document(
        "Mat\n\nAbbreviations\nch = chain\nsh = shell (5 dc in next st)\n\nRow 1: Ch 6, sh in ring.\n"
    ).specials
    assert ("shell", "sh", "shells") == (found.name, found.abbreviation, found.plural)


# Conventions


@pytest.mark.parametrize(
    ("text", "system", "chains", "counts", "whole"),
    [
        ("Beginning ch 3 counts as dc throughout.", US, 3, Counts("dc"), True),
        ("Turning 3ch counts as 1tr throughout.", UK, 3, Counts("dc"), True),
        ("The ch 3 at the beginning of each round always counts as a dc.", US, 3, Counts("dc"), True),
        ("Starting chain 4 counts as first dc and ch 1.", US, 4, Counts("dc", 1), True),
        ("Ch 1 at beginning of row does not count as a stitch.", US, 1, Counts(), True),
        ("Turning ch 2 does not count.", US, 2, Counts(), True),
        ("Beginning ch 3 counts as dc, so skip the first stitch.", US, 3, Counts("dc"), False),
    ],
)
def test_conventions(text: str, system: TermSystem, chains: int, counts: Counts, whole: bool) -> None:
    found = read_convention(Passage(text), system)
    assert found is not None
    assert (BeginningChain(chains, counts), whole) == (found.chain, found.whole)


@pytest.mark.parametrize(
    "text",
    [
        "Ch 3, dc in next st.",
        "Ch 3 (counts as dc), turn.",
        "Ch 3 counts as dc.",
        "Count your stitches.",
        "Beginning ch 3 counts as htr",
    ],
)
def test_no_conventions(text: str) -> None:
    assert read_convention(Passage(text), US) is None


def test_a_note_that_says_more_keeps_its_words_and_still_counts() -> None:
    found = document(
        "Mat\n\nNotes\nBeginning ch 3 counts as dc, so skip the first stitch.\n\nRow 1: Ch 6, dc in 4th ch from hook.\n"
    )
    assert (BeginningChain(3, Counts("dc")),) == found.beginning_chains
    assert ["Beginning ch 3 counts as dc, so skip the first stitch."] == [write_prose(note, US) for note in found.notes]


@pytest.mark.parametrize(
    "text", ["Work in a spiral.", "worked in continuous rounds", "Do not join rounds.", "without joining the rounds"]
)
def test_spirals(text: str) -> None:
    assert is_spiral(text)


def test_no_spiral() -> None:
    assert not is_spiral("Join each round with a sl st. Do not turn.")


def test_more_sizes_than_the_limit_are_refused() -> None:
    names = ", ".join(f"s{number}" for number in range(LIMITS.sizes + 1))
    with pytest.raises(LimitExceeded):
        document(f"Vest\n\nSizes: {names}\n\nRow 1: Ch 6.\n")


# Headings that say how many are made


@pytest.mark.parametrize(
    ("heading", "name", "number"),
    [
        ("EARS (make 2)", "EARS", 2),
        ("Wings x 4", "Wings", 4),
        ("3 x Petals", "Petals", 3),
        ("Leaf, make six pieces", "Leaf", 6),
        ("Sleeves — work 2 alike", "Sleeves", 2),
        ("Make up", "Make up", 1),
        ("Wall 10 x 10 cm", "Wall 10 x 10 cm", 1),
    ],
)
def test_how_many_are_made(heading: str, name: str, number: int) -> None:
    """A heading's number of pieces is no part of its name; other numbers are."""
    assert (name, number) == named(heading)


@pytest.mark.parametrize(
    ("line", "first", "last"),
    [
        ('Finished circumference: 40 (47, 53) cm / 15 3/4 (18 1/2, 20 3/4)"', "40 cm", "53 cm"),
        ("Finished circumference: 40 (47, 53) cm [15¾ (18½, 20¾) in]", "40 cm", "53 cm"),
        ("Finished circumference: 15 3/4 (18 1/2, 20 3/4) inches", "15.75 in", "20.75 in"),
    ],
)
def test_lengths_in_both_systems_are_told_once(line, first, last):
    sizes = document(f"Cap\n\nSizes: S (M, L)\n{line}\n\nRnd 1: 6 sc in adjustable ring. (6)\n").sizes
    assert [("finished-circumference", first)] == [(m.name, m.length.said) for m in sizes[0].target]
    assert [("finished-circumference", last)] == [(m.name, m.length.said) for m in sizes[2].target]


def test_lengths_that_differ_between_the_systems_stay_as_they_are_said():
    """No one can tell which of the two lists is wrong."""
    text = "Cap\n\nSizes: S (M, L)\nBust: 40 (47, 53) cm / 15 (18, 26) in\n\nRnd 1: 6 sc in adjustable ring. (6)\n"
    found = document(text)
    assert () == found.sizes[0].target
    assert ["Bust: 40 (47, 53) cm / 15 (18, 26) in"] == [
        write_prose(paragraph, US, ()) for section in found.sections for paragraph in section.paragraphs
    ]


# Yarns in several colours, and what goes with a hook


@pytest.mark.parametrize(
    "text",
    [
        "Gannet DK (50g/120m) – 6 balls Slate (A), 4 balls Foam (B) and 2 balls Sand (C)",
        "Gannet DK, 50g/120m: Slate (A) – 6 balls, Foam (B) – 4 balls and Sand (C) – 2 balls",
    ],
)
def test_one_yarn_in_several_colours_with_the_balls_of_each(text):
    yarns = materials(text, "yarn").yarns
    assert {("Gannet DK", Decimal(50), Decimal(120))} == {(y.name, y.ball_grams, y.ball_metres) for y in yarns}
    assert [("A", "Slate", 6), ("B", "Foam", 4), ("C", "Sand", 2)] == [
        (yarn.key, yarn.colour, *yarn.amount.balls) for yarn in yarns
    ]


def test_what_goes_with_a_hook_is_no_use_of_it():
    found = materials("4.5mm hook, tapestry needle, 2 stitch markers (locking)", "hook")
    assert [(Decimal("4.5"), ())] == [(hook.mm, hook.use) for hook in found.hooks]
    assert [("tapestry needle",), ("2 stitch markers (locking)",)] == [*found.notions]
    (hook,) = materials("5 mm hook, or size to obtain gauge", "hook").hooks
    assert "5 mm hook, or size to obtain gauge" == write_prose(hook.use, US, ())


@pytest.mark.parametrize(
    ("text", "notion"),
    [
        ("DK cotton, hook 3 mm, eyes 9 mm", "eyes 9 mm"),
        ("DK cotton, 3 mm hook, two 8 mm black safety eyes", "two 8 mm black safety eyes"),
        ("DK cotton, 3 mm hook, beads (4 mm)", "beads (4 mm)"),
        ("DK cotton, 3 mm hook, 1 button, 15mm", "1 button, 15mm"),
    ],
)
def test_the_size_of_what_is_sewn_on_is_no_hook(text: str, notion: str) -> None:
    """A size in millimetres beside eyes, beads or buttons is theirs."""
    found = materials(text)
    assert ["DK cotton"] == [yarn.name for yarn in found.yarns]
    assert [(Decimal(3), ())] == [(hook.mm, hook.use) for hook in found.hooks]
    assert [(notion,)] == list(found.notions)


def test_a_hook_for_what_is_sewn_on_is_a_hook() -> None:
    """ "For" in front of the thing tells what the hook is for."""
    found = materials("4 mm for the body, 3 mm for the eyes", "hook")
    assert [Decimal(4), Decimal(3)] == [hook.mm for hook in found.hooks]
    assert () == materials("Eyes, 7 mm", "hook").hooks


def test_or_alone_between_two_yarns() -> None:
    """What stands below "or" may take the place of what stands above it, and says so."""
    lines = ["2 balls Marlow cotton, 50 g = 120 m", "or", "3 skeins Harrow linen", "3 mm hook", "or:", "pins"]
    found = read_materials([("materials", Passage(line)) for line in lines], US)
    assert [("Marlow cotton", ""), ("Harrow linen", "instead of the one above")] == [
        (yarn.name, write_prose(yarn.note, US)) for yarn in found.yarns
    ]
    assert [("or:",), ("pins",)] == list(found.notions)  # no other hook: the words stay as they are


def test_a_part_in_capitals_ends_the_list_above_it():
    text = "Fog Rug\n\nAbbreviations: ch = chain; flp = flap of the rug.\n\nRUG\nUsing A, make 16 ch.\n"
    parts = document(text + "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (15)\n").parts
    assert [("RUG", 2)] == [(part.name, len(part.rows)) for part in parts]


def test_facts_told_in_one_line() -> None:
    """Each fact behind a heading of its own is read as on a line of its own; a sentence behind them is a note."""
    rows = "Row 1: Ch 12, sc in 2nd ch from hook, sc in each ch across. (11)\n"
    found = document(f"Ebb\n\nYarn: 80g of 4ply. Hook: 3.5mm. Gauge is of no great matter.\n\n{rows}")
    assert [("4ply", (Decimal(80),))] == [(yarn.name, yarn.amount.grams) for yarn in found.materials.yarns]
    assert [(Decimal("3.5"), ())] == [(hook.mm, hook.use) for hook in found.materials.hooks]
    assert ["Gauge is of no great matter."] == [write_prose(note, US) for note in found.notes]


def test_facts_parted_by_strokes() -> None:
    """Strokes part facts as full stops do."""
    rows = "Row 1: Ch 12, dc in 2nd ch from hook, dc in each ch across. (11)\n"
    found = document(f"Ebb\n\nSkill: easy // Terms: UK // Yarn: 2 skeins of aran // Hook: 6 mm\n\n{rows}", UK)
    assert ("easy", UK) == (found.skill, found.written)
    assert ["aran"] == [yarn.name for yarn in found.materials.yarns]
    assert [Decimal(6)] == [hook.mm for hook in found.materials.hooks]
    assert () == found.sections


def test_one_fact_keeps_its_line() -> None:
    """A line with one heading stays as it is, whatever stands in it behind full stops."""
    rows = "Row 1: Ch 12, sc in 2nd ch from hook, sc in each ch across. (11)\n"
    found = document(f"Ebb\n\nYarn: Marsh DK, 50 g. Colors: any.\n\n{rows}")
    assert 1 == len(found.materials.yarns)


def test_abbreviations_with_dashes_on_one_line() -> None:
    """A list on one line is no paragraph: it would be wrong in the other system of terms."""
    legend = "dc - double crochet, htr - half treble, ss - slip stitch, ch - chain, lp - loop"
    found = document(f"Ebb\n\n{legend}\n\nRow 1: Ch 12, dc in 2nd ch from hook, dc in each ch across. (11)\n", UK)
    assert ((), (), ()) == (found.summary, found.notes, found.sections)


def test_an_abbreviated_decrease_with_its_number_in_words() -> None:
    """ "Two together" and "2tog" say the same; another number does not."""
    rows = "Row 1: Ch 12, sc in 2nd ch from hook, sc in each ch across. (11)\n"
    lines = "sc2tog - single crochet two together\ndc3tog - double crochet 3 stitches together\n"
    found = document(
        f"Ebb\n\nAbbreviations\nsc - single crochet\n{lines}hdc2tog - half double crochet three together\n\n{rows}"
    )
    assert ["hdc2tog - half double crochet three together"] == [
        write_prose(words, US) for section in found.sections for words in section.paragraphs
    ]
