"""A special stitch whose definition leads back to itself."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.fabric.proving import self_defined
from convert.findings import Finding, Severity

CHECK = Check(
    "stitch-defines-itself",
    Severity.ERROR,
    "the definition of a special stitch uses the stitch itself",
    """
A definition has to end in stitches of the trade. One that names itself, or two that name each other, can be
worked by nobody.
""",
    "Special Stitches\nShell: (shell, ch 1, shell) in st indicated.\n\nInstructions\n"
    "Row 1: Ch 8, dc in 4th ch from hook and in each ch across, turn.\nRow 2: Ch 3 (counts as dc), shell in next st, leave rem sts unworked.",
    "Special Stitches\nShell: (2 dc, ch 1, 2 dc) in st indicated.\n\nInstructions\n"
    "Row 1: Ch 8, dc in 4th ch from hook and in each ch across, turn.\nRow 2: Ch 3 (counts as dc), shell in next st, leave rem sts unworked.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Definitions without an end."""
    broken = self_defined(facts.document)
    for special in facts.document.specials:
        if special.id in broken:
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"The definition of “{special.name}” leads back to itself.",
                special.span,
                expected="stitches that are known without it",
                found=special.name,
                hint="Say what it is made of in stitches of the trade.",
            )
