"""tallyhook: one crochet pattern in; proved, graded, translated and published out.

The names of `__all__` are the public ones; each is loaded when it is first asked for, so that `import convert`
costs nothing.

>>> import convert
>>> source = convert.Source("ball.txt", "Ball\\n\\nUS terms\\n\\nRnd 1: 6 sc in adjustable ring. (7 sc)")
>>> [finding.code for finding in convert.check_source(source, "text", convert.ReadOptions()).findings]
['count-mismatch']
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_WHERE = {
    "Checked": "convert.pipeline",
    "Document": "convert.document.records",
    "Finding": "convert.findings",
    "PatternError": "convert.errors",
    "ReadOptions": "convert.document.read",
    "Severity": "convert.findings",
    "Source": "convert.source",
    "TermSystem": "convert.document.records",
    "check_source": "convert.pipeline",
    "read_source": "convert.pipeline",
}

__all__ = sorted(_WHERE)  # noqa: PLE0605 - a list of the table's names


def __getattr__(name: str) -> Any:
    """Loads a public name. Raises AttributeError for any other."""
    if name not in _WHERE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_WHERE[name]), name)
