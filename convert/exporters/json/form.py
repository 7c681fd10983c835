"""Writes the neutral document as JSON."""

from __future__ import annotations

from convert.document.codec import encode
from convert.document.json_text import json_text
from convert.document.records import Document, TermSystem
from convert.exporters.written import Written


def write_json(document: Document, system: TermSystem | None = None) -> Written:
    """The document as JSON text: keys in the order of the schema, exact decimals, equal documents in equal texts.

    The neutral form has no term system, so that `system` makes no difference; it is there since every writer takes it.

    Raises `CodecError` for a document in which one name stands for two measurements or numbers of a size.
    """
    return Written(json_text(encode(document), indent=2) + "\n")
