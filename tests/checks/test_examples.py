"""Every code has an example that yields it and one that does not."""

from __future__ import annotations

import pytest

from convert.checks import registry
from convert.checks.check import Check
from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

CHECKS = list(registry().values())


def codes(text: str, form: str) -> list[str]:
    """The codes found in an example; rows alone are given a title and their terms."""
    if form == "text":
        text = f"Example\n\n{'' if 'terms' in text.lower() else 'US terms'}\n\n{text}"
    return [finding.code for finding in check_source(Source("example", text), form, ReadOptions()).findings]


@pytest.mark.parametrize("check", [c for c in CHECKS if c.bad.strip()], ids=lambda c: c.code)
def test_the_bad_example_yields_exactly_its_code(check: Check) -> None:
    """One mistake, one finding."""
    assert [check.code] == codes(check.bad, check.form)


@pytest.mark.parametrize("check", [c for c in CHECKS if c.good.strip()], ids=lambda c: c.code)
def test_the_good_example_yields_nothing(check: Check) -> None:
    """The same text put right."""
    assert [] == codes(check.good, check.form)


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.code)
def test_every_code_is_explained(check: Check) -> None:
    """A readable slug, a title, and more than a sentence."""
    assert check.code == check.code.lower().replace(" ", "-").replace("_", "-")
    assert check.title
    assert len(check.explanation.split()) > 15
