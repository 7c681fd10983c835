"""The author's explanations of abbreviations stand in the list of the edition, and nowhere twice."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.exporters.page.build import page_edition, page_of
from convert.exporters.page.edition import USUAL, Manner
from convert.exporters.page.records import Page
from convert.exporters.page.typeset import plain_text
from convert.importers.typed.form import read_typed
from convert.source import Source

ROWS = "Rnd 1: 6 sc in adjustable ring. (6)\nRnd 2: inc in each st around. (12)\nRnd 3: dec around. (6)\n"


def page(told: str, system: TermSystem = TermSystem.US, manner: Manner = USUAL) -> Page:
    text = f"Rush Cup\n\nUS terms.\n\n{told}\n\n{ROWS}"
    document = read_typed(Source("cup.txt", text), ReadOptions()).document
    assert document is not None
    return page_of(page_edition(document, None, None, system, None, manner))


def entries(shown: Page) -> dict[str, str]:
    assert len({entry.short for entry in shown.abbreviations}) == len(shown.abbreviations)
    return {entry.short: entry.meaning for entry in shown.abbreviations}


TOLD = "Abbreviations:\nsc = single crochet, inc = 2 sc in same stitch, dec = invisible decrease, flp = flap of the lid"


def test_the_authors_words_stand_behind_the_names():
    told = entries(page(TOLD))
    assert ("increase: 2 sc in same stitch", "invisible decrease") == (told["inc"], told["dec"])
    assert "flap of the lid" == told["flp"]


def test_they_are_translated():
    assert "increase: 2 dc in same stitch" == entries(page(TOLD, TermSystem.UK))["inc"]


def test_they_do_not_stand_there_a_second_time():
    assert [] == [chapter.heading for chapter in page(TOLD).after if chapter.heading == "Abbreviations"]


def test_what_stands_behind_the_name_is_kept():
    """But not where it only is another name, or what the other system calls it, which the list tells itself."""
    told = entries(page("Abbreviations:\ninc = increase, 2 sc in same stitch\nsc = single crochet, worked loosely"))
    assert ("increase, 2 sc in same stitch", "single crochet, worked loosely") == (told["inc"], told["sc"])
    told = entries(page("Abbreviations:\nst = stitch, sts\nsc = single crochet, UK dc"))
    assert "single crochet" == told["sc"]


def test_an_entry_of_a_list_goes_on_from_no_other():
    """Though its lines are long and the next one begins with a small letter, as where a page's width broke them."""
    post = "front post double crochet: go in from the front, round the upright of the stitch, and draw up a long loop"
    told = entries(
        page(f"Abbreviations\nch = chain\nFPdc = {post}\ndc3tog = [yarn over, pull through 2 loops] 3 times")
    )
    assert post == told["FPdc"]
    assert "double crochet 3 together: [yarn over, pull through 2 loops] 3 times" == told["dc3tog"]


def test_what_else_the_list_says_is_kept():
    shown = page(f"{TOLD}\n\nAll increases lean to the left.")
    assert ["All increases lean to the left."] == [
        plain_text(text) for chapter in shown.after for text in chapter.paragraphs
    ]
    assert "increase: 2 sc in same stitch" == entries(shown)["inc"]


def test_a_name_that_tells_nothing_is_explained_by_the_table():
    assert "increase: 2 stitches in one" == entries(page(""))["inc"]


def test_a_page_in_full_words_keeps_the_list():
    shown = page(TOLD, manner=Manner(full_words=True))
    assert () == shown.abbreviations
    assert ["Abbreviations"] == [chapter.heading for chapter in shown.after]
