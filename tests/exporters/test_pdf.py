"""The PDF: tagged, readable by an independent library, the same every time, rendered under guard."""

from __future__ import annotations

import hashlib
import json
import os
import re
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from convert.document.read import ReadOptions
from convert.document.records import Document, Part, TermSystem
from convert.errors import OutputRefused
from convert.exporters.json.form import write_json
from convert.exporters.pdf.child import missing_characters
from convert.exporters.pdf.form import (
    UNDATED,
    Look,
    Paper,
    PdfOptions,
    epoch_of,
    refusal,
    render_pdf,
    sheet_style,
    write_pdf,
)
from convert.importers.json.form import read_json
from convert.source import Source
from tests.exporters.samples import FIRST, GRADING, MERE, PROOF, SECOND

pytestmark = [pytest.mark.slow, pytest.mark.timeout(60)]

ROOT = Path(__file__).parent.parent.parent
FONTS = ROOT / "shared/fonts"


def pdf(document: Document = MERE, **options: Any) -> PdfReader:
    written = write_pdf(document, GRADING, PROOF, PdfOptions(**options))
    assert () == written.findings
    return PdfReader(BytesIO(written.data))


@pytest.fixture(scope="module")
def us() -> PdfReader:
    return pdf(system=TermSystem.US)


def words(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_the_text_can_be_read_in_order(us):
    """What an independent library reads: titles, facts, rows with their counts, in the order of the page."""
    text = words(us)
    wanted = [
        "Mere Side Cap",
        "Written in US terms",
        "Sizes",
        "19¾ in (50.4 cm)",
        "Materials",
        "Gauge",
        "Crown",
        "Rnd 1",
    ]
    wanted += [
        "12 dc",
        "Rnd 2",
        "24 dc",
        "23 (27, 31) sc",
        "Ear flap",
        "48 (56, 64) sc",
        "Finishing",
        "© 2026 Ada Thornfell",
    ]
    at = 0
    for part in wanted:
        found = text.find(part, at)
        assert found >= 0, f"{part!r} does not come after {text[:at][-60:]!r}"
        at = found


def test_the_uk_edition_is_in_uk_terms():
    reader = pdf(system=TermSystem.UK)
    assert "en-GB" == reader.trailer["/Root"]["/Lang"]
    text = words(reader)
    assert "24 tr" in text
    assert "24 dc" not in text


def test_title_language_and_author(us):
    root = us.trailer["/Root"]
    assert "en-US" == root["/Lang"]
    assert ("Mere Side Cap", "Ada Thornfell") == (us.metadata.title, us.metadata.author)
    assert True is root["/ViewerPreferences"]["/DisplayDocTitle"].value
    assert b'pdfuaid:part="1"' in root["/Metadata"].get_data()


def tags(node: Any, found: list[str]) -> list[str]:
    """The kinds of structure elements, depth first."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, DictionaryObject):
        if "/S" in node:
            found.append(str(node["/S"]))
        children = node.get("/K", [])
        children = children.get_object() if hasattr(children, "get_object") else children
        for child in children if isinstance(children, list) else [children]:
            tags(child, found)
    return found


def test_the_file_is_tagged(us):
    root = us.trailer["/Root"]
    assert True is root["/MarkInfo"]["/Marked"].value
    found = tags(root["/StructTreeRoot"], [])
    assert 1 == found.count("/H1")
    assert found.count("/H2") >= 8
    assert {"/L", "/LI", "/Table", "/TH", "/TD"} <= set(found)
    assert "/Figure" not in found, "the strokes are decoration and must not be read out"


def titles(outline: list[Any]) -> list[str]:
    return [title for item in outline for title in (titles(item) if isinstance(item, list) else [item.title])]


def test_bookmarks_are_the_headings(us):
    found = titles(us.outline)
    assert "Mere Side Cap" == found[0]
    assert ["Crown", "Ear flap", "Finishing", "Care", "A warmer cap"] == found[-5:]


@pytest.mark.parametrize(
    ("system", "paper", "expected"),
    [(TermSystem.US, None, (612, 792)), (TermSystem.UK, None, (595, 842)), (TermSystem.US, Paper.A4, (595, 842))],
)
def test_the_paper_is_that_of_the_readers(system, paper, expected):
    box = pdf(system=system, paper=paper).pages[0].mediabox
    assert expected == (round(box.width), round(box.height))


def test_only_our_type_faces_are_embedded(us):
    names = set()
    for page in us.pages:
        for font in page["/Resources"]["/Font"].values():
            names.add(str(font.get_object()["/BaseFont"]).split("+")[-1])
    assert names
    assert all(re.match(r"/?(Literata|Atkinson-Hyperlegible-Next)", name) for name in names), names


def test_rows_are_whole_and_pages_are_numbered():
    """A long part runs over pages, no row is cut, every page carries its number."""
    rows = tuple(replace(SECOND, label=replace(FIRST.label, first=n, side=None)) for n in range(1, 121))
    reader = pdf(replace(MERE, parts=(Part("long", "Long", rows),)))
    assert len(reader.pages) > 3
    for number, page in enumerate(reader.pages, start=1):
        text = " ".join(page.extract_text().split())
        assert f"{number} / {len(reader.pages)}" in text
        assert len(re.findall(r"Rnd \d", text)) == text.count("24 dc")


SCRIPT = """
import hashlib
from convert.exporters.pdf.form import PdfOptions, write_pdf
from tests.exporters.samples import GRADING, MERE, PROOF
print(hashlib.sha256(write_pdf(MERE, GRADING, PROOF, PdfOptions()).data).hexdigest())
"""


def test_the_same_bytes_every_time(tmp_path):
    """Time zone, hash seed, language and folder of the calling process leave no trace."""
    found = {hashlib.sha256(write_pdf(MERE, GRADING, PROOF).data).hexdigest()}
    for zone, seed, language in (("Pacific/Auckland", "1", "C"), ("America/Bogota", "77", "C.UTF-8")):
        environment = {**os.environ, "TZ": zone, "PYTHONHASHSEED": seed, "LC_ALL": language, "PYTHONPATH": str(ROOT)}
        folder = tmp_path / seed
        folder.mkdir()
        (folder / "weasyprint.py").write_text("raise SystemExit('the wrong module')", encoding="utf-8")
        command = [sys.executable, "-P", "-c", SCRIPT]
        run = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
        assert "" == run.stderr
        found.add(run.stdout.strip())
    assert 1 == len(found)


def test_the_time_is_that_of_the_pattern():
    assert 1_773_446_400 == epoch_of(MERE)
    assert UNDATED == epoch_of(replace(MERE, date=""))
    assert "D:20260314" in str(pdf().metadata["/CreationDate"])


def test_a_character_that_no_face_has_is_reported():
    written = write_pdf(replace(MERE, title="Cap 🧶 编"), GRADING, PROOF)
    (finding,) = written.findings
    assert ("missing-character", "编 (U+7F16), 🧶 (U+1F9F6)") == (finding.code, finding.found)


def test_the_faces_have_what_patterns_use():
    assert "" == missing_characters("½¼¾⅛⅜⅝⅞⅓⅔×″′†‡–—‑“”‘’•…©®°±−→≈≤≥·£€ŁőșĀжЖΩλ\u00a0\u00ad\u2009\u202f", FONTS)


@pytest.mark.parametrize(
    "asks",
    [
        '<img alt="x" src="http://127.0.0.1:9/x.png">',
        '<img alt="x" src="file:///etc/passwd">',
        '<link rel="attachment" href="file:///etc/passwd">',
        '<link rel="stylesheet" href="https://127.0.0.1:9/x.css">',
        "<style>@import 'http://127.0.0.1:9/x.css';</style>",
        "<style>@font-face { font-family: x; src: url(file:///etc/passwd) } p { font-family: x }</style>",
        '<p style="background: url(data:image/png;base64,AA)">x</p>',
    ],
)
def test_a_page_that_asks_for_anything_is_refused(asks):
    """Our template asks for nothing; if something ever slips in, there is no PDF rather than a leak."""
    html = f"<!DOCTYPE html><html lang=en><title>x</title>{asks}<p>text</p></html>"
    with pytest.raises(OutputRefused, match="the page asked for"):
        render_pdf(html, UNDATED, PdfOptions())


def test_what_the_library_warns_of_becomes_a_finding():
    html = "<!DOCTYPE html><html lang=en><title>x</title><style>p { colour: red }</style><p>text</p></html>"
    _, findings = render_pdf(html, UNDATED, PdfOptions())
    assert ["pdf-library"] == [finding.code for finding in findings]
    assert "colour: red" in findings[0].message


LARGE = "<!DOCTYPE html><html lang=en><title>x</title>" + "<p>Sc in each st around.</p>" * 40_000


def test_a_page_that_takes_too_long_is_given_up():
    with pytest.raises(OutputRefused, match="took longer than 3 s"):
        render_pdf(LARGE, UNDATED, PdfOptions(seconds=3))


@pytest.mark.timeout(60)  # its own bound is 40 s
@pytest.mark.parametrize("megabytes", [60, 110, 128, 300])
def test_a_page_that_needs_too_much_memory_is_given_up(megabytes):
    """Wherever it runs out: on loading the library, in the library's threads, in the midst of the layout."""
    with pytest.raises(OutputRefused, match=f"more than {megabytes} MB of memory"):
        render_pdf(LARGE, UNDATED, PdfOptions(megabytes=megabytes, seconds=40))


@pytest.mark.parametrize(("status", "said"), [(-5, "creating thread"), (-11, ""), (1, "MemoryError")])
def test_a_child_that_cannot_say_that_it_needs_more_memory(status, said):
    assert "more than 300 MB of memory" in str(refusal(status, said, PdfOptions(megabytes=300)))


def test_the_child_says_in_one_line_what_went_wrong():
    request = json.dumps(
        {"html": "<p>x", "assets": {}, "identifier": "not hexadecimal", "fonts": "", "seconds": 20, "megabytes": 1000}
    )
    command = [sys.executable, "-m", "convert.exporters.pdf.child"]
    run = subprocess.run(command, input=request, capture_output=True, text=True, cwd=ROOT, check=False)
    assert (1, "") == (run.returncode, run.stdout)
    assert run.stderr.splitlines()[-1].startswith("ValueError: ")


@pytest.mark.parametrize("paper", Paper)
def test_the_sheet_holds_only_what_the_pdf_library_knows(paper):
    """No finding comes of our own style sheet."""
    style = f"<style>{sheet_style(paper)}</style>"
    html = f"<!DOCTYPE html><html lang=en><head><title>x</title>{style}</head><p>text</p></html>"
    assert () == render_pdf(html, UNDATED, PdfOptions())[1]


# ---- editions


def languages(node: Any, found: set[str]) -> set[str]:
    """Every language that a structure element names for itself."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, DictionaryObject):
        if "/Lang" in node:
            found.add(str(node["/Lang"]))
        children = node.get("/K", [])
        children = children.get_object() if hasattr(children, "get_object") else children
        for child in children if isinstance(children, list) else [children]:
            languages(child, found)
    return found


def test_both_editions_stand_one_after_the_other():
    """Each begins on a page of its own, with its own bookmark, in its own language."""
    reader = pdf(system=TermSystem.US, both=True)
    text = words(reader)
    assert text.index("24 dc") < text.index("24 tr")
    assert ["Mere Side Cap (US terms)", "Mere Side Cap (UK terms)"] == [
        title for title in titles(reader.outline) if title.startswith("Mere Side Cap")
    ]
    first, second = (i for i, p in enumerate(reader.pages) if "by Ada Thornfell" in p.extract_text())
    assert 0 == first < second
    assert {"en-US", "en-GB"} == languages(reader.trailer["/Root"]["/StructTreeRoot"], {"en-US"})


def test_large_print_is_large_and_low_ink_is_short():
    """18 point and more; sizes of the text as the file sets them, read by an independent library."""
    found = {}
    for look in Look:
        sizes: list[float] = []

        def visitor(text: str, _cm: Any, _tm: Any, font: Any, size: float, into: list[float] = sizes) -> None:
            if text.strip():
                into.append(round(size * abs(_tm[3] or 1) * abs(_cm[3] or 1), 1))

        reader = pdf(look=look)
        for page in reader.pages:
            page.extract_text(visitor_text=visitor)
        found[look] = (max(set(sizes), key=sizes.count), len(reader.pages))
    assert 18 <= found[Look.LARGE][0] > found[Look.USUAL][0] > found[Look.LOW_INK][0]
    assert found[Look.LARGE][1] > found[Look.USUAL][1] >= found[Look.LOW_INK][1]


def test_the_long_form_is_written_in_full():
    text = words(pdf(full_words=True))
    assert "24 double crochets" in text
    assert "Round 2" in text


def test_the_neutral_document_travels_inside_and_comes_out_the_same():
    written = write_pdf(MERE, GRADING, PROOF, PdfOptions(attached=("mere-side-cap.json", write_json(MERE).text)))
    assert () == written.findings
    reader = PdfReader(BytesIO(written.data))
    ((name, (data,)),) = reader.attachments.items()
    assert "mere-side-cap.json" == name
    read = read_json(Source(name, data.decode("utf-8")), ReadOptions())
    assert MERE == read.document


def test_the_same_bytes_with_all_that_can_be_asked_for():
    options = PdfOptions(both=True, full_words=True, attached=("a.json", "{}"))
    assert write_pdf(MERE, GRADING, PROOF, options).data == write_pdf(MERE, GRADING, PROOF, options).data
