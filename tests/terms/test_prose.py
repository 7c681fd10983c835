"""Terms in running text: what is taken for one, what is left alone, and that nothing is changed on the way."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.prose import Form, Prose, Term
from convert.document.records import Special, TermSystem
from convert.terms.naming import write_prose
from convert.terms.prose import read_prose
from convert.trade.stitches import stitches

US, UK = TermSystem.US, TermSystem.UK
WING = Special("wing-fan", "wing fan", "wf", "wing fans")

STANDARD = {
    system: sorted(
        {
            form
            for stitch in stitches().values()
            for form in (stitch.names(system).abbreviation, stitch.names(system).name, stitch.names(system).plural)
        }
        | {
            f"{stitch.names(system).abbreviation}{n}tog"
            for stitch in stitches().values()
            if stitch.legs
            for n in (2, 3)
        }
    )
    for system in TermSystem
}
PLAIN_WORDS = ["treble the width", "double", "chain", "along the edge", "3", "ring", "Ada's", "work", "1st", "ch-3 sp"]


def terms(prose: Prose) -> list[Term]:
    return [part for part in prose if isinstance(part, Term)]


def said(text: str, system: TermSystem, *specials: Special) -> list[tuple[str, str]]:
    return [(term.id, term.form.value) for term in terms(read_prose(text, system, specials))]


@pytest.mark.parametrize(
    ("system", "text", "expected"),
    [
        (US, "Work 5 dc, then tr.", [("dc", "abbreviation"), ("tr", "abbreviation")]),
        (UK, "Work 5 dc, then tr.", [("sc", "abbreviation"), ("dc", "abbreviation")]),
        (US, "a double crochet border", [("dc", "name")]),
        (UK, "two treble crochets", [("dc", "plural")]),
        (UK, "a double treble crochet", [("tr", "name")]),
        (US, "3dc and 2tr", [("dc", "abbreviation"), ("tr", "abbreviation")]),
        (US, "5-dc cluster", [("dc", "abbreviation")]),
        (US, "half double stitches", [("hdc", "name")]),
        (UK, "work d c and h tr", [("sc", "abbreviation"), ("hdc", "abbreviation")]),
        (UK, "raised treble front", [("FPdc", "name")]),
        (US, "Check your gauge", [("gauge", "abbreviation")]),
        (UK, "Check your tension", [("gauge", "abbreviation")]),
        (US, "yo and pull through", [("yarn-over", "abbreviation")]),
        (UK, "a cord as long as the long side, 20 cm long", []),
        (UK, "sew on with long stitches, then knit 1, purl 1", []),
    ],
)
def test_what_is_a_term(system: TermSystem, text: str, expected: list[tuple[str, str]]) -> None:
    assert expected == said(text, system)


@pytest.mark.parametrize(
    ("system", "text"),
    [
        (US, "Fold double and treble the width."),
        (US, "Ada's c is adcb, hdcx and a.dc"),
        (US, "See www.dc.example or mail dc@example.org or https://example.org/dc"),
        (US, "Made in Columbia, SC and nowhere else"),
        (UK, "keep an even tension while you miss the bus"),
        (US, "Dec 2024, Fan Co. Inc., a puff of wind"),
        (US, "htr is no US stitch"),
        (UK, "sc is no UK stitch"),
        (US, "colour and grey"),
    ],
)
def test_what_is_left_alone(system: TermSystem, text: str) -> None:
    assert (text,) == read_prose(text, system)


def test_decrease_keeps_its_legs() -> None:
    assert [Term("dc", legs=2), Term("sc", Form.NAME, 3)] == terms(
        read_prose("dc2tog or single crochet 3 together", US)
    )


def test_a_plural_s_stays_text() -> None:
    prose = read_prose("5 dcs", US)
    assert "5 dcs" == write_prose(prose, US)
    assert "5 trs" == write_prose(prose, UK)


def test_no_plural_s_where_the_other_system_would_double_it() -> None:
    assert ("two sl sts",) == read_prose("two sl sts", US)


@pytest.mark.parametrize(
    ("text", "us", "uk"),
    [
        ("Dc in next", "Dc in next", "Tr in next"),
        ("Double crochet edge", "Double crochet edge", "Treble crochet edge"),
        ("work in DC", "work in dc", "work in tr"),
        ("a Half Double Crochet", "a Half double crochet", "a Half treble crochet"),
        ("fpdc", "FPdc", "FPtr"),
        ("treble crochet", "treble crochet", "double treble crochet"),
        ("Join with sl st.", "Join with sl st.", "Join with ss."),
    ],
)
def test_written_in_both_systems(text: str, us: str, uk: str) -> None:
    prose = read_prose(text, US)
    assert (us, uk) == (write_prose(prose, US), write_prose(prose, UK))


def test_translation_does_not_chain() -> None:
    prose = read_prose("sc, hdc, dc, tr, dtr", US)
    assert "dc, htr, tr, dtr, trtr" == write_prose(prose, UK)


def test_own_stitches_are_terms_and_keep_their_names() -> None:
    prose = read_prose("Work a wing fan, two wing fans or wf here.", US, (WING,))
    assert [Form.NAME, Form.PLURAL, Form.ABBREVIATION] == [term.form for term in terms(prose)]
    assert {"wing-fan"} == {term.id for term in terms(prose)}
    assert "Work a wing fan, two wing fans or wf here." == write_prose(prose, UK, (WING,))


def test_a_stitch_of_the_trade_that_the_author_defines_is_the_authors() -> None:
    shell = Special("shell", "shell", "sh", "shells")
    assert [] == terms(read_prose("a shell", US))
    assert [Term("shell", Form.NAME)] == terms(read_prose("a shell", US, (shell,)))


texts = st.lists(
    st.one_of(st.sampled_from(STANDARD[US] + STANDARD[UK] + PLAIN_WORDS), st.text(max_size=12)), max_size=8
)


def exact(text: str, system: TermSystem) -> bool:
    """Whether no spelling in the text had to be set right."""
    return write_prose(read_prose(text, system), system) == text


@given(
    st.lists(
        st.sampled_from([*PLAIN_WORDS, "dc", "Tr", "FPdc", "dc2tog", "treble crochets", "gauge", "ch"]), max_size=12
    ),
    st.sampled_from([", ", "; ", " / ", " and "]),
    st.sampled_from(list(TermSystem)),
)
def test_standard_forms_come_back_as_they_stood(words: list[str], between: str, system: TermSystem) -> None:
    text = between.join(words)
    assert text == write_prose(read_prose(text, system), system)


@given(texts, st.sampled_from(list(TermSystem)))
def test_a_second_trip_changes_nothing(words: list[str], system: TermSystem) -> None:
    once = write_prose(read_prose(" ".join(words), system), system)
    assert once == write_prose(read_prose(once, system), system)


@given(texts, st.sampled_from(list(TermSystem)))
def test_all_text_beside_the_terms_is_kept(words: list[str], system: TermSystem) -> None:
    text = " ".join(words)
    prose = read_prose(text, system)
    kept = "".join(re.escape(part) if isinstance(part, str) else r".{2,60}?" for part in prose)
    assert re.fullmatch(kept, text, re.DOTALL)
    assert not any(isinstance(a, str) and isinstance(b, str) for a, b in pairwise(prose))


@given(st.lists(st.sampled_from(STANDARD[US] + PLAIN_WORDS), max_size=10))
def test_from_us_to_uk_and_back(words: list[str]) -> None:
    prose = read_prose(", ".join(words), US)
    assert prose == read_prose(write_prose(prose, UK), UK)


@given(st.lists(st.sampled_from(STANDARD[UK] + PLAIN_WORDS), max_size=10))
def test_from_uk_to_us_and_back(words: list[str]) -> None:
    prose = read_prose(", ".join(words), UK)
    assert prose == read_prose(write_prose(prose, US), US)


@given(st.text(alphabet="abc DdCcTtRr2tog'.,-3s", max_size=60), st.sampled_from(list(TermSystem)))
def test_any_text_can_be_read(text: str, system: TermSystem) -> None:
    once = write_prose(read_prose(text, system), system)
    assert once == write_prose(read_prose(once, system), system)
    assert exact(once, system)


def test_an_edition_says_of_itself_in_which_terms_it_is() -> None:
    note = "The shawl is written in US terms. Ask if you need UK terms."
    prose = read_prose(note, US)
    assert note == write_prose(prose, US)
    assert "The shawl is written in UK terms. Ask if you need UK terms." == write_prose(prose, UK)
