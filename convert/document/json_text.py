"""Plain data as JSON text: exact decimals, one text for equal data, nothing that JSON does not have."""

from __future__ import annotations

import json
import re
from decimal import Decimal

Plain = None | bool | int | Decimal | str | list["Plain"] | dict[str, "Plain"]
"""What JSON can say, with decimals kept exact."""


_UNSEEN = re.compile("[\x7f-\x9f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff0-\uffff]")


def quoted(text: str) -> str:
    """A text in quotes; what cannot be seen, or is a line end to some programs, is written as an escape.

    >>> quoted('9" wide'), quoted("a\u2028b")
    ('"9\\\\" wide"', '"a\\\\u2028b"')
    """
    return visible(json.dumps(text, ensure_ascii=False))


def visible(text: str) -> str:
    """JSON or quoted YAML in which every character can be seen."""
    return _UNSEEN.sub(lambda found: f"\\u{ord(found.group()):04x}", text)


class JsonText(str):
    """A text that is JSON already and is written as it stands."""

    __slots__ = ()


def number_text(value: int | Decimal) -> str:
    """A number without needless zeros and without an exponent; equal numbers give equal texts.

    >>> number_text(Decimal("139.70")), number_text(Decimal("2E+1"))
    ('139.7', '20')
    """
    if isinstance(value, int):
        return str(value)
    if not value.is_finite():
        raise ValueError("JSON has no word for a number that is not finite")
    text = format(value, "f")
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def json_text(value: Plain, indent: int | None = None, depth: int = 0) -> str:
    """The JSON text of plain data, on one line or, with `indent`, a line for each entry.

    >>> json_text({"cm": Decimal("139.70"), "unit": "in"})
    '{"cm": 139.7, "unit": "in"}'
    """
    if isinstance(value, JsonText):
        return str(value)
    if isinstance(value, str):
        return quoted(value)
    if value is None or isinstance(value, bool):
        return json.dumps(value)
    if isinstance(value, int | Decimal):
        return number_text(value)
    if isinstance(value, list):
        return _enclosed([json_text(item, indent, depth + 1) for item in value], "[]", indent, depth)
    entries = [f"{quoted(k)}: {json_text(v, indent, depth + 1)}" for k, v in value.items()]
    return _enclosed(entries, "{}", indent, depth)


_WIDE = 110
"""A list or object that fits into this many characters stays on one line."""


def _enclosed(parts: list[str], ends: str, indent: int | None, depth: int) -> str:
    flat = ", ".join(parts)
    if indent is None or not parts or (len(flat) + indent * depth <= _WIDE and "\n" not in flat):
        return f"{ends[0]}{flat}{ends[1]}"
    inner = " " * (indent * (depth + 1))
    return f"{ends[0]}\n{inner}" + f",\n{inner}".join(parts) + f"\n{' ' * (indent * depth)}{ends[1]}"
