"""The designer's name and colours on the page."""

from __future__ import annotations

from base64 import b64decode

import pytest
from msgspec.structs import replace

from convert.document.records import Brand, Colours, Document, TermSystem
from convert.exporters.brand import Accents, accents_of, contrast, grounds
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.pdf.form import Look, Paper, PdfOptions, request_of, sheet_style

MERE = Document("Scarf", "scarf", TermSystem.US)
BARE = HtmlOptions(faces=False)


def with_colours(accent: str = "", accent_dark: str = "") -> Document:
    return replace(MERE, brand=Brand(colours=Colours(accent, accent_dark)))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [("#777777", "#ffffff", 4.48), ("#767676", "#ffffff", 4.54), ("#0000ff", "#ffffff", 8.59)],
)
def test_contrast_is_that_of_the_accessibility_guidelines(one: str, other: str, expected: float):
    assert (expected, expected) == (round(contrast(one, other), 2), round(contrast(other, one), 2))


def test_the_grounds_are_those_of_the_style_sheets():
    assert (("#fffdf8", "#f5efe4"), ("#1c1917", "#292421")) == (grounds("theme"), grounds("screen"))


def test_colours_that_can_be_read_are_used_each_on_its_ground():
    written = write_html(with_colours("#1F4D7A", "#a9c8eb"), None, None, BARE)
    style = written.text.partition("<style>")[2].partition("</style>")[0]
    light = ":root { --accent: #1f4d7a; --again: rgba(31, 77, 122, .075); }"
    dark = "(prefers-color-scheme: dark) { :root { --accent: #a9c8eb; --again: rgba(169, 200, 235, .13); }"
    assert () == written.findings
    assert style.index("--accent: #74273f") < style.index(light) < style.index("--accent: #eba9bd") < style.index(dark)


def test_a_colour_that_is_hard_to_read_is_told_and_not_used():
    written = write_html(with_colours("#f2a65a", "#1f4d7a"), None, None, BARE)
    told = [(f.code, f.message.split(" is ")[0], f.found) for f in written.findings]
    assert ["low-contrast", "low-contrast"] == [code for code, _, _ in told]
    assert ["The colour #f2a65a", "The colour #1f4d7a"] == [what for _, what, _ in told]
    assert all(float(found.removesuffix(":1")) < 4.5 for _, _, found in told)
    assert "f2a65a" not in written.text
    assert "1f4d7a" not in written.text


def test_what_is_no_colour_never_reaches_the_style_sheet():
    written = write_html(with_colours("red} </style><script>x</script>"), None, None, BARE)
    assert ["low-contrast"] == [finding.code for finding in written.findings]
    assert "<script>x" not in written.text


def test_paper_has_the_light_colour_and_no_dark_one_and_low_ink_is_black():
    accents, told = accents_of(with_colours("#1f4d7a", "#000000"), screen=False)
    assert (Accents("#1f4d7a"), ()) == (accents, told)
    assert "--accent: #1f4d7a" in sheet_style(Paper.A4, accents=accents)
    low = sheet_style(Paper.A4, Look.LOW_INK, accents)
    assert low.index("--accent: #1f4d7a") < low.index("--accent: #000")


def test_the_name_stands_above_the_title_as_text():
    written = write_html(replace(MERE, brand=Brand("Loops & <b>Ends")), None, None, BARE)
    assert '<p class="brand">Loops &amp; &lt;b&gt;Ends</p>\n<h1>' in written.text


def test_the_strokes_under_the_title_are_of_the_same_colour_in_a_pdf():
    request = request_of("", 0, PdfOptions(accent="#1f4d7a"), {})
    strokes = [
        b64decode(r["assets"]["asset:tally.svg"][1]).decode() for r in (request, request_of("", 0, PdfOptions(), {}))
    ]
    assert 'color="#1f4d7a"' in strokes[0]
    assert 'color="#74273f"' in strokes[1]
