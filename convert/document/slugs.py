"""Ids made from names."""

from __future__ import annotations

import re
import unicodedata


def slug(name: str, otherwise: str = "") -> str:
    """The name in small letters, digits and hyphens; `otherwise` if nothing of it is left.

    >>> slug("Hearth Throw, No. 2"), slug("Crème brûlée"), slug("編み物", "pattern")
    ('hearth-throw-no-2', 'creme-brulee', 'pattern')
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower().replace("'", "")
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:64].strip("-") or otherwise


def free_slug(name: str, otherwise: str, taken: set[str]) -> str:
    """A slug that is not taken yet, with a number behind it if need be; it is taken from now on.

    >>> free_slug("Ear", "part", {"ear"})
    'ear-2'
    """
    first = slug(name, otherwise)
    found, number = first, 1
    while found in taken:
        number += 1
        found = f"{first[:60]}-{number}"
    taken.add(found)
    return found
