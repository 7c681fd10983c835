"""How single values of a document become plain data and come back: numbers, texts, prose."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Any

from msgspec import Struct

from convert.document.json_text import Plain
from convert.document.located import Located
from convert.document.numbers import Formula, Number, PerSize
from convert.document.prose import Form, Prose, Term


class CodecError(ValueError):
    """Data that is no document. Data that the schema has passed never raises it."""


class Coder(Struct, frozen=True):
    """How values of one type become data and come back."""

    encode: Callable[[Any], Plain]
    decode: Callable[[Located], Any]


def _decode_int(data: Located) -> int:
    if not isinstance(data.value, int) or isinstance(data.value, bool):
        raise CodecError(f"expected a whole number, found {data.words!r}")
    return data.value


def _decode_decimal(data: Located) -> Decimal:
    if not isinstance(data.value, int | Decimal) or isinstance(data.value, bool):
        raise CodecError(f"expected a number, found {data.words!r}")
    return Decimal(data.value)


def _decode_str(data: Located) -> str:
    if not isinstance(data.value, str):
        raise CodecError(f"expected a text, found {data.words!r}")
    return data.value


def _encode_number(number: Number) -> Plain:
    if isinstance(number, PerSize):
        return list(number.values)
    return {"formula": number.text} if isinstance(number, Formula) else number


def _decode_number(data: Located) -> Number:
    if isinstance(data.value, tuple):
        return PerSize(tuple(None if item.value is None else _decode_int(item) for item in data.items))
    formula = data.get("formula")
    return Formula(_decode_str(formula)) if formula is not None else _decode_int(data)


def _encode_prose(prose: Prose) -> Plain:
    return [part if isinstance(part, str) else _encode_term(part) for part in prose]


def _encode_term(term: Term) -> Plain:
    data: dict[str, Plain] = {"term": term.id}
    if term.form is not Form.ABBREVIATION:
        data["form"] = str(term.form)
    if term.legs:
        data["legs"] = term.legs
    return {**data, "capital": True} if term.capital else data


def _decode_prose(data: Located) -> Prose:
    return tuple(item.value if isinstance(item.value, str) else _decode_term(item) for item in data.items)


def _decode_term(data: Located) -> Term:
    id, form, legs, capital = (data.get(key) for key in ("term", "form", "legs", "capital"))
    if id is None:
        raise CodecError("a term lacks 'term'")
    return Term(
        _decode_str(id),
        Form(form.words) if form is not None else Form.ABBREVIATION,
        _decode_int(legs) if legs is not None else 0,
        capital is not None and capital.value is True,
    )


SCALARS: Mapping[type, Coder] = MappingProxyType(
    {
        str: Coder(str, _decode_str),
        int: Coder(int, _decode_int),
        bool: Coder(bool, lambda data: data.value is True),
        Decimal: Coder(Decimal, _decode_decimal),
    }
)
"""Values that the data hold as they are."""

NUMBER = Coder(_encode_number, _decode_number)
"""A number, a list with one for each size, or `{"formula": …}`."""

PROSE = Coder(_encode_prose, _decode_prose)
"""A list of texts and terms; a term is an object with the key `term`."""
