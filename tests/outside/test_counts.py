"""Published stitch counts against what the fabric makes of rows in our own words. `counts.yaml` names the sources."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from convert.document.read import ReadOptions
from convert.fabric.results import RowProof
from convert.findings import Severity
from convert.pipeline import Checked, check_source
from convert.source import Source

CASES: list[dict[str, Any]] = yaml.safe_load(Path(__file__).with_name("counts.yaml").read_text(encoding="utf-8"))


def _checked(case: dict[str, Any], rows: list[str]) -> Checked:
    pattern = {
        "format": "1",
        "title": case["id"],
        "terms": case.get("terms", "us"),
        "sizes": [{"id": name.lower(), "name": name} for name in case.get("sizes", ())],
        "parts": [{"name": "Piece", "worked": case["worked"], "rows": rows}],
    }
    text = yaml.safe_dump(
        {key: value for key, value in pattern.items() if value != []}, allow_unicode=True, width=10_000
    )
    return check_source(Source("case.pattern.yaml", text), "yaml", ReadOptions())


def _rows(case: dict[str, Any]) -> list[str]:
    return str(case["rows"]).splitlines()


def _per_size(case: dict[str, Any], expected: Any) -> list[Any]:
    """One value a size, where the case gives one for all."""
    return expected if isinstance(expected, list) else [expected] * max(1, len(case.get("sizes", ())))


def _totals(proofs: tuple[RowProof, ...]) -> list[list[int | None]]:
    return [[size.total for size in proof.sizes] for proof in proofs]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_rows_make_the_published_counts(case: dict[str, Any]) -> None:
    """Row by row and size by size, with nothing stated that could help."""
    checked = _checked(case, _rows(case))
    assert [] == [finding for finding in checked.findings if finding.severity is Severity.ERROR]
    assert checked.proof is not None
    # A foundation has no published total of its own: what follows proves it.
    expected = [_per_size(case, total) for total in case["total"]]
    totals = _totals(checked.proof.rows)
    assert len(expected) == len(totals)
    assert [row for row in expected if None not in row] == [
        found for row, found in zip(expected, totals, strict=True) if None not in row
    ]
    for row, kinds in zip(checked.proof.rows, case.get("made", ()), strict=False):
        found = {tally.kind: tally.number for tally in row.sizes[0].made or ()}
        assert kinds == {kind: found.get(kind) for kind in kinds}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_a_count_that_is_off_by_one_is_found(case: dict[str, Any]) -> None:
    """The last row states one stitch more than published in its last size: exactly that is reported."""
    rows = _rows(case)
    counts = _per_size(case, case["total"][-1])
    wrong = [*counts[:-1], counts[-1] + 1]
    said = str(wrong[0]) if len(wrong) == 1 else f"{wrong[0]} ({', '.join(map(str, wrong[1:]))})"
    rows[-1] = f"{rows[-1]} ({said} sts)" if len(wrong) == 1 else f"{rows[-1]} [{said} sts]"
    found = [finding for finding in _checked(case, rows).findings if finding.severity is Severity.ERROR]
    assert ["count-mismatch"] == [finding.code for finding in found]
    assert f"it says {wrong[-1]}" in found[0].message
    assert f"makes {counts[-1]} " in found[0].message


def test_a_published_mismatch_is_found() -> None:
    """A magazine's cuff states one stitch fewer than its words make, in every size.

    Inside Crochet (UK), January 2020, p. 41; perhaps a slip in print. British terms; the words are ours.
    """
    case = {"id": "Cuff", "terms": "uk", "worked": "rows", "sizes": ["S", "M", "L", "XL", "2XL"]}
    rows = [
        "Ch 72 (77, 82, 87, 92).",
        "Row 1: 1 tr in 3rd ch from hook and in each ch to end. [69 (74, 79, 84, 89) tr]",
    ]
    checked = _checked(case, rows)
    assert checked.proof is not None
    assert [70, 75, 80, 85, 90] == [size.total for size in checked.proof.rows[-1].sizes]
    assert {"count-mismatch"} == {finding.code for finding in checked.findings if finding.severity is Severity.ERROR}
