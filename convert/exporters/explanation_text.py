"""The long form of a finding's code, with a bad and a good example."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import indent
from typing import Protocol

from convert.findings import Severity


class Explained(Protocol):
    """What a check tells about its code."""

    @property
    def code(self) -> str:
        """The code, such as `count-mismatch`."""

    @property
    def severity(self) -> Severity:
        """How grave its findings are."""

    @property
    def title(self) -> str:
        """The code in a few words."""

    @property
    def explanation(self) -> str:
        """What it means and what to do."""

    @property
    def bad(self) -> str:
        """A text that has the fault."""

    @property
    def good(self) -> str:
        """The same without the fault."""


def write_codes(checks: Iterable[Explained]) -> str:
    """Every code with its title, in the order of the alphabet."""
    ordered = sorted(checks, key=lambda check: check.code)
    wide = max((len(check.code) for check in ordered), default=0)
    return "".join(f"{check.code:<{wide}}  {check.severity:<7}  {check.title}\n" for check in ordered)


def write_explanation(check: Explained) -> str:
    """One code explained."""
    parts = [f"{check.code} ({check.severity}): {check.title}", check.explanation.strip()]
    for heading, example in (("Wrong", check.bad), ("Right", check.good)):
        if example.strip():
            body = indent(example.strip("\n"), "    ")
            parts.append(f"{heading}:\n\n{body}")
    return "\n\n".join(parts) + "\n"
