"""The structure of every demo's PDF, read by a library that had no part in making it (pikepdf, on qpdf).

What is held here is what PDF/UA-1 (ISO 14289-1) asks of a file that a program can see: all content tagged or marked as
decoration, every tag of a known kind and in its place, words for pictures, header cells, languages, bookmarks.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from convert.document.read import ReadOptions
from convert.exporters.pdf.form import Look, PdfOptions
from convert.exporters.pdf.pool import PdfPool
from convert.exporters.photos import album_of
from convert.importers import ENDINGS
from convert.pictures import read_pictures
from convert.pipeline import check_source
from convert.source import Source

pikepdf = pytest.importorskip("pikepdf")
pytestmark = [pytest.mark.slow, pytest.mark.timeout(240)]

DEMO = Path(__file__).parents[2] / "fixtures/demo"
NAMES = sorted(path.name for path in DEMO.iterdir() if path.suffix in ENDINGS)
STANDARD = {
    *(
        "Document",
        "Part",
        "Art",
        "Sect",
        "Div",
        "BlockQuote",
        "Caption",
        "TOC",
        "TOCI",
        "Index",
        "NonStruct",
        "Private",
    ),
    *("P", "H", "H1", "H2", "H3", "H4", "H5", "H6", "L", "LI", "Lbl", "LBody"),
    *("Table", "TR", "TH", "TD", "THead", "TBody", "TFoot", "Span", "Quote", "Note", "Reference", "BibEntry", "Code"),
    *("Link", "Annot", "Figure", "Formula", "Form"),
}
"""The kinds of structure that ISO 32000-1, 14.8.4, defines."""
INSIDE = {
    "LI": {"L"},
    "LBody": {"LI"},
    "Lbl": {"LI", "Note"},
    "TR": {"Table", "THead", "TBody", "TFoot"},
    "TH": {"TR"},
    "TD": {"TR"},
    "THead": {"Table"},
    "TBody": {"Table"},
}
SHOWING = {"Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Do", "sh", "EI"}


@pytest.fixture(scope="module")
def pool() -> Iterator[PdfPool]:
    with PdfPool(1, dict(os.environ)) as found:
        yield found


@pytest.fixture(scope="module", params=NAMES)
def file(request: pytest.FixtureRequest, pool: PdfPool) -> Any:
    """A demo in both term systems, with all its pictures."""
    return made(request.param, pool, PdfOptions(both=True))


def made(name: str, pool: PdfPool, options: PdfOptions) -> Any:
    from msgspec.structs import replace

    path = DEMO / name
    found = check_source(Source(name, path.read_text("utf-8")), ENDINGS[path.suffix], ReadOptions())
    assert found.document is not None
    album, _ = album_of(found.document, read_pictures(found.document, DEMO)[0])
    written = pool.write(found.written or found.document, found.grading, found.proof, replace(options, album=album))
    assert () == written.findings
    return pikepdf.open(BytesIO(written.data))


class Tag:
    """An element of the structure with its parent and what is in it."""

    def __init__(self, node: Any, parent: Tag | None) -> None:
        self.node, self.parent = node, parent
        self.kind = str(node["/S"])[1:]
        self.inside: list[Tag] = []
        self.marked: list[tuple[Any, int]] = []
        page = node.get("/Pg")
        for one in _listed(node.get("/K")):
            if isinstance(one, int):
                self.marked.append((page.objgen, one))
            elif one.get("/Type") == "/MCR":
                self.marked.append(((one.get("/Pg") or page).objgen, int(one["/MCID"])))
            elif one.get("/Type") != "/OBJR":
                self.inside.append(Tag(one, self))

    def walk(self) -> Iterator[Tag]:
        yield self
        for one in self.inside:
            yield from one.walk()


def _listed(value: Any) -> list[Any]:
    if value is None:
        return []
    return list(value) if isinstance(value, pikepdf.Array) else [value]


def tags(file: Any) -> list[Tag]:
    """Every element, in the order of reading."""
    roots = [Tag(one, None) for one in _listed(file.Root["/StructTreeRoot"]["/K"])]
    return [tag for root in roots for tag in root.walk()]


def test_the_file_says_what_it_is(file):
    root = file.Root
    assert True is bool(root["/MarkInfo"]["/Marked"])
    assert True is bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
    assert str(root["/Lang"]) in {"en-US", "en-GB"}
    metadata = file.open_metadata()
    assert "1" == metadata["pdfuaid:part"]
    assert str(file.docinfo["/Title"]) == metadata["dc:title"] != ""


def test_all_that_is_shown_is_tagged_or_decoration(file):
    """Every text, line and picture stands in marked content; each mark belongs to one element or is an artifact."""
    told = [mark for tag in tags(file) for mark in tag.marked]
    assert len(told) == len(set(told))
    found = set()
    for page in file.pages:
        open_marks: list[str] = []
        for operands, operator in pikepdf.parse_content_stream(page):
            name = str(operator)
            if name in ("BDC", "BMC"):
                properties = operands[1] if name == "BDC" else {}
                number = properties.get("/MCID") if hasattr(properties, "get") else None
                if number is not None:
                    found.add((page.obj.objgen, int(number)))
                open_marks.append(str(operands[0]))
            elif name == "EMC":
                open_marks.pop()
            elif name in SHOWING:
                assert open_marks, f"{name} {operands} is neither tagged nor decoration"
        assert [] == open_marks
    assert set(told) == found


def test_the_way_back_from_a_mark_leads_to_its_element(file):
    numbers = file.Root["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    by_key = {int(numbers[i]): numbers[i + 1] for i in range(0, len(numbers), 2)}
    pages = {page.obj.objgen: by_key[int(page.obj["/StructParents"])] for page in file.pages}
    for tag in tags(file):
        for page, number in tag.marked:
            assert tag.node.objgen == pages[page][number].objgen


def test_every_tag_is_of_a_known_kind_and_in_its_place(file):
    roles = file.Root["/StructTreeRoot"].get("/RoleMap", {})
    for tag in tags(file):
        kind = str(roles.get(f"/{tag.kind}", f"/{tag.kind}"))[1:]
        assert kind in STANDARD
        assert tag.parent is None or kind not in INSIDE or tag.parent.kind in INSIDE[kind], (kind, tag.parent)


def test_headings_go_down_one_step_at_a_time(file):
    levels = [int(tag.kind[1]) for tag in tags(file) if tag.kind[:1] == "H" and tag.kind[1:].isdigit()]
    assert 1 == levels[0]
    assert 2 == levels.count(1), "one title for each edition"
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_tables_have_header_cells_and_no_holes(file):
    for table in (tag for tag in tags(file) if tag.kind == "Table"):
        rows = [tag for tag in table.walk() if tag.kind == "TR"]
        assert 1 == len({len(row.inside) for row in rows})
        assert {"TH"} == {cell.kind for cell in rows[0].inside}
        assert ["Column"] * len(rows[0].inside) == [scope(cell) for cell in rows[0].inside]
        assert ["Row"] * (len(rows) - 1) == [scope(row.inside[0]) for row in rows[1:]]


def scope(cell: Tag) -> str:
    attributes = [one for one in _listed(cell.node.get("/A")) if hasattr(one, "get")]
    return next((str(one["/Scope"])[1:] for one in attributes if "/Scope" in one), "")


def test_lists_have_items(file):
    lists = [tag for tag in tags(file) if tag.kind == "L"]
    assert lists
    assert all({"LI"} == {one.kind for one in tag.inside if one.kind != "Caption"} for tag in lists)
    assert all(any(part.kind == "LBody" for part in item.inside) for tag in lists for item in tag.inside)


def test_pictures_have_words(file):
    for figure in (tag for tag in tags(file) if tag.kind == "Figure"):
        assert str(figure.node.get("/Alt", "")).strip()


def test_each_edition_is_in_its_language(file):
    """Every element is in the language of the file, or under one that names another."""
    spoken = {str(tag.node["/Lang"]) for tag in tags(file) if "/Lang" in tag.node}
    assert {"en-US", "en-GB"} == spoken | {str(file.Root["/Lang"])}


def test_bookmarks_are_the_headings_in_order(file):
    with file.open_outline() as outline:
        titles = [(one.title, [inner.title for inner in one.children]) for one in outline.root]
    assert 2 == len(titles)
    assert all(title.endswith((" (US terms)", " (UK terms)")) for title, _ in titles)
    counted = sum(1 for tag in tags(file) if tag.kind == "H2")
    assert counted == sum(len(inner) for _, inner in titles)


def test_every_font_is_embedded_and_says_its_characters(file):
    fonts = [font for page in file.pages for font in page.obj["/Resources"].get("/Font", {}).values()]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0] if "/DescendantFonts" in font else font
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner["/FontDescriptor"].keys())
        assert "/ToUnicode" in font


@pytest.mark.parametrize("look", [Look.LARGE, Look.LOW_INK])
def test_other_looks_are_tagged_as_well(pool, look):
    """The largest table, the most rows: what is shown is tagged in large print and low ink too."""
    other = made("otter-brook-sweater.pattern.yaml", pool, PdfOptions(both=True, look=look))
    test_all_that_is_shown_is_tagged_or_decoration(other)
    test_every_tag_is_of_a_known_kind_and_in_its_place(other)
    test_lists_have_items(other)
    test_headings_go_down_one_step_at_a_time(other)


def test_a_fault_would_be_seen(pool):
    """Text outside of all marks, and a table without header cells, do not pass."""
    other = made("lantern-hill-hat.pattern.yaml", pool, PdfOptions(both=True))
    page = other.pages[0]
    page.contents_add(b"BT /F 1 Tf (x) Tj ET")
    with pytest.raises(AssertionError, match="neither tagged nor decoration"):
        test_all_that_is_shown_is_tagged_or_decoration(other)
    for tag in tags(other):
        if tag.kind == "TH":
            tag.node["/S"] = pikepdf.Name("/TD")
    with pytest.raises(AssertionError):
        test_tables_have_header_cells_and_no_holes(other)
