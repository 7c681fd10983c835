"""The demo collection is clean, and each broken variant has exactly its planted mistake."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from convert.document.read import ReadOptions
from convert.importers import ENDINGS
from convert.pipeline import Checked, check_source
from convert.source import Source

FIXTURES = Path(__file__).parents[1] / "fixtures"
DEMOS = sorted(p for p in (FIXTURES / "demo").iterdir() if p.suffix in ENDINGS)
BROKEN = yaml.safe_load((FIXTURES / "broken" / "expected.yaml").read_text("utf-8"))


def check(path: Path) -> Checked:
    """The pattern of a file, checked."""
    return check_source(Source(path.name, path.read_text("utf-8")), ENDINGS[path.suffix], ReadOptions())


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.name)
def test_a_demo_has_no_findings_and_is_proved_whole(path: Path) -> None:
    """Every row of every size, from a known beginning to a known end."""
    checked = check(path)
    assert () == checked.findings
    assert checked.proof is not None
    assert checked.proof.understood.rows == checked.proof.understood.proved_rows
    assert 0 == checked.proof.understood.verbatim_clauses


@pytest.mark.parametrize("planted", BROKEN, ids=lambda e: e["file"])
def test_a_broken_variant_has_its_one_mistake(planted: dict[str, Any]) -> None:
    """Its code, its line, its sizes, and nothing else."""
    found = check(FIXTURES / "broken" / planted["file"]).findings
    assert [(planted["code"], planted["line"])] == [(f.code, f.span.line + 1) for f in found]
    if "sizes" in planted:
        assert tuple(planted["sizes"]) == found[0].sizes


def test_every_file_of_broken_variants_is_expected() -> None:
    """No file without an expectation."""
    files = {p.name for p in (FIXTURES / "broken").iterdir()} - {"expected.yaml"}
    assert files == {entry["file"] for entry in BROKEN}


def test_every_demo_has_two_broken_variants() -> None:
    """At least two planted mistakes for each of the five demos."""
    texts = {p.name: p.read_text("utf-8") for p in DEMOS}
    titles = {
        name: next(line for line in text.splitlines() if line.strip() and line != "---") for name, text in texts.items()
    }
    assert len(titles) >= 5
    assert len(BROKEN) >= 2 * 5
