"""What the README shows is what the program prints."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from convert.cli import main

README = Path(__file__).parents[1] / "README.md"
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def _shown() -> list[tuple[str, str]]:
    """Every command of the README with the output that stands under it."""
    text = "\n".join(block for block in BLOCK.findall(README.read_text(encoding="utf-8")))
    parts = re.split(r"^\$ tallyhook (.*)\n", text, flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def _pattern(shown: str) -> str:
    """The output as a regular expression; a line "[...]" stands for any lines, blank lines at the end do not count."""
    lines = [re.escape(line) for line in shown.strip("\n").split("\n")]
    return "\n".join(r"(?:.*\n)*?.*" if line == re.escape("[...]") else line for line in lines) + r"\n*"


def test_the_readme_shows_output() -> None:
    """There is something to compare."""
    assert len(_shown()) >= 4


@pytest.mark.parametrize(("command", "output"), _shown(), ids=[command for command, _ in _shown()])
def test_a_command_of_the_readme_prints_what_is_shown(
    command: str,
    output: str,
    root: Path,
    accept: bool,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    """Word for word. `--accept` puts what is printed into the README, except where only a part is shown."""
    monkeypatch.chdir(root)
    main(shlex.split(command))
    printed = capfd.readouterr()
    text = (printed.out + printed.err).rstrip("\n") + "\n"
    if accept and "[...]" not in output:
        stood = output.rstrip("\n") + "\n"
        shown = README.read_text(encoding="utf-8").replace(f"{command}\n{stood}", f"{command}\n{text}")
        README.write_text(shown, encoding="utf-8", newline="\n")
        output = text
    assert re.fullmatch(_pattern(output), text), text
