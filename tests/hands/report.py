"""Prints how well texts in invented hands are read: `python -m tests.hands.report [--count N] [--show VERDICT]`."""

from __future__ import annotations

import argparse
from collections import Counter, defaultdict
from random import Random

from tests.hands.hand import FORMS
from tests.hands.judge import Judged, Verdict, causes, hands, judge, judge_changed, proved_patterns, random_pattern


def main() -> None:
    """Writes and reads so many texts, and prints the rates and the notations that caused the failures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--show", default="")
    parser.add_argument("--changed", action="store_true", help="change one count of each text by one")
    told = parser.parse_args()
    judged = _judged(told.seed, told.count, told.changed)
    print(_rates(judged))
    failures = [one for one in judged if one.verdict is not Verdict.RIGHT]
    by_cause: dict[str, list[Judged]] = defaultdict(list)
    for one in failures:
        plainest = causes(one) if not told.changed else one
        cause = (
            " + ".join(f"{name}={number}" for name, number in plainest.hand.items()) if not told.changed else "changed"
        )
        by_cause[cause].append(plainest)
    print(_by_cause(by_cause, judged))
    for ones in by_cause.values():
        if told.show in (ones[0].verdict.value, "all"):
            print(f"\n=== {ones[0].verdict}: {ones[0].hand} {ones[0].why}\n{ones[0].text}")


def _judged(seed: int, count: int, changed: bool) -> list[Judged]:
    judged: list[Judged] = []
    for random, hand in hands(seed):
        pattern = random.choice(proved_patterns()) if random.random() < 0.4 else random_pattern(random)
        found = judge(pattern, hand)
        if found is not None and changed and found.verdict is Verdict.RIGHT:
            found = judge_changed(pattern, hand, Random(seed))
        if found is not None:
            judged.append(found)
        if len(judged) >= count:
            return judged
    return judged


def _rates(judged: list[Judged]) -> str:
    counts = Counter(one.verdict for one in judged)
    return "\n".join(
        f"{verdict.value:<14} {counts[verdict]:>6} {100 * counts[verdict] / len(judged):>6.1f}%" for verdict in Verdict
    )


def _by_cause(by_cause: dict[str, list[Judged]], judged: list[Judged]) -> str:
    lines = [f"\n{'notation':<30} {'texts':>6} {'failed':>6}   verdicts; forms; an example"]
    used = Counter(f"{name}={number}" for one in judged for name, number in one.hand.items())
    for cause, ones in sorted(by_cause.items(), key=lambda item: -len(item[1])):
        verdicts = Counter(one.verdict.value for one in ones)
        forms = [FORMS[name][number] for name, number in ones[0].hand.items()]
        lines.append(f"{cause:<30} {used[cause]:>6} {len(ones):>6}   {dict(verdicts)} {forms}\n{'':<12}{ones[0].why}")
    return "\n".join(lines)


if __name__ == "__main__":
    main()
