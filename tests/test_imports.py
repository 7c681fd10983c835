"""What a command loads: a check never pays for the libraries that make pages."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.samples import HAT

PROBE = """
import sys
from convert.cli import main
status = main({words!r})
print(status, *sorted(name for name in {heavy!r} if name in sys.modules), file=sys.stderr)
"""
HEAVY = ("weasyprint", "jinja2", "markdown_it", "fontTools", "PIL", "pydyf")


@pytest.mark.parametrize("name", ["hat.pattern.yaml", "hat.json"])
def test_a_check_loads_no_library_for_pages(name: str, tmp_path: Path, root: Path) -> None:
    """Neither the PDF library nor the template library, nor Markdown where there is none."""
    (tmp_path / "hat.pattern.yaml").write_text(HAT, encoding="utf-8")
    if name == "hat.json":
        _probe(["convert", str(tmp_path / "hat.pattern.yaml"), "-o", str(tmp_path / name)], root)
    assert _probe(["check", str(tmp_path / name)], root) == ["0"]


def _probe(words: list[str], root: Path) -> list[str]:
    code = PROBE.format(words=words, heavy=HEAVY)
    ended = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    return ended.stderr.split()
