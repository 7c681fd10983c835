"""Rounds that go all around an edge that nobody tells. Common practice of the trade, no source."""

from __future__ import annotations

import json
import re

import pytest

from convert.document.read import ReadOptions
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.json.report import FileReport, write_report
from convert.fabric.rows.open_rounds import TURNS
from convert.pipeline import Checked, check_source
from convert.source import Source
from tests.fabric.working import faults, made, whys, work

ELSEWHERE = "Work first 5 rnds as for Bluebell Coaster."
ARCHES = "Rnd 6: Join yarn in any loop, ch 1, *sc in next loop, ch 8; rep from * around, join."
FANS = (
    "Rnd 7: Sl st in next ch-8 sp, ch 3, 4 dc in same sp, *sc in next sc, 5 dc in next ch-8 sp; rep from * around,"
    " sc in next sc, join."
)


def test_each_turn_is_known_and_their_number_stands_for_any() -> None:
    """One single crochet and one arch in every loop, and on every arch a group of five."""
    rows = [ELSEWHERE, ARCHES, FANS]
    assert ["?", f"{TURNS} sc, {TURNS} ch-8 sps", f"{5 * TURNS} dc, {TURNS} sc"] == made(rows)
    assert ["work told elsewhere", "how often it goes around is left open", ""] == whys(rows)


def test_what_fits_on_no_number_of_turns_is_unknown_and_not_wrong() -> None:
    """Nobody tells how many arches there are, so that no row may be said to leave some."""
    rows = [ELSEWHERE, ARCHES, "Rnd 7: Ch 1, *sc in each of next 41 ch-8 sps, ch 2; rep from * around, join."]
    assert ["", "", ""] == faults(rows)
    assert "?" == made(rows)[-1]


def test_the_first_number_of_turns_is_taken_that_suits_the_rows_on_it() -> None:
    """Twenty-eight arches are four times seven."""
    rows = [ELSEWHERE, ARCHES, "Rnd 7: Ch 1, *sc in each of next 7 ch-8 sps, ch 2; rep from * around, join."]
    assert ["?", "28 sc, 28 ch-8 sps", "28 sc, 4 ch-2 sps"] == made(rows)
    assert [0, 28, 28] == _turns(rows)


def test_a_stated_count_makes_the_number_of_turns_known() -> None:
    """Nineteen arches are told, not twenty-four."""
    rows = [ELSEWHERE, ARCHES.replace("join.", "join. (19 sc)"), FANS]
    assert ["?", "19 sc, 19 ch-8 sps", "95 dc, 19 sc"] == made(rows)
    assert 0 == _turns(rows)[-1]


def test_rows_on_it_stand_for_any_number_until_new_work_begins() -> None:
    """The ring of the next piece is counted as ever."""
    rows = [ELSEWHERE, ARCHES, FANS, "Ch 5, join to form a ring, ch 1, 14 sc in ring, join."]
    assert [0, TURNS, TURNS, 0] == _turns(rows)


def _turns(rows: list[str]) -> list[int]:
    return [worked.outcome.edge.turns if worked.outcome else 0 for worked in work(rows)]


PICKETS = "*sc in next loop, ch 4, tr in next loop"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("*2 sc in next loop, ch 4, sc in next loop; rep from * around, join.", "72 sc, 24 ch-4 sps"),
        (f"{PICKETS}, ch 4; rep from * around, ending with sc in next loop, ch 4, join.", "25 sc, 49 ch-4 sps, 24 tr"),
        (f"{PICKETS}; rep from * around, ending with ch 9, tr in next loop, join.", "?"),
        (f"{PICKETS}; rep from * around, ending to correspond, join.", "?"),
        ("*sc evenly along side, 3 sc in corner; rep from * around, join.", "?"),
        ("sc in each loop around, join.", "?"),
    ],
)
def test_how_the_last_turn_goes_must_be_told(line: str, expected: str) -> None:
    """An ending that is the beginning of a turn is more of one. How many corners there are, is no open number."""
    assert expected == made([ELSEWHERE, f"Rnd 6: Ch 1, {line}"])[-1]


def test_a_round_that_began_with_the_last_group_of_a_turn_ends_to_correspond() -> None:
    """The group in the first loop is that of the last turn, so that there are as many of each."""
    begun = "Rnd 6: Sl st into loop, ch 3, 3 dc in same loop"
    line = f"{begun}, *ch 2, sc in next loop, ch 2, 4 dc in next loop; rep from * around, ending to correspond, join."
    assert f"{4 * (TURNS + 1)} dc, {2 * (TURNS + 1)} ch-2 sps, {TURNS + 1} sc" == made([ELSEWHERE, line])[-1]
    assert "?" == made([ELSEWHERE, line.replace("4 dc in next loop;", "4 dc in next loop, ch 1;")])[-1]


def test_behind_words_that_are_not_understood_the_yarn_must_be_joined_anew() -> None:
    """What stands on the hook there, the maker may know: nothing tells that the next round goes on from it."""
    unread = "Rnd 5: Sc in each sc, and then vary it all over, join."
    ring = "Rnd 4: Ch 5, join with sl st to form a ring, ch 1, 16 sc in ring, join."
    assert "?" == made([ring, unread, ARCHES.replace("Join yarn in any loop, ch 1", "Ch 1")])[-1]
    assert f"{TURNS} sc, {TURNS} ch-8 sps" == made([ring, unread, ARCHES])[-1]
    assert "?" == made([ELSEWHERE, unread, ARCHES.replace("Join yarn in any loop, ch 1", "Ch 1")])[-1]


def _checked(before: str) -> Checked:
    lines = f"{before}\n{ARCHES}\n"
    text = f"Tansy Mat\n\nUS terms.\n\nGauge: 16 sts and 16 rows = 10 cm\n\nWorked in rounds.\n\n{lines}"
    return check_source(Source("mat.txt", text), "text", ReadOptions())


TOLD = "Rnd 5: Ch 6, join with sl st to form a ring, ch 1, *sc in ring, ch 3; rep from * 9 times, join."


def test_the_report_says_how_many_turns_were_counted() -> None:
    """Whoever reads the counts has to know that they are those of a number that stands for any."""
    for before, turns in ((ELSEWHERE, TURNS), (TOLD, None)):
        report = json.loads(write_report([FileReport("mat.txt", "", (), _checked(before).proof)]))
        row = report["files"][0]["rows"][-1]["sizes"][0]
        assert (turns, not turns) == (row.get("turns"), row["proved"])


def test_no_page_and_no_measure_tells_the_counts_of_such_a_round() -> None:
    """They are not those of the piece."""
    shown = {}
    for before in (ELSEWHERE, TOLD):
        checked = _checked(before)
        assert checked.written and checked.measured and checked.grading and checked.proof
        page = write_html(checked.written, checked.grading, checked.proof, HtmlOptions(faces=False)).text
        words = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", page))
        part = checked.measured.sizes[0].parts[0]
        shown[before] = (bool(re.search(r"\d+ sc, \d+ ch-8 sps", words)), part.whole)
    assert {ELSEWHERE: (False, False), TOLD: (True, True)} == shown


def test_a_note_tells_that_the_number_of_turns_is_not_known() -> None:
    """What each turn makes is known."""
    found = [finding for finding in _checked(ELSEWHERE).findings if finding.code == "counted-alone"]
    assert ["What each turn makes is known, and how many turns there are is not."] == [f.because for f in found]
