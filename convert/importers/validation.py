"""Holds data against a schema of `schema/` and words what is wrong for the author, at its place in the file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from convert.document.located import Located
from convert.findings import Finding, Severity
from convert.importers.schema_words import finding_for

if TYPE_CHECKING:
    from jsonschema.protocols import Validator

SCHEMAS = ("pattern", "authored")
"""The schemas that data are held against, by the first part of their file's name."""
_TYPES: Mapping[str, tuple[type, ...]] = {
    "object": (dict,),
    "array": (list,),
    "string": (str,),
    "boolean": (bool,),
    "null": (type(None),),
}


def validate(data: Located, schema: str) -> tuple[Finding, ...]:
    """Everything in the data that the schema does not allow; empty where all is well."""
    return _worded(list(_validator(schema).iter_errors(data.plain())), data)


_MANY = 100
"""So many errors of one file are put into words; who made more of them made one again and again."""


def _worded(errors: list[Any], data: Located) -> tuple[Finding, ...]:
    findings = tuple(finding_for(error, data) for error in errors[:_MANY])
    if len(errors) <= _MANY:
        return findings
    message = f"There are {len(errors) - _MANY:,} more places where the data are not as they should be."
    return (
        *findings,
        Finding("more-faults", Severity.ERROR, message, data.span, hint="They are shown once these are mended."),
    )


def sound_part(data: Located, schema: str) -> tuple[Located, tuple[Finding, ...]]:
    """The data without what the schema does not allow, and a finding for each thing left out.

    What was left out may leave a gap that the schema does not allow either; such gaps are not reported.
    """
    findings: tuple[Finding, ...] = ()
    for _ in range(_ROUNDS):
        errors = list(_validator(schema).iter_errors(data.plain()))
        if not errors:
            return data, findings
        findings = findings or _worded(errors, data)
        data = _without(data, {_path(error) for error in errors})
    return Located({}), findings


_ROUNDS = 10


def _path(error: Any) -> tuple[str | int, ...]:
    path = tuple(error.absolute_path)
    return (*path, error.message) if error.validator == "additionalProperties" else path


def _without(data: Located, paths: set[tuple[str | int, ...]]) -> Located:
    """The data without the values at these paths."""
    if () in paths or not paths:
        return Located({}) if paths else data
    inner: dict[str | int, set[tuple[str | int, ...]]] = {}
    for path in paths:
        inner.setdefault(path[0], set()).add(path[1:])
    if isinstance(data.value, tuple):
        kept = [(i, item) for i, item in enumerate(data.value) if () not in inner.get(i, ())]
        return replace(data, value=tuple(_without(item, inner.get(i, set())) for i, item in kept))
    entries = {
        key: _without(item, inner.get(key, set())) for key, item in data.mapping.items() if () not in inner.get(key, ())
    }
    return replace(data, value=entries)


@cache
def _schemas() -> dict[str, Any]:
    import json  # noqa: PLC0415 - what only data files need is imported with them

    from convert.trade.tables import read_data  # noqa: PLC0415

    return {name: json.loads(read_data(f"{name}.schema.json", under="schema"), parse_float=Decimal) for name in SCHEMAS}


@cache
def _definitions() -> dict[str, Any]:
    """Every definition of both schemas; their names are disjoint."""
    return {name: body for schema in _schemas().values() for name, body in schema["$defs"].items()}


@cache
def _validator(name: str) -> Validator:
    """One validator for each schema, for good. It knows the packaged schemas and fetches nothing."""
    from jsonschema import Draft202012Validator, validators  # noqa: PLC0415 - slow to import; text as typed needs none
    from referencing import Registry, Resource  # noqa: PLC0415

    known = [(schema["$id"], Resource.from_contents(schema)) for schema in _schemas().values()]
    registry: Any = Registry()
    keywords = {"anyOf": _any_of, "additionalProperties": _unknown_keys, "required": _missing_keys, "pattern": _pattern}
    extended: Any = validators.extend(Draft202012Validator, keywords)
    validator: Validator = extended(
        _schemas()[name],
        registry=registry.with_resources(known),
        format_checker=Draft202012Validator.FORMAT_CHECKER,
    )
    return validator


def _resolved(schema: Any) -> Any:
    while "$ref" in schema:
        schema = _definitions()[schema["$ref"].rpartition("/")[2]]
    return schema


def _any_of(validator: Any, branches: list[Any], instance: Any, schema: Any) -> Iterator[Any]:
    """Looks into the one branch that the data mean, by their `kind` or type, so that the message is about that one."""
    meant = [branch for branch in branches if _means(_resolved(branch), instance)]
    if meant:
        yield from validator.descend(instance, meant[0])
        return
    kinds = _kinds(branches)
    if isinstance(instance, dict) and kinds:
        yield _error("kinds", validator_value=kinds, schema=schema, instance=instance)
    else:
        yield _error("type", validator_value=None, schema=schema, instance=instance)


def _kinds(branches: list[Any]) -> list[str]:
    found = (_resolved(branch).get("properties", {}).get("kind", {}).get("const") for branch in branches)
    return [kind for kind in found if kind is not None]


def _means(branch: Any, instance: Any) -> bool:
    if "anyOf" in branch:
        return any(_means(_resolved(inner), instance) for inner in branch["anyOf"])
    types = branch.get("type", [])
    if not any(_is(instance, name) for name in ([types] if isinstance(types, str) else types)):
        return False
    kind = branch.get("properties", {}).get("kind", {}).get("const") if isinstance(instance, dict) else None
    return kind is None or instance.get("kind") == kind


def _is(instance: Any, name: str) -> bool:
    if name in _TYPES:
        return isinstance(instance, _TYPES[name])
    return not isinstance(instance, bool | str | list | dict | None)


def _unknown_keys(validator: Any, allowed: Any, instance: Any, schema: Any) -> Iterator[Any]:
    """One error for each key; `allowed` is a schema where the keys are free and their values are not."""
    if not isinstance(instance, dict):
        return
    free = "patternProperties" in schema
    for key, value in instance.items():
        if key in schema.get("properties", {}) or (free and _fits(schema["patternProperties"], key)):
            continue
        if allowed is False:
            yield _error("additionalProperties", message=key, validator_value=schema, schema=schema, instance=instance)
        else:
            yield from validator.descend(value, allowed, path=key)


def _fits(patterns: Any, key: str) -> bool:
    import re  # noqa: PLC0415 - already loaded by jsonschema

    return any(re.search(pattern, key) for pattern in patterns)


def _missing_keys(validator: Any, required: list[str], instance: Any, schema: Any) -> Iterator[Any]:
    if isinstance(instance, dict):
        for key in required:
            if key not in instance:
                yield _error("required", message=key, validator_value=required, schema=schema, instance=instance)


def _pattern(validator: Any, pattern: str, instance: Any, schema: Any) -> Iterator[Any]:
    """As the standard says, except that `$` means the very end, not the place before a last line end."""
    import re  # noqa: PLC0415 - already loaded by jsonschema

    if isinstance(instance, str) and not re.search(pattern.replace("$", r"\Z"), instance):
        yield _error("pattern", validator_value=pattern, schema=schema, instance=instance)


def _error(keyword: str, message: str = "", **details: Any) -> Any:
    from jsonschema import ValidationError  # noqa: PLC0415 - loaded by now

    return ValidationError(message, validator=keyword, **details)
