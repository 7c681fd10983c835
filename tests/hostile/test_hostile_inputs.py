"""Whatever a file holds, its check ends soon, with a finding and the documented status, and without harm."""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from pathlib import Path

import pytest

from convert.cli import main
from tests.hostile.inputs import ODD, UNREADABLE, WRONG, Hostile


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


CASES = (
    [(2, hostile) for hostile in UNREADABLE] + [(1, hostile) for hostile in WRONG] + [(0, hostile) for hostile in ODD]
)


@pytest.mark.parametrize(("status", "hostile"), CASES, ids=lambda value: getattr(value, "name", ""))
def test_a_hostile_file_ends_with_a_finding(
    status: int, hostile: Hostile, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The status is the documented one, the report names the reason, nothing else came into being."""
    (tmp_path / hostile.name).write_bytes(hostile.data)
    ended = main(["check", hostile.name, "--format", "json"])
    printed = capsys.readouterr()
    (report,) = json.loads(printed.out)["files"]
    assert hostile.code in [finding["code"] for finding in report["findings"]]
    assert (status, "") == (ended, printed.err)
    assert [hostile.name] == [file.name for file in tmp_path.iterdir()]


@pytest.mark.parametrize("hostile", UNREADABLE, ids=lambda hostile: hostile.name)
def test_nothing_is_made_of_an_unreadable_file(
    hostile: Hostile, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """No output file appears, and the reason goes to standard error."""
    (tmp_path / hostile.name).write_bytes(hostile.data)
    assert main(["convert", hostile.name, "-o", "out.json"]) == 2
    printed = capsys.readouterr()
    assert (printed.out, (tmp_path / "out.json").exists()) == ("", False)
    assert hostile.name in printed.err


def _limited() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
    resource.setrlimit(resource.RLIMIT_CPU, (60, 60))


@pytest.mark.slow
@pytest.mark.timeout(90)
def test_a_folder_of_hostile_files_stays_within_bounds(tmp_path: Path, root: Path) -> None:
    """One GiB of memory and a minute of time hold for all of them together, and no traceback is shown."""
    for hostile in (*UNREADABLE, *WRONG, *ODD):
        (tmp_path / hostile.name).write_bytes(hostile.data)
    command = [sys.executable, "-m", "convert", "check", str(tmp_path)]
    ended = subprocess.run(command, cwd=root, capture_output=True, text=True, preexec_fn=_limited, check=False)
    assert ended.returncode == 2
    assert "Traceback" not in ended.stderr + ended.stdout
