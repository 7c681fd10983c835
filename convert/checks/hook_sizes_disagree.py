"""A hook whose millimetres and US size are not the same hook."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache

from convert.checks.check import Check, Facts
from convert.document.lengths import tidy
from convert.document.materials import Hook
from convert.findings import Finding, Severity
from convert.terms.naming import write_prose
from convert.trade.hooks import HookSize, hook_named
from convert.trade.tables import table

CHECK = Check(
    "hook-sizes-disagree",
    Severity.WARNING,
    "a hook's millimetres and its US size are not the same hook",
    """
A hook told by its millimetres and by the letter and number on US packets must be one hook ("5 mm (US H-8)"). Makers' letters differ by a quarter
of a millimetre, and from 8 mm up by more, so only larger differences are reported: mostly the hook was changed in one place and
not in the other. The sizes and their sources stand in the program's table of hooks; how far makers differ is from memory.
""",
    """
format: "1"
title: Mat
terms: us
hooks: ["5 mm (US G-6)"]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
hooks: ["5 mm (US H-8)"]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)
_LETTERED = r"[A-Z]\s?[-/]?\s?\d{1,2}(?:\.5|½|\s1/2)?"
_MM = re.compile(r"(\d{1,2}(?:[.,]\d{1,2})?)\s?mm\b", re.IGNORECASE)
_THIN = Decimal(2)
"""Below this hooks are of steel, with numbers that run the other way."""
_LARGE = Decimal(8)
"""From here on letters differ between makers (head of the table of hooks)."""


def find(facts: Facts) -> Iterator[Finding]:
    """Every hook beside whose millimetres the name of another hook stands."""
    hooks = facts.document.materials.hooks
    for hook in hooks:
        if not hook.use:
            continue
        text = write_prose(hook.use, facts.document.written, facts.document.specials)
        told = [h.mm for h in hooks if h.span == hook.span]
        told += [Decimal(mm.replace(",", ".")) for mm in _MM.findall(text)]
        names = [(said, named) for said, named in _named(text) if not (min(told) < _THIN and said.isdigit())]
        # "5 mm (H-8), or G-6 for a tighter hand" names another hook on purpose.
        if names and not any(_same(mm, named.mm) for mm in told for _, named in names):
            yield _finding(hook, *names[0])


@cache
def _names() -> re.Pattern[str]:
    before = "|".join(map(re.escape, sorted(table("materials")["us_size"], key=len, reverse=True)))
    return re.compile(rf"(?<![\w/-])(?:(?i:{before})\s({_LETTERED}|[A-Z]|\d{{1,2}})|({_LETTERED}))(?![\w/½-])")


def _named(text: str) -> Iterator[tuple[str, HookSize]]:
    """The US sizes that a text names without doubt."""
    if any(re.search(rf"\b{word}\b", text, re.IGNORECASE) for word in table("materials")["steel"]):
        return
    for match in _names().finditer(text):
        said = match[1] or match[2]
        hook = hook_named(said)
        if hook is not None:
            yield said, hook


def _same(one: Decimal, two: Decimal) -> bool:
    """Whether two diameters may bear one letter."""
    room = Decimal("0.25") if min(one, two) < _LARGE else Decimal(4)
    return abs(one - two) <= room


def _finding(hook: Hook, said: str, named: HookSize) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"A hook of {tidy(hook.mm)} mm is not US {said}: that is {tidy(named.mm)} mm.",
        hook.span,
        expected=f"{tidy(named.mm)} mm, or another US size",
        found=f"{tidy(hook.mm)} mm, US {said}",
        hint="Put right the millimetres or the US size.",
    )
