"""The wheel: what is installed works as the checkout does, from any folder."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

from tests.samples import HAT


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds nothing of the project but its unpacked wheel."""
    folder = tmp_path_factory.mktemp("wheel")
    root = Path(__file__).parent.parent
    (wheel,) = WheelBuilder(str(root)).build(directory=str(folder / "dist"), versions=["standard"])
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


def _run(path: Path, cwd: Path, *words: str) -> tuple[int, str]:
    environment = {**os.environ, "PYTHONPATH": str(path)}
    command = [sys.executable, "-P", "-m", "convert", *words]
    ended = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True, check=False)
    return ended.returncode, ended.stdout + ended.stderr


@pytest.mark.slow
@pytest.mark.timeout(60)
@pytest.mark.parametrize(
    "words",
    [
        ("check", "hat.pattern.yaml"),
        ("check", "hat.pattern.yaml", "--format", "json"),
        ("convert", "hat.pattern.yaml", "-o", "-", "--to", "html", "--terms", "uk"),
        ("convert", "hat.pattern.yaml", "-o", "-", "--to", "markdown"),
        ("schema",),
        ("explain", "count-mismatch"),
    ],
    ids=lambda words: " ".join(words[:1] + words[4:6]),
)
def test_the_wheel_does_what_the_checkout_does(
    installed: Path, tmp_path: Path, root: Path, words: tuple[str, ...]
) -> None:
    """Same output, same status, in a folder where nothing of the checkout lies."""
    (tmp_path / "hat.pattern.yaml").write_text(HAT, encoding="utf-8")
    status, printed = _run(installed, tmp_path, *words)
    assert (status, printed) == _run(root, tmp_path, *words)
    assert (status, printed[:1] != "") == (0, True)
    assert "Traceback" not in printed


def test_the_wheel_holds_the_data_and_the_licence(installed: Path) -> None:
    """Schemas, tables and fonts travel inside the package, no tests do."""
    for name in ("convert/schema/report.schema.json", "convert/shared/stitches.yaml", "convert/py.typed"):
        assert (installed / name).is_file(), name
    assert list(installed.glob("tallyhook-*.dist-info/licenses/LICENSE"))
    assert {"convert", *(path.name for path in installed.glob("*.dist-info"))} == {
        path.name for path in installed.iterdir()
    }
