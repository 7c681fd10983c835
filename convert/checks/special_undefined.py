"""A stitch of many forms that the pattern uses and does not explain."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, each_of
from convert.checks.uses import uses
from convert.findings import Finding, Severity
from convert.trade.stitches import stitches

CHECK = Check(
    "special-undefined",
    Severity.WARNING,
    "a special stitch is used and not defined",
    """
Shells, clusters, bobbles and their like have no fixed number of stitches: every pattern says what it means by
them. Where it does not, the commonest form is assumed for counting, and the reader is left to guess. Define the
stitch under the special stitches.
""",
    "Row 1: Ch 8, dc in 4th ch from hook and in each ch across, turn.\nRow 2: Ch 3 (counts as dc), sk next 2 sts, shell in next st, sk next st, dc in last st.",
    "Special Stitches\nShell: 5 dc in st indicated.\n\nInstructions\n"
    "Row 1: Ch 8, dc in 4th ch from hook and in each ch across, turn.\n"
    "Row 2: Ch 3 (counts as dc), sk next 2 sts, shell in next st, sk next st, dc in last st.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Each undefined special once, where it first stands."""
    defined = {special.id for special in facts.document.specials}
    seen: set[str] = set()
    for row, id, span in uses(facts.document):
        entry = stitches().get(id)
        if entry is None or not entry.unit or entry.decoration or id in defined or id in seen:
            continue
        seen.add(id)
        name = entry.names(facts.document.written).name
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} uses a {name}, and the pattern does not say what that is.",
            span,
            expected="a definition under the special stitches",
            found="none",
            because=f"It was counted as “{entry.default}”." if entry.default else "It was counted as one stitch.",
            hint=f"Define it, such as “{name.capitalize()}: {entry.default or '3 dc worked together in st indicated'}”.",
        )
