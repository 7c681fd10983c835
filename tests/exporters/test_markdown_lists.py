"""What a person who reads the Markdown has to know stands in the text, and not in the data at its head alone."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.exporters import data_writer
from convert.exporters.page.build import page_edition, page_of
from convert.importers import reader
from convert.source import Source

TEXT = """Mat

US terms. {said}

Ch 22.
Row 1: Dc in 4th ch from hook and in each ch across, turn. (20 dc)
Row 2: Ch 3, dc in next dc and in each dc across, turn. (20 dc)
"""


def body(said: str, system: TermSystem) -> str:
    document = reader("text")(Source("mat.txt", TEXT.format(said=said)), ReadOptions()).document
    assert document is not None
    text = data_writer("markdown")(document, system).text
    assert document == reader("markdown")(Source("mat.md", text), ReadOptions()).document
    return text.split("---")[2]


def test_what_beginning_chains_stand_for_is_said_to_the_reader() -> None:
    said = "Ch 3 at beginning of row counts as dc throughout."
    assert "Ch 3 at the beginning of a row or round counts as 1 dc." in body(said, TermSystem.US)
    assert "Ch 3 at the beginning of a row or round counts as 1 tr." in body(said, TermSystem.UK)


def test_where_nothing_is_said_nothing_is_added() -> None:
    assert "beginning of a row" not in body("", TermSystem.US)


def test_a_table_of_sizes_has_more_in_it_than_their_names() -> None:
    """Where nothing is known of the sizes but that, the note on their order is all there is to say."""
    text = (
        TEXT.format(said="")
        .replace("Ch 22.", "Sizes: S (M, L)\n\nCh 22 (24, 26).")
        .replace("(20 dc)", "(20 (22, 24) dc)")
    )
    document = reader("text")(Source("mat.txt", text), ReadOptions()).document
    assert document is not None
    shown = data_writer("markdown")(document, TermSystem.US).text
    assert "Numbers are given for S, with M, L in brackets." in shown
    assert "| Size" not in shown
    page = page_of(page_edition(document, None, None, TermSystem.US, None))
    assert page.sizes is not None
    assert not page.sizes.measured
    assert page_of(page_edition(document, None, None, TermSystem.US, "m")).sizes is None
