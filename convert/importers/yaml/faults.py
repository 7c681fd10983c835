"""Faults of YAML in words for people who write patterns, not parsers."""

from __future__ import annotations

from typing import Any

from convert.findings import Finding, Severity
from convert.importers.yaml.lines import YamlLines
from convert.source import NOWHERE, Span

_FAULTS = (
    (
        "mapping values are not allowed",
        "a colon followed by a space stands inside a text without quotes",
        "Put the whole text in quotes, or write the rows as lines below `rows: |`.",
    ),
    (
        "cannot start any token",
        "a value begins with a character that needs quotes",
        "Put the text in quotes, and indent with spaces, not tabs.",
    ),
    ("end of stream", "quotes or brackets are opened and not closed", "Close them, or put the text in quotes."),
    (
        "did not find expected ',' or",
        "a list or mapping in brackets is not closed, or lacks a comma",
        "Close the brackets, or put texts with commas in quotes.",
    ),
    (
        "expected ',' or",
        "a list or mapping in brackets is not closed, or lacks a comma",
        "Close the brackets, or put texts with commas in quotes.",
    ),
    (
        "alphabetic or numeric character",
        "a text begins with * or &, which YAML takes for a mark of its own",
        "Put the text in quotes.",
    ),
    ("undefined alias", "a text begins with *, which YAML takes for a mark of its own", "Put the text in quotes."),
    (
        "unknown escape character",
        "a backslash in double quotes is followed by a letter that means nothing",
        "Use single quotes, or write the backslash twice.",
    ),
    ("found character '\\t'", "a line is indented with a tab", "Indent with spaces."),
    (
        "expected <block end>",
        "this line is indented differently from those it belongs to",
        "Align it with the lines of the same list or entry.",
    ),
    (
        "did not find expected key",
        "this line does not fit the lines before it",
        "Check the indentation, and put texts with quotes or colons inside in quotes.",
    ),
    (
        "did not find expected '-' indicator",
        "this line does not belong to the list above it",
        "Begin it with `- `, or indent it further.",
    ),
    (
        "could not find expected ':'",
        "a key without a colon, or a text that goes on without indentation",
        "Write `key: value`, or indent the text further.",
    ),
)


def fault_finding(error: Any, lines: YamlLines) -> Finding:
    """A finding for an error of the YAML parser, at the place where the parser noticed it."""
    problem = str(getattr(error, "problem", None) or getattr(error, "reason", None) or error)
    mark = getattr(error, "problem_mark", None)
    opened = getattr(error, "context_mark", None)
    message, hint = next(
        ((m, h) for known, m, h in _FAULTS if known in problem), ("this is not valid YAML: " + problem, "")
    )
    place, context = _at(mark, lines), _at(opened, lines)
    place = max(place, context)  # the parser marks the start of the file where it ran into its end
    related = (context,) if context not in (NOWHERE, place) else ()
    return Finding("yaml-syntax", Severity.ERROR, message, place, hint=hint, related=related)


def _at(mark: Any, lines: YamlLines) -> Span:
    if mark is None:
        return NOWHERE
    line, column = lines.place(mark.line, mark.column)
    return Span(line, column, line, column + 1)
