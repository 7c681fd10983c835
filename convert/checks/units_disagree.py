"""A length or weight told in two units that do not say the same."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.checks.texts import texts
from convert.document.units import told_twice
from convert.findings import Finding, Severity

CHECK = Check(
    "units-disagree",
    Severity.WARNING,
    "inches and centimetres of one statement do not say the same",
    """
A figure told in two units ("20 in / 50 cm", "200 yd (183 m)", "100 g / 3½ oz") must be one length or weight. The trade rounds freely
(4 in are 10 cm), so figures are only reported where they differ by more than either was rounded by, and by more than 3.5 percent
(weights: 12 percent; both common practice, no source). Mostly one figure was left over from another size, or two were swapped.
""",
    """
format: "1"
title: Mat
terms: us
notes: ["The mat measures 8 in / 25 cm across."]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
notes: ["The mat measures 8 in / 20 cm across."]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Every statement whose two figures are too far apart, where it stands."""
    for text, span in texts(facts.document):
        for told in told_twice(text):
            if told.off:
                yield Finding(
                    CHECK.code,
                    CHECK.severity,
                    f"“{told.words}” tells two different amounts.",
                    facts.where(told.words, span),
                    expected="one amount in two units",
                    found=told.words,
                    hint="Put right the figure that is wrong.",
                )
