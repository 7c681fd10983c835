"""What is public is said, sorted, complete, and cheap to import."""

from __future__ import annotations

import subprocess
import sys

import pytest

import convert


def test_the_public_names_are_sorted_and_there() -> None:
    """Every name of `__all__` can be had, in the order of the alphabet; no other can."""
    assert sorted(convert.__all__) == convert.__all__
    assert convert.__all__ == [name for name in convert.__all__ if getattr(convert, name) is not None]
    with pytest.raises(AttributeError):
        _ = convert.something_else


def test_importing_it_loads_no_library_for_pages() -> None:
    """Nor any other: a library user pays for what is used."""
    libraries = {"weasyprint", "jinja2", "markdown_it", "yaml", "jsonschema"}
    code = f"import convert, sys; print(sorted({libraries} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert "[]\n" == done.stdout
