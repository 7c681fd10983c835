"""Finds and reads the data files of `shared/` and `schema/`, in a checkout and in an installed wheel alike."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

import yaml

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class TableError(RuntimeError):
    """A table of `shared/` is wrong: the program's own fault, so it stops the load."""


def folder(name: str) -> Traversable:
    """The folder `shared` or `schema`: inside the installed package, or beside it in a checkout."""
    inside = files("convert").joinpath(name)
    if inside.is_dir():
        return inside
    package = files("convert").joinpath("__init__.py")
    beside = getattr(package, "parent", None)
    if beside is None:
        raise TableError(f"the folder {name!r} was not installed")
    found: Traversable = beside.parent / name
    return found


def read_data(name: str, *, under: str = "shared") -> str:
    """The text of a data file, such as `read_data("stitches.yaml")`."""
    return folder(under).joinpath(name).read_text(encoding="utf-8")


@cache
def table(name: str) -> Any:
    """A table as plain lists and dictionaries. Only files of our own are read this way, never an author's."""
    return yaml.load(read_data(f"{name}.yaml"), Loader=_Loader)  # noqa: S506 - a safe loader, and our own file


def record(entry: Any, needed: set[str], allowed: set[str], where: str) -> dict[str, Any]:
    """The entry, if it has all the needed keys and none that is not allowed; otherwise `TableError`."""
    if not isinstance(entry, dict):
        raise TableError(f"{where}: expected an entry with keys, found {entry!r}")
    missing = needed - entry.keys()
    unknown = entry.keys() - needed - allowed
    if missing or unknown:
        raise TableError(f"{where}: missing {sorted(missing)}, unknown {sorted(unknown)}")
    return entry
