"""The cases of notations, from all the files that they stand in."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import yaml

_FOLDER = Path(__file__).parents[2] / "fixtures" / "instructions"


@cache
def files() -> tuple[dict[str, Any], ...]:
    """What each file holds: the bases, then groups of cases by theme."""
    paths = (_FOLDER / "notations.yaml", *sorted((_FOLDER / "notations").glob("*.yaml")))
    return tuple(yaml.safe_load(path.read_text("utf-8")) for path in paths)


def bases() -> dict[str, list[str]]:
    """The rows that a case can be worked on, by name."""
    found: dict[str, list[str]] = files()[0]["bases"]
    return found


def cases() -> list[dict[str, Any]]:
    """Every case, with the name of its group."""
    return [
        {"group": group} | case
        for data in files()
        for group, listed in data.items()
        if group != "bases"
        for case in listed
    ]
