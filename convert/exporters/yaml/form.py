"""Writes a pattern as the YAML that authors write, in either term system."""

from __future__ import annotations

from convert.document.records import Document, TermSystem
from convert.exporters.author_data import author_data
from convert.exporters.written import Written
from convert.exporters.yaml.text import yaml_text


def write_yaml(document: Document, system: TermSystem | None = None) -> Written:
    """The document in YAML, in the given terms or those it was written in. Reading it gives the same document.

    YAML has no place for what the author typed: only the meaning of the rows is written, in standard wording.
    """
    return Written(yaml_text(author_data(document, system or document.written)))
