"""Plain data as YAML text that reads back the same, here and in other programs.

Short entries stand on one line; lists of lines that need no quotes stand as one block of lines.
"""

from __future__ import annotations

import json
import re
from decimal import Decimal

from convert.document.json_text import JsonText, Plain, number_text, quoted, visible

_PLAIN = re.compile(r"(?:[0-9]+(?:\.[0-9]+)? )?[A-Za-z](?:[\w .,;'’()/&+=-]*[\w.)])?\Z", re.ASCII)
"""A text of these characters needs no quotes, unless it is one of `_NOT_TEXT` or holds what `_SIGNS` holds."""
_IN_FLOW = re.compile(r"[,\[\]{}]")
_NOT_TEXT = frozenset({"true", "false", "null", "yes", "no", "on", "off", "y", "n"})
"""Words that YAML programs take for something else than text."""
_WIDE = 100


def yaml_text(data: dict[str, Plain]) -> str:
    """The YAML text of a mapping, with a line end behind it."""
    return "".join(f"{line}\n" for line in _mapping(data, 0))


def scalar(value: Plain, *, flow: bool = False) -> str:
    """A value on one line, with quotes where they are needed.

    >>> scalar("Rnd 1: 6 sc in ring."), scalar("smooth wool"), scalar("no"), scalar("1.10"), scalar("a, b", flow=True)
    ('"Rnd 1: 6 sc in ring."', 'smooth wool', '"no"', '"1.10"', '"a, b"')
    """
    if isinstance(value, JsonText):
        return visible(value)
    if isinstance(value, str):
        plain = _PLAIN.match(value) and value.lower() not in _NOT_TEXT and not (flow and _IN_FLOW.search(value))
        return value if plain else quoted(value)
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return number_text(value)
    if isinstance(value, list):
        return f"[{', '.join(scalar(item, flow=True) for item in value)}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{_key(key)}: {scalar(item, flow=True)}' for key, item in value.items())}}}"
    return json.dumps(value)


def _key(key: str) -> str:
    return key if re.fullmatch(r"[0-9]+", key) else scalar(key, flow=True)


def _mapping(data: dict[str, Plain], indent: int) -> list[str]:
    lines: list[str] = []
    for key, value in data.items():
        lines += _entry(f"{' ' * indent}{_key(key)}:", value, indent)
    return lines


def _entry(head: str, value: Plain, indent: int) -> list[str]:
    """A key and its value: on one line if it is short, otherwise as an indented list or mapping."""
    flat = scalar(value)
    short = len(head) + len(flat) < _WIDE
    if isinstance(value, list) and value and not (short and all(_is_short(item) for item in value)):
        return _long_list(head, value, indent)
    if isinstance(value, dict) and value and not short:
        return [head, *_mapping(value, indent + 2)]
    return [f"{head} {flat}"]


def _is_short(item: Plain) -> bool:
    return not isinstance(item, dict | list) and len(scalar(item)) <= 30


def _long_list(head: str, items: list[Plain], indent: int) -> list[str]:
    inner = " " * (indent + 2)
    if all(isinstance(item, str) and _is_line(item) for item in items) and head.strip() == "rows:":
        return [f"{head} |", *(f"{inner}{item}" for item in items)]
    lines = [head]
    for item in items:
        flat = scalar(item)
        if isinstance(item, dict) and item and len(flat) + indent + 4 > _WIDE:
            entry = _mapping(item, indent + 4)
            lines += [f"{inner}- {entry[0].lstrip()}", *entry[1:]]
        else:
            lines.append(f"{inner}- {flat}")
    return lines


def _is_line(text: str) -> bool:
    """Whether a text may stand as a line of a block, as it is."""
    return bool(text) and text == text.strip() and text.isprintable() and visible(text) == text
