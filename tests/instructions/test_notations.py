"""Every notation of the fixture is read as what it means, and near misses are not; open ones really are open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from convert.document.prose import Prose
from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.document.steps import Group, Repeat, Step, Verbatim
from convert.fabric.counts import agrees, tallies
from convert.fabric.parts.run import WorkedRow
from convert.instructions.writing.rows import write_row
from convert.instructions.writing.wording import Wording
from convert.pipeline import check_source
from convert.source import Source
from convert.terms.naming import write_prose
from tests.fabric.working import work
from tests.instructions.notations import bases, cases, files
from tests.instructions.reading import read, written

BASES = bases()
CASES = cases()
KEYS = {
    *("group", "line", "uk", "is", "not", "after", "makes", "agrees", "fails", "why", "kept", "text", "rows", "state"),
    *("sizes", "finds", "reports", "open"),
}
KNOWN = [case for case in CASES if case.get("state") != "open"]
OPEN = [case for case in CASES if case.get("state") == "open"]


def name(case: dict[str, Any]) -> str:
    """The case's own words."""
    words = case.get("line") or case.get("uk") or case["text"].strip().splitlines()[4]
    return f"{case['group']}: {words}"


def differences(case: dict[str, Any]) -> list[tuple[str, object, object]]:
    """What is expected and what is found, where the two differ."""
    if "text" in case:
        return _compared(list(_of_text(case)))
    system = TermSystem.UK if "uk" in case else TermSystem.US
    line = case.get("line") or case["uk"]
    found = read(line, system)
    kept = [write_prose(words, system) for words in _kept(found.row.steps)]
    facts: list[tuple[str, object, object]] = [("kept", case.get("kept", []), kept)]
    if "is" in case:
        facts.append(("is", case["is"], written(found.row, system)))
    if "not" in case:
        facts.append(("not", True, case["not"] != written(found.row, system)))
    if "reports" in case:
        facts.append(("reports", case["reports"], [finding.code for finding in found.findings]))
    if "after" in case:
        facts += _executed(case, line, system)
    return _compared(facts)


def _compared(facts: list[tuple[str, object, object]]) -> list[tuple[str, object, object]]:
    return [fact for fact in facts if fact[1] != fact[2]]


def _executed(case: dict[str, Any], line: str, system: TermSystem) -> Iterator[tuple[str, object, object]]:
    base = BASES[case["after"]] if isinstance(case["after"], str) else case["after"]
    worked = work([*base, line], system=system, colours=("A", "B"))[-1]
    faults = ",".join(fault.code for fault in worked.outcome.faults) if worked.outcome else ""
    yield "fails", case.get("fails", ""), faults
    if "why" in case:
        yield "why", case["why"], worked.outcome.why if worked.outcome else ""
    elif not case.get("fails"):
        yield "known", True, worked.outcome is not None and worked.outcome.made is not None
    if "makes" in case:
        yield "makes", sorted(case["makes"].split(", ")), _made(worked)
    if "agrees" in case:
        yield "agrees", case["agrees"], _agreeing(worked)


def _made(worked: WorkedRow) -> list[str]:
    if worked.outcome is None or worked.outcome.made is None:
        return ["unknown"]
    groups = {cell.unit for loop in worked.outcome.made.loops for cell, _ in loop.runs}
    return sorted(f"{t.number} {t.kind}" for t in tallies(worked.outcome.made) if t.kind not in groups)


def _agreeing(worked: WorkedRow) -> bool | None:
    if worked.outcome is None or worked.outcome.made is None or not worked.stated:
        return None
    told = [agrees(worked.outcome.made, item, 0) for item in worked.stated]
    return None if None in told else all(told)


def _kept(steps: tuple[Step, ...]) -> Iterator[Prose]:
    for step in steps:
        if isinstance(step, Verbatim) and not step.inert:
            yield step.words
        elif isinstance(step, Group | Repeat):
            yield from _kept(step.steps)


def _of_text(case: dict[str, Any]) -> Iterator[tuple[str, object, object]]:
    done = check_source(Source("notation.txt", case["text"]), "text", ReadOptions())
    document = done.document
    assert document is not None
    ids, names = tuple(size.id for size in document.sizes), tuple(size.name or size.id for size in document.sizes)
    if "rows" in case:
        wording = Wording(document.written, specials=document.specials, size_ids=ids, size_names=names)
        yield "rows", case["rows"], [write_row(row, wording) for part in document.parts for row in part.rows]
    if "sizes" in case:
        yield "sizes", case["sizes"], list(names)
    if "finds" in case:
        yield "finds", case["finds"], [finding.code for finding in done.findings]
        proof = done.proof
        assert proof is not None
        unproved = [row.label or row.row.said for row in proof.rows if not all(size.proved for size in row.sizes)]
        yield "open", case.get("open", []), unproved if not case["finds"] or "open" in case else []


@pytest.mark.parametrize("case", KNOWN, ids=name)
def test_a_notation_is_read_as_what_it_means(case: dict[str, Any]) -> None:
    """Standard wording, count on its base, faults and words kept: all as the case says, and nothing else."""
    assert set(case) <= KEYS
    assert [] == differences(case)


def test_an_open_notation_is_still_open() -> None:
    """A case that has come right loses its `state: open`."""
    assert [] == [name(case) for case in OPEN if not differences(case)]


def test_no_case_asks_for_nothing() -> None:
    """Each case says what is read, what is made, or what is kept."""
    asked = {"is", "not", "after", "kept", "rows", "finds", "reports"}
    assert [] == [name(case) for case in CASES if not set(case) & asked]


def test_each_group_has_one_home() -> None:
    """A group that stood in two files would be read twice, and found in one of them only."""
    groups = [group for data in files() for group in data]
    assert len(set(groups)) == len(groups)
