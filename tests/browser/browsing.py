"""Drives a headless Chromium through `visit.mjs`; tests skip, saying why, where it or its tools are absent."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent.parent
TOOLS = ROOT / "build/tools/node_modules"
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
NODE = shutil.which("node")
HERE = Path(__file__).parent


def _absent() -> str:
    if CHROMIUM is None or NODE is None:
        return "there is no Chromium or no Node here; .ci/prepare --tools installs them"
    missing = [name for name in ("playwright-core", "axe-core") if not (TOOLS / name).exists()]
    return f"{' and '.join(missing)} not here; .ci/prepare --tools fetches them" if missing else ""


needs_browser = [
    pytest.mark.slow,
    pytest.mark.timeout(90),
    pytest.mark.skipif(bool(_absent()), reason=_absent() or "never"),
]


def visit(page: Path, *steps: dict[str, Any]) -> list[Any]:
    """What the browser answers to each step."""
    command = [str(NODE), str(HERE / "visit.mjs"), str(TOOLS), str(CHROMIUM), str(page)]
    run = subprocess.run(command, input=json.dumps(steps), capture_output=True, text=True, check=False)
    assert 0 == run.returncode, run.stderr
    answers: list[Any] = json.loads(run.stdout)
    return answers
