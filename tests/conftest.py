"""What all tests share: the option that rewrites expected files, and how hypothesis runs."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile("here", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", parent=settings.get_profile("here"), derandomize=True, print_blob=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")

ROOT = Path(__file__).parent.parent


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept", action="store_true", help="write what came out over the expected files, for review")


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> bool:
    """Whether expected files are rewritten in this run."""
    return bool(request.config.getoption("--accept"))


@pytest.fixture
def expect(accept: bool) -> Callable[[Path, str], None]:
    """Compares a text with an expected file, or writes the file when the run was told to accept."""

    def compare(path: Path, text: str) -> None:
        if accept:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="\n")
        assert path.read_text(encoding="utf-8") == text

    return compare


@pytest.fixture
def root() -> Path:
    """The folder of the project."""
    return ROOT
