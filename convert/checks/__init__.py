"""Checks: one a module, each with its code, explanation, a bad and a good example, and the function that finds it.

The modules are discovered, so that a new check is a new file here and nothing else. Codes that other stages yield
(reading a file, its data, its brackets; grading) are explained in `shared/explanations.yaml`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType

from convert.checks.check import Check, Finder
from convert.findings import Severity
from convert.trade.tables import record, table


@cache
def finders() -> tuple[tuple[Check, Finder], ...]:
    """Every check with its function, in the order of the alphabet."""
    found: list[tuple[Check, Finder]] = []
    for module in iter_modules(__path__):
        loaded = import_module(f"{__name__}.{module.name}")
        if hasattr(loaded, "CHECK"):
            found.append((loaded.CHECK, loaded.find))
    return tuple(found)


@cache
def registry() -> Mapping[str, Check]:
    """Every code that a finding may have, by its name."""
    checks = {check.code: check for check, _ in finders()}
    for entry in table("explanations"):
        fields = record(
            entry, {"code", "severity", "title", "explanation", "bad", "good"}, {"form"}, "explanations.yaml"
        )
        check = Check(**{**fields, "severity": Severity(fields["severity"])})
        if check.code in checks:
            raise ValueError(f"the code {check.code!r} is explained twice")
        checks[check.code] = check
    return MappingProxyType(dict(sorted(checks.items())))
