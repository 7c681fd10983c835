"""Writers of patterns. Each takes a document and yields what it wrote with its findings (`convert.exporters.written`).

`DATA_WRITERS` is the table of the forms that are read back: a new one is one new module and one line here. A writer is
imported when it is first asked for. Pages for readers (HTML, PDF) have writers and options of their own.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from types import MappingProxyType

from convert.document.records import Document, TermSystem
from convert.exporters.written import Written

DataWriter = Callable[[Document, TermSystem | None], Written]

DATA_WRITERS = MappingProxyType(
    {
        "json": "convert.exporters.json.form:write_json",
        "yaml": "convert.exporters.yaml.form:write_yaml",
        "markdown": "convert.exporters.markdown.form:write_markdown",
    }
)
"""Every form that a document can be written in and read back from."""


def data_writer(kind: str) -> DataWriter:
    """The writer of a form. Raises KeyError for a name that is not in `DATA_WRITERS`."""
    module, function = DATA_WRITERS[kind].split(":")
    found: DataWriter = getattr(import_module(module), function)
    return found
