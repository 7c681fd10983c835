"""Hooks: millimetres against US sizes, against the yarn's class, and against the gauge."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source


def _codes(hooks: str, *, yarn: str = "{name: Yarn}", gauge: str = "{}", form: str = "yaml") -> list[str]:
    text = f"""\
format: "1"
title: Mat
terms: us
gauge: {gauge}
yarn: [{yarn}]
hooks: {hooks}
parts: [{{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}}]
"""
    return [f.code for f in check_source(Source("mat", text), form, ReadOptions()).findings if "hook" in f.code]


@pytest.mark.parametrize(
    "hook",
    [
        "5 mm (US H-8)",
        "5 mm (H/8)",
        "5 mm, US size H",
        "5mm",
        "3.75 mm (US F-5)",
        "4 mm (US F-5), as some makers have it",
        "2.5 mm (US C-2)",
        "2.75 mm (US C-2)",
        "6.5 mm (US K-10½)",
        "6.5 mm (US K-10 1/2)",
        "9 mm (US N-13)",
        "10 mm (US N-15)",
        "1.65 mm (US steel 7)",
        "1.65 mm (US 7)",
        "4 mm (old UK size 8)",
        "5 mm for size M and larger",
        "4.5 mm for yarn A",
        "5 mm (US H-8) and 4 mm (US G-6)",
        "8 mm (US L-11)",
        "5 mm (US H-8), or G-6 for a tighter hand",
    ],
)
def test_a_hook_told_rightly_is_left_alone(hook: str) -> None:
    """Letters that makers place differently, steel numbers, sizes of the pattern and keys of yarns among them."""
    assert [] == _codes(f'["{hook}"]')


@pytest.mark.parametrize(
    "hook",
    ["5 mm (US G-6)", "5 mm (J-10 or G-6)", "4 mm, US size H", "6.5 mm (US 7)", "3.5 mm (US J/10)", "15 mm (US L-11)"],
)
def test_a_hook_told_wrongly_is_reported(hook: str) -> None:
    assert ["hook-sizes-disagree"] == _codes(f'["{hook}"]')


def test_in_a_list_as_typed_too() -> None:
    row = "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"
    text = f"Mat\nUS terms.\n\nMATERIALS\nHook: 5 mm (US G-6)\n\nMAT\n{row}\n"
    found = check_source(Source("mat", text), "text", ReadOptions()).findings
    assert ["hook-sizes-disagree"] == [f.code for f in found]
    assert (5, "5 mm, US G-6") == (found[0].span.line + 1, found[0].found)


@pytest.mark.parametrize(
    ("hooks", "weight"),
    [
        ("[3.5 mm]", 4),
        ("[2.75 mm]", 4),
        ("[10 mm]", 4),
        ("[5 mm]", 1),
        ("[6 mm]", 0),
        ("[2.5 mm]", 2),
        ("[1.5 mm, 5 mm]", 4),
    ],
)
def test_small_hooks_for_toys_and_large_ones_for_lace_are_usual(hooks: str, weight: int) -> None:
    assert [] == _codes(hooks, yarn=f"{{name: Yarn, weight: {weight}}}")


@pytest.mark.parametrize(("hooks", "weight"), [("[1.5 mm]", 4), ("[15 mm]", 4), ("[0.5 mm]", 0), ("[1 mm]", 2)])
def test_a_hook_far_from_the_class_is_reported(hooks: str, weight: int) -> None:
    assert ["hook-unlikely"] == _codes(hooks, yarn=f"{{name: Yarn, weight: {weight}}}")


@pytest.mark.parametrize(
    ("hook", "stitches", "stitch"),
    [
        ("5 mm", 13, "sc"),
        ("2.5 mm", 28, "sc"),
        ("1.25 mm", 40, "dc"),
        ("10 mm", 9, "hdc"),
        ("25 mm", 4, "sc"),
        ("5 mm", 3, "FPdc"),
    ],
)
def test_a_stitch_of_usual_width_is_left_alone(hook: str, stitches: int, stitch: str) -> None:
    assert [] == _codes(f"[{hook}]", gauge=f"{{stitches: {stitches}, over: 10 cm, stitch: {stitch}}}")


@pytest.mark.parametrize(("hook", "stitches"), [("5 mm", 35), ("0.5 mm", 13), ("5 mm", 6)])
def test_a_stitch_far_too_wide_or_narrow_for_the_hook_is_reported(hook: str, stitches: int) -> None:
    assert ["hook-unlikely"] == _codes(f"[{hook}]", gauge=f"{{stitches: {stitches}, over: 10 cm, stitch: sc}}")
