"""One doubt that a whole pattern shares is told once."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

TEXT = """Bun

US terms.

Rnd 1: 6 sc in adjustable ring. (6)
Rnd 2: 2 sc in each st around. (12)
Rnd 3: (sc in next st, 2 sc in next st) repeat 6 times. (18)
Rnd 4: (sc in next 2 sts, 2 sc in next st) repeat 6 times. (24)
Rnd 5: *Sc in next 3 sts, 2 sc in next st; rep from * 5 times. (30)
"""


def test_repeats_that_were_read_alike_are_one_finding() -> None:
    done = check_source(Source("bun.txt", TEXT), "text", ReadOptions())
    found = [finding for finding in done.findings if finding.code == "ambiguous-repeat"]
    alike, other = sorted(found, key=lambda finding: -len(finding.related))
    assert (6, [7]) == (alike.span.line, [span.line for span in alike.related])
    assert "It was read as 6 times in all, and one more repeat in the same way." == alike.because
    assert (8, ()) == (other.span.line, other.related)
    assert "It was read as 6 times in all." == other.because
