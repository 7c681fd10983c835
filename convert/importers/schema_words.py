"""The words for what a schema does not allow, keyword by keyword."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from convert.document.json_text import json_text
from convert.document.located import Located
from convert.findings import Finding, Severity
from convert.source import Span

if TYPE_CHECKING:
    from jsonschema import ValidationError

Fault = tuple[str, str, str, str]
"""Code, message without its place, expected, hint."""


def finding_for(error: ValidationError, data: Located) -> Finding:
    """The finding for one error of the validator."""
    path = list(error.absolute_path)
    there = data.at(path)
    word = _WORDS.get(str(error.validator), _other)
    code, message, expected, hint = word(error, there)
    where = place_words(path)
    span = there.keys.get(error.message, value_span(there)) if code == "unknown-key" else value_span(there)
    found = "" if code in ("unknown-key", "missing-key") else shown(there)
    full = f"{where}: {message}" if where else message[:1].upper() + message[1:]
    return Finding(code, Severity.ERROR, full, span, expected=expected, found=found, hint=hint)


def place_words(path: list[str | int]) -> str:
    """Where in the data, in words; entries of a list are counted from 1.

    >>> place_words(["sizes", 1, "target", "width"])
    'sizes 2, target, width'
    """
    words = ""
    for step in path:
        words += f" {step + 1}" if isinstance(step, int) else f", {step}" if words else step
    return words


def value_span(there: Located) -> Span:
    """The place of a value; of a mapping, its first key, so that a mark under it stays short."""
    return next(iter(there.keys.values()), there.span)


def shown(there: Located) -> str:
    """A value for a message, shortened."""
    if there.mapping:
        return f"entries ({', '.join(list(there.mapping)[:4])})"
    if isinstance(there.value, tuple):
        return f"a list of {len(there.items)}"
    text = json_text(there.value) if isinstance(there.value, str) else there.words or "nothing"
    return text if len(text) <= 40 else text[:39] + "…"


def nearest(word: str, known: list[str]) -> str:
    """A suggestion for a misspelt word; empty if nothing is near.

    >>> nearest("guage", ["gauge", "sizes"])
    'Did you mean "gauge"?'
    """
    near = get_close_matches(word.lower().replace("_", "-"), known, 1, 0.6)
    return f'Did you mean "{near[0]}"?' if near else ""


def _unknown(error: ValidationError, there: Located) -> Fault:
    known = (
        list(error.schema["properties"]) if isinstance(error.schema, Mapping) and "properties" in error.schema else []
    )
    hint = nearest(error.message, known) or (
        f"Known here: {', '.join(known)}." if known else f"Expected {_title(error)}."
    )
    return "unknown-key", f'there is no key "{error.message}" here.', "", hint


def _missing(error: ValidationError, there: Located) -> Fault:
    title = error.schema.get("title", "this entry") if isinstance(error.schema, Mapping) else "this entry"
    details = error.schema["properties"].get(error.message, {}) if isinstance(error.schema, Mapping) else {}
    return "missing-key", f'{title} needs "{error.message}".', error.message, details.get("description", "")


def _type(error: ValidationError, there: Located) -> Fault:
    wanted = _title(error)
    return "wrong-type", f"expected {wanted}, found {shown(there)}.", wanted, _example(error)


def _choice(error: ValidationError, there: Located) -> Fault:
    known = list(dict.fromkeys(str(value) for value in error.validator_value if value is not None))
    if error.absolute_path and error.absolute_path[-1] == "format":
        return _newer(there, known[0])
    return _not_one_of(there, known)


def _not_one_of(there: Located, known: list[str]) -> Fault:
    wanted = ", ".join(known[:-1]) + f" or {known[-1]}" if len(known) > 1 else known[0]
    return "value-not-allowed", f"expected {wanted}, found {shown(there)}.", wanted, nearest(there.words, known)


def _kind(error: ValidationError, there: Located) -> Fault:
    kind = there.get("kind")
    if kind is None:
        return "missing-key", f'{_title(error)} needs "kind".', "kind", f"Kinds: {', '.join(error.validator_value)}."
    return _not_one_of(kind, list(error.validator_value))


def _const(error: ValidationError, there: Located) -> Fault:
    if error.absolute_path and error.absolute_path[-1] == "format":
        return _newer(there, str(error.validator_value))
    return _not_one_of(there, [str(error.validator_value)])


def _newer(there: Located, known: str) -> Fault:
    message = f"this pattern is of format {shown(there)}, and this program reads format {known}."
    return "newer-format", message, known, "A later version of the program may read it."


def _bound(words: str) -> Callable[[ValidationError, Located], Fault]:
    def fault(error: ValidationError, there: Located) -> Fault:
        limit = f"{words} {error.validator_value:,}"
        return "value-not-allowed", f"expected {limit}, found {shown(there)}.", limit, ""

    return fault


def _pattern(error: ValidationError, there: Located) -> Fault:
    wanted = _title(error)
    return "value-not-allowed", f"expected {wanted}, found {shown(there)}.", wanted, _example(error)


def _other(error: ValidationError, there: Located) -> Fault:
    return "value-not-allowed", f"{shown(there)} is not allowed here: {error.message}.", _title(error), ""


def _title(error: ValidationError) -> str:
    """What the schema calls the thing that it wants."""
    if not isinstance(error.schema, Mapping):
        return "nothing"
    kind = error.schema.get("type")
    return str(error.schema.get("title") or _KINDS.get(kind if isinstance(kind, str) else "", "another value"))


_KINDS = MappingProxyType(
    {
        "array": "a list",
        "boolean": "true or false",
        "integer": "a whole number",
        "number": "a number",
        "object": "entries with keys",
        "string": "a text",
    }
)


def _example(error: ValidationError) -> str:
    examples: Any = error.schema.get("examples", []) if isinstance(error.schema, Mapping) else []
    words = [e if isinstance(e, str) else json_text(e) for e in examples[:2]]
    return f"For example: {' or '.join(words)}." if words else ""


_WORDS: Mapping[str, Callable[[ValidationError, Located], Fault]] = MappingProxyType(
    {
        "additionalProperties": _unknown,
        "required": _missing,
        "type": _type,
        "enum": _choice,
        "kinds": _kind,
        "const": _const,
        "minimum": _bound("at least"),
        "maximum": _bound("at most"),
        "exclusiveMinimum": _bound("more than"),
        "minItems": _bound("a number of entries of at least"),
        "maxItems": _bound("a number of entries of at most"),
        "minLength": _bound("a number of characters of at least"),
        "maxLength": _bound("a number of characters of at most"),
        "pattern": _pattern,
        "format": _pattern,
    }
)
