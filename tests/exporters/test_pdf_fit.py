"""No edition ends in a nearly empty page: pages are set closer, or broken earlier, and laid out again."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import ImageFile
from pypdf import PdfReader

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.exporters.pdf.closer import Closer
from convert.exporters.pdf.fit import NEARLY_EMPTY, editions, filled, fitted, set_closer
from convert.exporters.pdf.form import Look, Paper, PdfOptions, sheet_style, write_pdf
from convert.exporters.pdf.layout import Sheets
from convert.pipeline import check_source
from convert.source import Source

pytestmark = [pytest.mark.slow, pytest.mark.timeout(60)]

DEMO = Path(__file__).parents[2] / "fixtures/demo"
OPTIONS = {"pdf_variant": "pdf/ua-1", "pdf_identifier": b"sixteen bytes so"}
STUB = "<!DOCTYPE html><html lang=en><head><title>x</title><style>{}</style></head><body><h1>x</h1>{}</body></html>"
ROW = '<div class="facts"><div><dt>Row {}</dt><dd><p>Sc in each st across.</p></dd></div></div>'


@pytest.fixture(scope="module", autouse=True)
def library() -> Any:
    """The PDF library, which elsewhere runs in a process of its own: it changes how pictures are read by all."""
    before = ImageFile.LOAD_TRUNCATED_IMAGES
    import weasyprint

    yield weasyprint
    ImageFile.LOAD_TRUNCATED_IMAGES = before


@pytest.fixture(autouse=True)
def _quiet() -> Iterator[None]:
    """Which type faces are here, and what the library says of a style that it does not know, is nothing to these."""
    logging.disable(logging.WARNING)
    yield
    logging.disable(logging.NOTSET)


def rows(count: int) -> str:
    return STUB.format(
        sheet_style(Paper.A4).replace('url("asset:tally.svg")', "none"), "".join(ROW.format(n) for n in range(count))
    )


def sheets(html: str) -> Sheets:
    return Sheets(html, None, OPTIONS)


def shares(document: Any, *marks: str) -> list[list[float]]:
    return [[filled(page) for page in edition] for edition in editions(document.pages, marks)]


@pytest.fixture(scope="module")
def over() -> int:
    """How many rows are the first that one page does not hold."""
    return next(count for count in range(20, 80) if len(sheets(rows(count)).laid_out().pages) == 2)


def test_laid_out_as_by_the_librarys_own_call(library):
    """Byte for byte, the second time as well: what the library keeps between its steps is all handed on."""
    html = rows(60)
    own = library.HTML(string=html).write_pdf(**OPTIONS)
    ours = sheets(html)
    assert [own, own] == [ours.laid_out().write_pdf(**OPTIONS) for _ in range(2)]


def test_a_few_lines_too_many_are_taken_in(over):
    assert 1 == len(fitted(sheets(rows(over)).laid_out, ()).pages)


def test_a_last_page_that_holds_something_is_left_alone(over):
    ours = sheets(rows(over + 14))
    calls = []
    document = fitted(lambda: calls.append(1) or ours.laid_out(), ())
    assert (2, 1) == (len(document.pages), len(calls))
    assert shares(document)[0][-1] > NEARLY_EMPTY


def test_letters_keep_their_size_and_lines_their_words(over):
    """Only the room between them shrinks."""

    def lines(document: Any) -> list[tuple[str, float]]:
        boxes = (box for page in document.pages for box in page._page_box.children[0].descendants())
        return [(box.text, box.style["font_size"]) for box in boxes if hasattr(box, "text")]

    ours = sheets(rows(over))
    loose, close = ours.laid_out(), fitted(ours.laid_out, ())
    assert lines(loose) == lines(close)


def test_closer_styles_can_be_taken_back(over):
    ours = sheets(rows(over))
    before = ours.laid_out()
    data = before.write_pdf(**OPTIONS)
    (edition,) = editions(before.pages, ())
    closer = set_closer(edition)
    assert isinstance(closer, Closer)
    assert data != ours.laid_out().write_pdf(**OPTIONS)
    closer.undo()
    assert data == ours.laid_out().write_pdf(**OPTIONS)


BLOCK = '<div style="height: {}mm">{}</div>'
PLAIN = "@page { size: 100mm 200mm; margin: 0 } body, h1 { margin: 0; font-size: 10mm; line-height: 1; height: auto }"


def blocks(*kept: int) -> str:
    """Blocks that can give nothing, 19 on the first page and one on the next; `kept` stay with the one before."""
    style = PLAIN + "".join(f"div:nth-of-type({n}) {{ break-before: avoid }}" for n in kept)
    return STUB.format(style, "".join(BLOCK.format(10, n) for n in range(1, 21)))


@pytest.mark.parametrize(("kept", "carried"), [((), 7), ((14,), 8), ((14, 13), 9), (tuple(range(2, 21)), 1)])
def test_what_cannot_be_set_closer_is_broken_earlier(kept, carried):
    """So that the last page holds a third and more, where a break is allowed; half a page stays on the one before."""
    found = shares(fitted(sheets(blocks(*kept)).laid_out, ()))
    assert [[pytest.approx((21 - carried) / 20, abs=0.01), pytest.approx(carried / 20, abs=0.01)]] == found


def test_of_blocks_that_are_styled_alike_one_begins_the_page():
    """What the page is broken before has neighbours that all the same rules hold for: they stay where they are."""
    style = PLAIN + ".row { height: 10mm } h1 { break-after: avoid }"
    html = STUB.format(style, "".join(f'<div class="row">{n}</div>' for n in range(1, 21)))
    found = shares(fitted(sheets(html).laid_out, ()))
    assert [[pytest.approx(0.7, abs=0.01), pytest.approx(0.35, abs=0.01)]] == found


def test_a_full_last_page_is_not_an_empty_one():
    """Its last line may hang over by a hair: nothing is laid out again for that."""
    html = STUB.format(PLAIN, "".join(BLOCK.format(10, n) for n in range(1, 40)))
    ours = sheets(html)
    calls: list[Any] = []
    document = fitted(lambda: calls.append(ours.laid_out()) or calls[-1], ())
    assert [[pytest.approx(1, abs=0.01)] * 2] == shares(document)
    assert 1 == len(calls)
    assert filled(document.pages[-1]) > 1


FIGURE = (
    '<figure style="margin: 0"><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" width="{0}" height="{0}">'
    "</svg></figure>"
)


@pytest.mark.parametrize(("before", "fits"), [(12, True), (13, True), (14, False), (18, False)])
def test_a_picture_a_little_too_high_is_made_to_fit(before, fits):
    """Rather than leave the foot of a page empty; but it keeps most of its height, and a small gap is left as it is."""
    html = STUB.format(
        PLAIN + "svg { display: block }",
        "".join(BLOCK.format(10, n) for n in range(before)) + FIGURE.format(290) + BLOCK.format(10, "rest") * 10,
    )
    ours = sheets(html)
    loose, close = ours.laid_out(), fitted(ours.laid_out, ())

    def pictures(document: Any) -> list[list[float]]:
        boxes = [page._page_box.children[0].descendants() for page in document.pages]
        return [[box.height for box in page if hasattr(box, "replacement")] for page in boxes]

    assert [[], [290]] == pictures(loose)
    assert fits == (pictures(close)[1] == [])
    (height,) = (height for page in pictures(close) for height in page)
    assert 0.72 * 290 <= height <= 290


@pytest.mark.parametrize(("inner", "kept"), [("", 0.75), ("<text>Width</text>", 0.9)])
def test_a_drawing_keeps_its_letters_legible(inner, kept):
    """Set closer, pictures give a quarter of their height; a drawing with letters no more than to 72 of its hundred."""
    drawn = FIGURE.format(400).replace("></svg>", f' style="height: 320px; width: 320px">{inner}</svg>')
    ours = sheets(STUB.format(PLAIN, drawn))
    (page,) = ours.laid_out().pages
    (shown,) = (box for box in page._page_box.descendants() if hasattr(box, "replacement"))
    Closer([shown], 1.0)
    (page,) = ours.laid_out().pages
    (lower,) = (box for box in page._page_box.descendants() if hasattr(box, "replacement"))
    assert pytest.approx(320 * kept, abs=0.5) == lower.height


def test_each_edition_is_fitted_by_itself(over):
    """The one that ends well keeps its page breaks."""
    style = sheet_style(Paper.A4).replace('url("asset:tally.svg")', "none")
    parts = [
        f'<div class="edition"><header id="{mark}"><h1>x</h1></header>' + ROW.format(0) * count + "</div>"
        for mark, count in (("us", over), ("uk", over + 14))
    ]
    html = STUB.format(style, "").replace("<h1>x</h1>", "<main>" + "".join(parts) + "</main>")
    ours = sheets(html)
    loose, close = shares(ours.laid_out(), "us", "uk"), shares(fitted(ours.laid_out, ("us", "uk")), "us", "uk")
    assert ([2, 2], [1, 2]) == ([len(one) for one in loose], [len(one) for one in close])
    assert loose[1] == close[1]


@pytest.mark.slow
@pytest.mark.timeout(180)
@pytest.mark.parametrize("look", Look)
@pytest.mark.parametrize("path", sorted(DEMO.glob("*.*")), ids=lambda path: path.name.partition("-")[0])
def test_no_edition_ends_in_a_nearly_empty_page(path, look):
    """Of every demo in every print: its last page holds a quarter of what one can, and no box is broken."""
    kind = {".md": "markdown", ".txt": "text"}.get(path.suffix, "yaml")
    found = check_source(Source(path.name, path.read_text("utf-8")), kind, ReadOptions())
    assert found.document is not None
    written = write_pdf(found.document, found.grading, found.proof, PdfOptions(TermSystem.US, look=look))
    pages = PdfReader(BytesIO(written.data)).pages
    lowest: list[float] = []

    def seen(text: str, _: object, matrix: list[float], *__: object) -> None:
        if text.strip():
            lowest.append(matrix[5])

    pages[-1].extract_text(visitor_text=seen)
    height = float(pages[-1].mediabox.height)
    body = [y for y in lowest if height * 0.07 < y < height * 0.95]
    assert len(pages) > 1
    assert min(body) < height * 0.75
