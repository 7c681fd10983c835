"""Readers of patterns: one table from the name of a form to the function that reads it.

A new form is one new module and one line here. A reader is imported when it is first asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from types import MappingProxyType

from convert.document.read import Read, ReadOptions
from convert.source import Source

Reader = Callable[[Source, ReadOptions], Read]

READERS = MappingProxyType(
    {
        "yaml": "convert.importers.yaml.form:read_yaml",
        "markdown": "convert.importers.markdown.form:read_markdown",
        "text": "convert.importers.typed.form:read_typed",
        "json": "convert.importers.json.form:read_json",
    }
)
"""Every form that is read."""

ENDINGS = MappingProxyType(
    {".yaml": "yaml", ".yml": "yaml", ".md": "markdown", ".markdown": "markdown", ".txt": "text", ".json": "json"}
)
"""The form that the ending of a file name tells."""


def reader(kind: str) -> Reader:
    """The reader of a form. Raises KeyError for a name that is not in `READERS`."""
    module, function = READERS[kind].split(":")
    found: Reader = getattr(import_module(module), function)
    return found
