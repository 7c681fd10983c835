"""The page in a real browser: choices without scripts, ticks that stay, accessibility, print, no network."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from convert.document.read import ReadOptions
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.photos import album_of
from convert.pictures import read_pictures
from convert.pipeline import check_source
from convert.source import Source
from tests.browser.browsing import ROOT, needs_browser, visit

pytestmark = needs_browser

DEMO = ROOT / "fixtures/demo"
KINDS = {".md": "markdown", ".txt": "text", ".yaml": "yaml"}


def page(folder: Path, name: str, **options: object) -> Path:
    """A demo as a page on the disk."""
    (file,) = DEMO.glob(f"{name}*")
    source = Source(file.name, file.read_text(encoding="utf-8"))
    found = check_source(source, KINDS[file.suffix], ReadOptions())
    assert found.document is not None
    album, _ = album_of(found.document, read_pictures(found.document, DEMO)[0])
    shown = HtmlOptions(**options, album=album)  # type: ignore[arg-type]
    written = write_html(found.written or found.document, found.grading, found.proof, shown)
    target = folder / f"{name}.html"
    target.write_text(written.text, encoding="utf-8")
    return target


@pytest.fixture(scope="module")
def hat(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return page(tmp_path_factory.mktemp("hat"), "lantern", both=True)


@pytest.mark.parametrize("scripts", [True, False])
def test_one_size_is_a_choice_on_the_page(hat, scripts):
    """With and without scripts: its numbers alone, its rows alone, and a word where rows are passed over."""
    answers = visit(
        hat,
        {"scripts": scripts},
        {"text": "#uk-part-1 .count"},
        {"check": "#size-2"},
        {"text": "#uk-part-1 .count"},
        {"text": "#uk-part-1 .heading"},
        {"text": "#uk-part-1 .gap"},
        {"visible": "#uk-part-1 .only"},
        {"text": "#uk-sizes tbody th"},
        {"check": "#size-all"},
        {"text": "#uk-part-1 .count"},
    )
    before, _, counts, labels, gaps, badges, sizes, _, after = answers[1:]
    assert "56 (64, 72, 80, 88) dc" == before[-1]
    assert ["72 htr", "72 dc", "72 tr", "36 FPtr, 36 BPtr"] == counts[9:13]
    assert ["Rnd 9", "Next 10 rnds"] == labels[8:10]
    assert ["Rnds 10–11: not worked in this size. The numbers stay the same for all sizes."] == gaps
    assert 0 == badges
    assert ["Child"] == sizes
    assert before == after


@pytest.mark.parametrize("scripts", [True, False])
def test_the_terms_are_a_choice_on_the_page(hat, scripts):
    uk, _, us, shown = visit(
        hat,
        {"scripts": scripts},
        {"text": ".notice"},
        {"check": "#terms-en-US"},
        {"text": ".notice"},
        {"visible": "h1"},
    )[1:]
    assert ["Written in UK terms. Here dc is double crochet; a US pattern calls it sc."] == uk
    assert 1 == len(us)
    assert us[0].startswith("Written in US terms.")
    assert 1 == shown


def test_ticks_stay_on_the_device(hat):
    """A row ticked off is so in both editions and after a reload; so are the choices. One button clears the ticks."""
    box = '#uk-part-1 input[name="part-1.3"]'
    answers = visit(
        hat,
        {"visible": "#clear"},
        {"check": box},
        {"check": "#size-1"},
        {"reload": True},
        {"checked": box},
        {"checked": "#size-1"},
        {"checked": '#us-part-1 input[name="part-1.3"]'},
        {"stored": True},
        {"click": "#clear"},
        {"reload": True},
        {"checked": box},
        {"complaints": True},
    )
    hidden, *_, again, size, other, stored, _, _, cleared, complaints = answers
    assert 0 == hidden
    assert (True, True, True) == (again, size, other)
    assert ["tallyhook lantern-hill-hat 1.0"] == list(stored)
    assert not cleared
    assert [] == complaints


def test_without_scripts_boxes_can_be_ticked_and_nothing_is_broken(hat):
    box = '#uk-part-1 input[name="part-1.3"]'
    assert [True, 0] == visit(hat, {"scripts": False}, {"check": box}, {"checked": box}, {"visible": "#clear"})[2:]


@pytest.mark.parametrize("name", sorted(file.name.split(".")[0] for file in DEMO.iterdir() if file.suffix in KINDS))
def test_the_accessibility_engine_finds_nothing(tmp_path, name):
    """Source: axe-core's rules for WCAG 2.2 A and AA and its best practices; light and dark, wide and narrow."""
    answers = visit(
        page(tmp_path, name, both=True),
        {"axe": True},
        {"media": {"colorScheme": "dark"}},
        {"axe": True},
        {"viewport": [320, 640]},
        {"axe": True},
        {"asked": True},
        {"complaints": True},
    )
    found = [answer for answer in answers if isinstance(answer, dict)]
    assert 3 == len(found)
    assert [[], [], []] == [answer["violations"] for answer in found]
    assert all(answer["passes"] > 25 for answer in found)
    assert [[], []] == answers[-2:], "the page asked the network for something, or its policy was broken"


