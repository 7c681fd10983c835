"""The neutral form of a document: plain data for every record and step, exact both ways.

The form follows the records by one set of rules, so that a new field needs no line here: a key is the field's name
with hyphens, what has its default is left out, a step or row names its `kind`, and the places in the author's text
stay behind.
"""

from __future__ import annotations

from enum import StrEnum
from functools import cache
from types import MappingProxyType, NoneType, UnionType
from typing import Any, Union, get_args, get_origin

from msgspec import NODEFAULT, Struct
from msgspec.structs import FieldInfo, fields

from convert.document import records, steps
from convert.document.coders import NUMBER, PROSE, SCALARS, CodecError, Coder
from convert.document.extra import Extra
from convert.document.json_text import JsonText, Plain
from convert.document.lengths import Length
from convert.document.located import Located
from convert.document.numbers import Number
from convert.document.placed import counts
from convert.document.prose import Prose
from convert.document.records import Document
from convert.document.sizing import Measure, NamedNumber

__all__ = ["ITEM_NAMES", "STEP_NAMES", "CodecError", "decode", "decode_record", "encode", "encode_record", "keys_of"]

STEP_NAMES = MappingProxyType(
    {
        "work": steps.Work,
        "group": steps.Group,
        "chain": steps.Chain,
        "slip": steps.Slip,
        "decrease": steps.Decrease,
        "skip": steps.Skip,
        "repeat": steps.Repeat,
        "join": steps.Join,
        "turn": steps.Turn,
        "fasten-off": steps.FastenOff,
        "change-colour": steps.ChangeColour,
        "marker": steps.Marker,
        "begin": steps.Begin,
        "again": steps.Again,
        "verbatim": steps.Verbatim,
    }
)
"""Every kind of step by the name that its `kind` has in the data."""

ITEM_NAMES = MappingProxyType({"row": records.Row, "remark": records.Remark})
"""What a part holds, by the name that its `kind` has in the data."""

_KEYS: MappingProxyType[tuple[type, str], str] = MappingProxyType({(Document, "specials"): "special-stitches"})
_TYPES: MappingProxyType[tuple[type, str], Any] = MappingProxyType({(steps.Until, "length"): Length | None})
_FIRST = ("format", "id", "title")


class _Key(Struct, frozen=True):
    """One field of a record: its name, its key in the data, its coder and its default."""

    name: str
    key: str
    coder: Coder
    default: Any
    """The value of a field that the data leave out; `NODEFAULT` if it must be there."""


def encode(document: Document) -> dict[str, Plain]:
    """The document as plain data, in the order of the schema."""
    return encode_record(document)


def decode(data: Located) -> Document:
    """The document in data that the schema has passed; raises `CodecError` for other data."""
    document: Document = _record(Document).decode(data)
    return document


def encode_record(value: Any) -> dict[str, Plain]:
    """Any record of the document as plain data."""
    kind: type = type(value)
    data: Plain = _record(kind).encode(value)
    assert isinstance(data, dict)
    return data


def decode_record(kind: type, data: Located) -> Any:
    """A record of the given kind from data that the schema has passed."""
    return _record(kind).decode(data)


def keys_of(kind: type) -> tuple[str, ...]:
    """Every key that the data of a record may have, apart from `kind` and `x-` keys."""
    return tuple(key.key for key in _record_keys(kind))


@cache
def _record_keys(kind: type) -> tuple[_Key, ...]:
    found = []
    for field in fields(kind):
        if field.name == "extra" or not counts(field.name):
            continue
        hint = _TYPES.get((kind, field.name), field.type)
        key = _KEYS.get((kind, field.name), field.name.replace("_", "-"))
        found.append(_Key(field.name, key, _coder(hint), _default(field)))
    if kind is Document:
        found.sort(key=lambda key: _FIRST.index(key.key) if key.key in _FIRST else len(_FIRST))
    return tuple(found)


def _default(field: FieldInfo) -> Any:
    return field.default if field.default_factory is NODEFAULT else field.default_factory()


