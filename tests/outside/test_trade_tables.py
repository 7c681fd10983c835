"""The tables of the trade against published ones. `published.yaml` names the source beside each."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml

from convert.document.prose import Form
from convert.document.records import TermSystem
from convert.terms.naming import term
from convert.trade.hooks import hook_size, hooks
from convert.trade.stitches import stitches, stood_for
from convert.trade.words import words
from convert.trade.yarns import yarn_weight

PUBLISHED: dict[str, Any] = yaml.safe_load(Path(__file__).with_name("published.yaml").read_text(encoding="utf-8"))
US, UK = TermSystem


def _rows(table: str, rows: str = "rows") -> list[Any]:
    return [pytest.param(row, id=str(next(iter(row.values())))) for row in PUBLISHED[table][rows]]


def _stitch(us: str) -> tuple[str, int]:
    """The id and the legs of the stitch that US patterns abbreviate so, found by its printed name alone."""
    decrease = re.fullmatch(r"(\w+?)(\d)tog", us)
    name, legs = (decrease[1], int(decrease[2])) if decrease else (us, 0)
    (id,) = (stitch.id for stitch in stitches().values() if stitch.us.abbreviation == name)
    return id, legs


@pytest.mark.parametrize("row", _rows("stitch-names"))
def test_abbreviations_in_both_systems(row: dict[str, str]) -> None:
    """One stitch, and what each side of the Atlantic calls it."""
    id, legs = _stitch(row["us"])
    assert row["uk"] == term(id, UK, legs=legs)


@pytest.mark.parametrize("row", _rows("stitch-names", "long-names"))
def test_long_names_in_both_systems(row: dict[str, str]) -> None:
    """The names written out."""
    (id,) = (stitch.id for stitch in stitches().values() if stitch.us.name == row["us"])
    assert row["uk"] == term(id, UK, Form.NAME)


@pytest.mark.parametrize("row", _rows("words"))
def test_words_in_both_systems(row: dict[str, str]) -> None:
    """Words of the trade other than stitches."""
    assert [row["uk"]] == [word.uk for word in words().values() if word.us == row["us"]]


@pytest.mark.parametrize("row", _rows("turning-chains"))
def test_turning_chains(row: dict[str, Any]) -> None:
    """How many chains reach up to a stitch, and whether they are taken for it."""
    id, _ = _stitch(row["stitch"])
    stitch = stitches()[id]
    assert (row["chains"], row["counts"]) == (stitch.height, stitch.counts)
    if row["counts"]:
        assert id == stood_for(row["chains"])


@pytest.mark.parametrize("row", _rows("yarn-classes"))
def test_yarn_classes(row: dict[str, Any]) -> None:
    """Name, gauge and hook of each class."""
    found = yarn_weight(row["class"])
    assert found is not None
    assert row["name"] == found.name
    for key in ("gauge", "hook"):
        ends = [None if end is None else Decimal(str(end)) for end in row[key]]
        assert ends == [getattr(found, key).least, getattr(found, key).most], key


@pytest.mark.parametrize("row", _rows("hooks"))
def test_hook_sizes(row: dict[str, Any]) -> None:
    """The US and the old British name of a diameter."""
    found = hook_size(Decimal(str(row["mm"])))
    assert found is not None
    assert (row["us"], row["uk"], False) == (found.us, found.uk, found.steel)


@pytest.mark.parametrize("row", _rows("steel-hooks"))
def test_steel_hook_sizes(row: dict[str, Any]) -> None:
    """Steel hooks have numbers of their own, which rise as the hook gets thinner."""
    assert [Decimal(str(row["mm"]))] == [hook.mm for hook in hooks() if hook.steel and hook.us == row["us"]]


def test_steel_hooks_run_from_thick_to_thin() -> None:
    """00, 0, 1 to 14: the order that homequestionsanswered.com gives."""
    steel = [hook for hook in hooks() if hook.steel]
    assert ["00", *map(str, range(15))] == [hook.us for hook in steel]
    assert sorted((hook.mm for hook in steel), reverse=True) == [hook.mm for hook in steel]