def test_the_accessibility_engine_does_find_faults(tmp_path):
    target = page(tmp_path, "pomble")
    text = target.read_text(encoding="utf-8")
    target.write_text(
        re.sub(r' aria-label="Done[^"]*"', "", text).replace('<html lang="en-US"', "<html"), encoding="utf-8"
    )
    (answer,) = visit(target, {"axe": True})
    assert {"html-has-lang", "label"} <= {violation[0] for violation in answer["violations"]}


@pytest.mark.parametrize("name", ["kestrel", "lantern", "tideline"])
def test_enlarged_four_times_nothing_has_to_be_scrolled_sideways(tmp_path, name):
    """WCAG 2.2, 1.4.10: 320 CSS pixels are a page of 1280 at 400 %."""
    answers = visit(page(tmp_path, name), {"viewport": [320, 256]}, {"wide": True}, {"overflow": True})
    assert [[], 0] == answers[1:]


def test_the_keyboard_gets_everywhere(hat):
    """First the choices, then the way past the facts; an abbreviation opens where it comes first."""
    answers = visit(
        hat,
        {"press": "Tab"},
        {"focused": True},
        {"press": "ArrowRight"},
        {"checked": "#terms-en-US"},
        {"press": "Tab"},
        {"press": "ArrowRight"},
        {"checked": "#size-0"},
        {"press": "Tab"},
        {"focused": True},
        {"focus": '#us-part-1 abbr[tabindex="0"]'},
        {"after": '#us-part-1 abbr[tabindex="0"]'},
    )
    assert "terms-en-GB" == answers[1]
    assert (True, True) == (answers[3], answers[6])
    assert "skip" == answers[8]
    assert '" (chain)"' == answers[10]


def test_targets_are_large_enough_for_a_finger(hat):
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels, the box of a tick with its label's room around it."""
    assert [None, 0, 0] == visit(hat, {"viewport": [360, 800]}, {"small": "fieldset label"}, {"small": "nav a"})


def test_print_from_the_browser_shows_the_chosen_size_alone(hat, tmp_path):
    target = tmp_path / "printed.pdf"
    visit(hat, {"check": "#size-4"}, {"pdf": str(target)})
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(target).pages).split())
    assert "88 htr" in text
    assert "56 (64" not in text
    assert "Show the numbers of" not in text


def test_motion_is_left_out_for_those_who_ask(hat):
    answers = visit(
        hat,
        {"media": {"reducedMotion": "no-preference"}},
        {"computed": ["html", "scroll-behavior"]},
        {"media": {"reducedMotion": "reduce"}},
        {"computed": ["html", "scroll-behavior"]},
    )
    assert ["smooth", "auto"] == answers[1::2]


def test_pictures_are_shown_under_the_policy_and_fit_a_phone(tmp_path):
    """They travel inside the page; the policy that seals it lets them in, and nothing is asked of the network."""
    answers = visit(
        page(tmp_path, "kestrel"),
        {"loaded": "img"},
        {"viewport": [320, 640]},
        {"overflow": True},
        {"asked": True},
        {"complaints": True},
    )
    assert [[True, True], None, 0, [], []] == answers


def test_a_photo_of_both_editions_is_held_once_and_shown_in_each(tmp_path):
    target = page(tmp_path, "kestrel", both=True)
    assert 1 == target.read_text(encoding="utf-8").count("data:image/jpeg")
    answers = visit(
        target,
        {"viewport": [360, 800]},
        {"visible": ".in-en-US .plate svg"},
        {"check": "#terms-en-GB"},
        {"visible": ".in-en-US .plate svg"},
        {"visible": ".in-en-GB .plate svg"},
        {"computed": [".in-en-GB .plate svg", "width"]},
        {"overflow": True},
        {"complaints": True},
    )
    before, _, other, after, width, overflow, complaints = answers[1:]
    assert [1, 0, 1, 0, []] == [before, other, after, overflow, complaints]
    assert 300 < float(width.removesuffix("px")) <= 360


def test_on_a_phone_figures_stand_below_the_drawing_and_counts_below_their_rows(tmp_path):
    """Where there is room they stand beside."""
    told, named, listed = ({"visible": f".drawing {part}"} for part in (".told", ".named", ".facts"))
    count = {"computed": [".bare > .count.wide", "flex-basis"]}
    words = {"computed": [".bare:has(> .count.wide) > .work", "width"]}
    answers = visit(
        page(tmp_path, "damson"),
        {"viewport": [360, 800]},
        *(told, named, listed, count, words),
        {"viewport": [1100, 800]},
        *(told, named, listed, count),
    )
    assert [0, 1, 1, "100%"] == answers[1:5]
    assert float(answers[5].removesuffix("px")) >= 160, "the row beside its count has room for a few words"
    assert [1, 0, 0, "auto"] == answers[7:]
