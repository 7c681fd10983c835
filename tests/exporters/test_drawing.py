"""The drawing: the right measurements at the right lines, in the units of the readers, and in words."""

from __future__ import annotations

from decimal import Decimal
from xml.etree.ElementTree import fromstring

import pytest
from msgspec.structs import replace

from convert.document.lengths import Length
from convert.document.records import TermSystem
from convert.document.sizing import Measure, Size
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.page.build import page_edition
from convert.exporters.page.drawing import drawing
from convert.exporters.page.typeset import plain_text
from convert.trade.outlines import outlines
from tests.exporters.samples import GRADING, MERE, PROOF

TUBE = replace(MERE, shape="tube")


def drawn(document=TUBE, system=TermSystem.UK, size=None):
    return drawing(page_edition(document, GRADING, PROOF, system, size))


def test_the_figures_are_those_of_the_sizes():
    found = drawn()
    assert found is not None
    assert [("Around", "50.4 (56.2, 61.7) cm", "19¾ (22, 24½) in"), ("Depth", "20.3 cm", "8 in")] == [
        (f.name, plain_text(f.own), plain_text(f.other)) for f in found.figures
    ]
    assert "A tube. Around 50.4 (56.2, 61.7) cm, 19¾ (22, 24½) in; Depth 20.3 cm, 8 in." == found.alternative


def test_one_size_has_its_own_figures_in_its_readers_unit():
    found = drawn(system=TermSystem.US, size="m")
    assert found is not None
    assert ["22 in", "8 in"] == [plain_text(f.own) for f in found.figures]


@pytest.mark.parametrize("shape", ["", "triangle", "of no kind"])
def test_without_an_outline_or_its_measurements_there_is_no_drawing(shape):
    found = drawn(replace(MERE, shape=shape))
    assert (shape == "triangle") == (found is not None), "a triangle has a depth"


def test_every_outline_stays_in_its_field():
    """Lines and outlines lie in the view of the drawing, with room for the figures below and on the right."""
    for outline in outlines().values():
        points = [point for span in outline.spans for point in (span.start, span.end)]
        assert all(-8 <= x <= 215 and -4 <= y <= 165 for x, y in points), outline.id
        assert outline.path.startswith("M")


@pytest.mark.parametrize(("width", "length", "upright"), [("60", "80", True), ("80", "60", True), ("20", "150", False)])
def test_a_rectangle_stands_as_it_is_worked_unless_it_is_long(width, length, upright):
    """In its own proportions, its width below. A scarf lies down."""
    measures = tuple(Measure(name, Length(Decimal(cm))) for name, cm in (("width", width), ("length", length)))
    found = drawn(replace(MERE, shape="rectangle", sizes=(Size("one", "One", measures),)))
    assert found is not None
    across, down = (figure for figure in found.figures)
    below = across if across.middle else down
    assert (below.name == "Width") is upright
    if upright:
        wide, high = across.end[0] - across.start[0], down.end[1] - down.start[1]
        assert float(width) / float(length) == pytest.approx(wide / high, rel=0.03)


def test_the_figures_stand_below_where_they_have_no_room_beside():
    """A list for phones, of which no other reader hears; the outline speaks without its figures there."""
    found = drawn()
    assert found is not None
    assert ["Around", "Depth"] == [fact.label for fact in found.facts]
    assert ["50.4 (56.2, 61.7) cm", "19¾ (22, 24½) in"] == [plain_text(line) for line in found.facts[0].lines]
    assert "A tube." == found.outlined
    assert found.named_box[2] <= 330
    text = write_html(TUBE, GRADING, PROOF, HtmlOptions(faces=False)).text
    assert '<svg class="named"' in text
    assert "20.3 cm" not in text[text.index('<svg class="named"') :].partition("</svg>")[0]


def test_the_drawing_on_the_page_is_well_formed_and_speaks():
    text = write_html(TUBE, GRADING, PROOF, HtmlOptions(faces=False)).text
    start = text.index('<svg class="told"')
    svg = fromstring(text[start : text.index("</svg>", start) + 6])
    assert "img" == svg.get("role")
    assert (svg.get("aria-label") or "").startswith("A tube. Around 19¾ (22, 24½) in")
    assert "19¾ (22, 24½) in" in ["".join(one.itertext()) for one in svg.iter("text")]
