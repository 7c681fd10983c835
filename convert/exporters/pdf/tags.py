"""Mends the structure that the PDF library leaves in a file, where readers for the blind would stumble over it.

Runs in the child process of the PDF writer, on the objects of a file that is about to be written. What is mended:

- running titles and page numbers become decoration: they are tagged text without a place in the structure;
- a list holds its items, without the boxes of columns between them, and a name stands with its meaning in one item;
- header cells say whether they head a column or a row;
- every edition on several says its language.

PDF 32000-1:2008, 14.7 and 14.8, names the kinds and keys.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

Element = Any
"""A dictionary of the structure; the library has no types."""


def _dictionaries(pdf: Any) -> Iterator[Element]:
    return (one for one in pdf.objects if isinstance(one, dict))


class Structure:
    """The elements of a file by their references."""

    def __init__(self, pdf: Any) -> None:
        self._by_reference = {one.reference: one for one in _dictionaries(pdf) if one.get("Type") == "/StructElem"}
        self.root = next(one for one in _dictionaries(pdf) if one.get("Type") == "/StructTreeRoot")
        numbers = self.root["ParentTree"]
        self.parent_tree = next(one for one in pdf.objects if one.reference == numbers)
        self.top = [self._by_reference[reference] for reference in self.root["K"]]

    def inside(self, element: Element) -> list[Element]:
        """The elements in an element."""
        return [self._by_reference[kid] for kid in element["K"] if kid in self._by_reference]

    def walk(self, element: Element) -> Iterator[Element]:
        """The element and all in it, from the outside inwards; what is changed on the way is seen changed."""
        yield element
        for one in self.inside(element):
            yield from self.walk(one)

    def every(self) -> Iterator[Element]:
        """Every element with a place in the structure."""
        for one in self.top:
            yield from self.walk(one)

    @staticmethod
    def move(elements: list[Element], into: Element) -> None:
        """Makes these all that an element holds."""
        into["K"] = type(into["K"])([one.reference for one in elements])
        for one in elements:
            one["P"] = into.reference


def mend(document: Any, pdf: Any, languages: Mapping[str, str]) -> None:
    """Mends the file. `languages` are those of the editions by the anchors that these begin at."""
    structure = Structure(pdf)
    for element in structure.every():
        if element["S"] == "/L":
            structure.move(list(_items(structure, element)), element)
            for item in structure.inside(element):
                for body in structure.inside(item):
                    _without_items(structure, body)
        elif element["S"] == "/TR":
            _tell_scopes(structure, element)
    _decorate_margins(structure, pdf)
    _tell_languages(structure, document, pdf, languages)


_BOXES = ("/Div", "/NonStruct")


def _without_items(structure: Structure, body: Element) -> None:
    """Makes plain boxes of the items in an item: one that is laid out as a table is several to the library."""
    for one in structure.inside(body):
        if one["S"] != "/L":
            if one["S"] in ("/LI", "/LBody", "/Lbl"):
                one["S"] = "/NonStruct"
            _without_items(structure, one)


def _items(structure: Structure, box: Element) -> Iterator[Element]:
    """The items in a list, whatever boxes are around them; items that share a box are a name and its meaning."""
    inside = structure.inside(box)
    if box["S"] in _BOXES and len(inside) > 1 and all(one["S"] == "/LI" for one in inside):
        yield _named(structure, inside)
        return
    for one in inside:
        if one["S"] in (*_BOXES, "/L"):  # a column of a list is a list to the library
            yield from _items(structure, one)
        else:
            yield one


def _named(structure: Structure, items: list[Element]) -> Element:
    """One item out of a name and its meanings, each of which the library made an item of its own."""
    bodies = [body for item in items for body in structure.inside(item)]
    if bodies and all(body["S"] == "/LBody" for body in bodies):
        bodies[0]["S"] = "/Lbl"
    structure.move(bodies, items[0])
    return items[0]


def _tell_scopes(structure: Structure, row: Element) -> None:
    cells = structure.inside(row)
    heads = all(cell["S"] == "/TH" for cell in cells)
    for cell in cells:
        if cell["S"] == "/TH":
            cell["A"]["Scope"] = "/Column" if heads and len(cells) > 1 else "/Row"


def _decorate_margins(structure: Structure, pdf: Any) -> None:
    """Marks the texts in the margins as decoration: their elements are nowhere in the structure."""
    import pydyf  # noqa: PLC0415 - under the limits of the child process

    placed = {element.reference for element in structure.every()}
    objects = {one.reference: one for one in pdf.objects}
    lists = structure.parent_tree["Nums"][1::2]
    for reference, parents in zip(pdf.page_references, lists, strict=False):
        homeless = {number for number, parent in enumerate(parents) if parent not in placed}
        stream = objects[objects[reference]["Contents"]].stream
        for at, item in enumerate(stream):
            if isinstance(item, dict) and item.get("MCID") in homeless:
                stream[at - 1] = "/Artifact"
                stream[at] = pydyf.Dictionary({"Type": "/Pagination"})
        for number in homeless:
            parents[number] = "null"


def _tell_languages(structure: Structure, document: Any, pdf: Any, languages: Mapping[str, str]) -> None:
    """Says on every outermost part of a page which language it is in, which the library does for whole files alone.

    Every edition begins on a page of its own.
    """
    import pydyf  # noqa: PLC0415 - likewise

    current = ""
    spoken = []
    for page in document.pages:
        current = next((languages[name] for name in page.anchors if name in languages), current)
        spoken.append(current)
    known = dict(zip(pdf.page_references, spoken, strict=True))
    for element in (one for top in structure.top for one in structure.inside(top)):
        if known.get(element.get("Pg")):
            element["Lang"] = pydyf.String(known[element["Pg"]])