@cache
def _has(kind: type[Struct], name: str) -> bool:
    return name in kind.__struct_fields__


@cache
def _record(kind: type) -> Coder:
    return Coder(lambda value: _encode_fields(kind, value), lambda data: kind(**_decode_fields(kind, data)))


@cache
def _kind_name(kind: type) -> str | None:
    return next((n for n, k in (*STEP_NAMES.items(), *ITEM_NAMES.items()) if k is kind), None)


def _encode_fields(kind: type, value: Any) -> Plain:
    name = _kind_name(kind)
    data: dict[str, Plain] = {} if name is None else {"kind": name}
    for key in _record_keys(kind):
        found = getattr(value, key.name)
        if key.default is NODEFAULT or found != key.default or key.key == "format":
            data[key.key] = key.coder.encode(found)
    if _has(kind, "extra"):
        data.update((extra.key, JsonText(extra.value)) for extra in value.extra)
    return data


def _decode_fields(kind: type, data: Located) -> dict[str, Any]:
    given: dict[str, Any] = {}
    for key in _record_keys(kind):
        found = data.get(key.key)
        if found is not None:
            given[key.name] = key.coder.decode(found)
        elif key.default is NODEFAULT:
            raise CodecError(f"{kind.__name__} lacks {key.key!r}")
    if _has(kind, "extra"):
        given["extra"] = tuple(Extra(name, text) for name, text in data.extras())
    if _has(kind, "span"):
        given["span"] = data.span
    if _has(kind, "spans"):
        given["spans"] = {name: item.span for name, item in data.mapping.items()}
    return given


def _by_kind(names: MappingProxyType[str, type]) -> Coder:
    def decode(data: Located) -> Any:
        kind = data.get("kind")
        found = names.get(kind.words) if kind else None
        if found is None:
            raise CodecError(f"no kind {kind.words if kind else None!r}")
        return _record(found).decode(data)

    return Coder(encode_record, decode)


def _coder(hint: Any) -> Coder:
    if hint == Number:
        return NUMBER
    if hint == Prose:
        return PROSE
    if hint == steps.Step:
        return _by_kind(STEP_NAMES)
    if hint == records.Row | records.Remark:
        return _by_kind(ITEM_NAMES)
    if get_origin(hint) in (Union, UnionType):
        return _optional(hint)
    if get_origin(hint) is tuple:
        return _tuple(get_args(hint)[0])
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return Coder(str, lambda data: hint(data.words))
    if hint in SCALARS:
        return SCALARS[hint]
    if isinstance(hint, type) and issubclass(hint, Struct):
        return Coder(encode_record, lambda data: _record(hint).decode(data))
    raise TypeError(f"no rule for {hint}")


def _optional(hint: Any) -> Coder:
    kinds = [kind for kind in get_args(hint) if kind is not NoneType]
    inner = _coder(Number if len(kinds) > 1 else kinds[0])
    return Coder(
        lambda value: None if value is None else inner.encode(value),
        lambda data: None if data.value is None else inner.decode(data),
    )


def _tuple(hint: Any) -> Coder:
    if hint is Measure:
        return _map(Measure, "length", _coder(Length))
    if hint is NamedNumber:
        return _map(NamedNumber, "value", _coder(int))
    inner = _coder(hint)
    return Coder(
        lambda value: [inner.encode(item) for item in value],
        lambda data: tuple(inner.decode(item) for item in data.items),
    )


def _map(kind: type, value_name: str, inner: Coder) -> Coder:
    """Named values are written as a mapping; a name that stands twice has no place there."""

    def encode(value: tuple[Any, ...]) -> Plain:
        data = {item.name: inner.encode(getattr(item, value_name)) for item in value}
        if len(data) != len(value):
            raise CodecError("a name stands twice")
        return data

    def decode(data: Located) -> tuple[Any, ...]:
        return tuple(kind(name, inner.decode(item)) for name, item in data.mapping.items())

    return Coder(encode, decode)
