"""Prints which share of planted mistakes is reported, by kind: `python -m tests.planted.report [--show VERDICT]`."""

from __future__ import annotations

import sys
from collections import Counter

from tests.planted.judge import PATTERNS, Judged, Verdict, judge, mistakes_in


def main(argv: list[str]) -> None:
    """Plants everything, and prints the table and what `--show` asks for."""
    judged = [judge(path, planted) for path in PATTERNS for planted in mistakes_in(path)]
    print(table(judged))
    if len(argv) == 2 and argv[0] == "--show":
        for one in judged:
            if one.verdict == argv[1]:
                print(f"\n{one.file}:{one.planted.line + 1} {one.planted.kind} {one.finding}")
                print(f"  - {one.planted.was}\n  + {one.planted.now}")


def table(judged: list[Judged]) -> str:
    """By kind: how many were planted, how many alter a count or the fabric, how many of those are reported; and for how
    many an edit is proposed, with the share of those where it takes the mistake back.
    """
    kinds = [*dict.fromkeys(one.planted.kind for one in judged), "all"]
    head = f"{'kind':<20} {'planted':>8} {'alter':>8} {'reported':>8} {'rate':>7}   "
    lines = [
        head + f"{'warned':>6} {'misplaced':>9} {'missed':>6} {'alike':>6} {'same':>5}   {'proposed':>8} {'right':>7}"
    ]
    for kind in kinds:
        counts = Counter(one.verdict for one in judged if kind in (one.planted.kind, "all"))
        alter = sum(1 for one in judged if kind in (one.planted.kind, "all") and one.alters)
        reported = counts[Verdict.REPORTED]
        rest = (
            f"{counts[Verdict.WARNED]:>6} {counts[Verdict.MISPLACED]:>9} {counts[Verdict.MISSED]:>6} "
            f"{counts[Verdict.COUNTS_ALIKE]:>6} {counts[Verdict.SAME]:>5}"
        )
        told = [one.proposal for one in judged if kind in (one.planted.kind, "all") and one.proposal is not None]
        rest += f"   {len(told):>8} {f'{100 * sum(told) / len(told):.1f}%' if told else '-':>7}"
        rate = f"{100 * reported / alter:.1f}%" if alter else "-"
        lines.append(f"{kind:<20} {counts.total():>8} {alter:>8} {reported:>8} {rate:>7}   {rest}")
    return "\n".join(lines)


if __name__ == "__main__":
    main(sys.argv[1:])
