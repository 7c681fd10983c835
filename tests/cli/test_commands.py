"""Command lines as data: what is said, what lies in the folder, what is printed where, and the exit status."""

from __future__ import annotations

import io
import shlex
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from convert.cli import main

ROOT = Path(__file__).parents[2]
CASES: list[dict[str, Any]] = [
    {"from": path.stem} | case
    for path in sorted((ROOT / "fixtures" / "cli").glob("*.yaml"))
    for case in yaml.safe_load(path.read_text(encoding="utf-8"))
]
KEYS = {"from", "name", "command", "files", "stdin", "stdout", "stderr", "stdout-has", "stderr-has", "written", "exit"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['from']}: {case['name']}")
def test_a_command_does_what_is_written(
    case: dict[str, Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    """Standard output and standard error are compared whole, or searched for the words given."""
    assert set(case) <= KEYS
    for name, text in case.get("files", {}).items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(case.get("stdin", "").encode())))
    status = main(shlex.split(case["command"]))
    out, err = (stream.decode() for stream in capfdbinary.readouterr())
    for stream, text in (("stdout", out), ("stderr", err)):
        if f"{stream}-has" in case:
            assert [] == [words for words in case[f"{stream}-has"] if words not in text], text
        else:
            assert case.get(stream, "") == text
    for name, words in case.get("written", {}).items():
        assert words in (tmp_path / name).read_text(encoding="utf-8")
    assert case["exit"] == status
