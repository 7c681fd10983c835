"""Every code that a finding can bear is explained, and every explanation has its examples."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from convert.checks import registry
from convert.document.read import ReadOptions
from convert.exporters.explanation_text import write_codes, write_explanation
from convert.pipeline import check_source
from convert.source import Source

ROOT = Path(__file__).parents[1]
WITHOUT_EXAMPLES = {
    "demands-too-wide",
    "encoding-guessed",
    "limit-exceeded",
    "low-contrast",
    "missing-character",
    "more-faults",
    "pdf-library",
    "picture-not-found",
    "picture-unusable",
    "row-too-long",
    "unknown-caution",
    "unreadable-input",
}
"""Codes that no short text can show: they are about bytes, bounds, or the writing of pages."""


def _codes() -> Iterator[tuple[str, str]]:
    """Codes that stand as words in calls of `Finding` and of the helpers that make findings, with their file."""
    for path in sorted((ROOT / "convert").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and node.args and _name(node.func) in {"Finding", "_report", "_finding"}:
                first = node.args[0]
                if isinstance(first, ast.Constant) and isinstance(first.value, str):
                    yield first.value, str(path.relative_to(ROOT))


def _name(function: ast.expr) -> str:
    return getattr(function, "id", "") or getattr(function, "attr", "")


def test_every_code_in_the_program_is_explained() -> None:
    """`tallyhook explain CODE` answers for whatever a finding shows."""
    used = dict(_codes())
    assert len(used) > 10
    assert {} == {code: path for code, path in used.items() if code not in registry()}


@pytest.mark.parametrize("code", sorted(registry()))
def test_an_explanation_is_whole(code: str) -> None:
    """A title in a few words, an explanation, and two examples that differ, where a text can show them."""
    check = registry()[code]
    assert check.title
    assert len(check.title) < 90
    assert len(check.explanation.strip()) > 60
    printed = write_explanation(check)
    assert printed.startswith(f"{code} ({check.severity}): ")
    assert [bool(check.bad.strip()), bool(check.good.strip())] == ["Wrong:" in printed, "Right:" in printed]
    assert check.bad != check.good or code in WITHOUT_EXAMPLES


@pytest.mark.parametrize("code", sorted(set(registry()) - WITHOUT_EXAMPLES))
def test_the_bad_example_yields_the_code_and_the_good_one_does_not(code: str) -> None:
    """What the explanation shows is what the program does."""
    check = registry()[code]
    found = [
        {finding.code for finding in check_source(Source("example", text), check.form, ReadOptions()).findings}
        for text in (check.bad, check.good)
    ]
    if check.bad.strip():
        assert code in found[0]
    assert code not in found[1]


def test_the_list_of_codes_names_each_once() -> None:
    """One line a code, in the order of the alphabet."""
    lines = write_codes(registry().values()).splitlines()
    assert sorted(registry()) == [line.split()[0] for line in lines]
