"""What may be said on the command line, and help for what was meant."""

from __future__ import annotations

import pytest

from convert.arguments import WrongUsage, parse


@pytest.mark.parametrize(
    ("argv", "message", "hint"),
    [
        (["chek", "hat.md"], 'no command "chek"', 'Did you mean "check"?'),
        (["check", "hat.md", "--fromat", "json"], 'no option "--fromat"', 'Did you mean "--format"?'),
        (["check", "hat.md", "--fromat=json"], 'no option "--fromat=json"', 'Did you mean "--format"?'),
        (["check", "hat.md", "--frmt", "json"], 'no option "--frmt"', "--format"),
        (["check", "hat.md", "--terms", "ux"], 'no term system "ux"', "Usage: tallyhook check"),
        (["convert", "hat.md", "-o", "x", "--to", "htm"], 'Did you mean "html"?', "Usage: tallyhook convert"),
        (["convert", "hat.md", "-o", "x", "--siz", "m"], 'no option "--siz"', 'Did you mean "--size"?'),
        (["convert", "hat.md"], "-o/--output is missing", "Usage: tallyhook convert"),
        (["check"], "FILE|FOLDER is missing", "Usage: tallyhook check"),
        (["explain", "a", "b"], '"b" is too much', "--help"),
        ([], "say what to do", "Commands: check, convert"),
        (["--terms", "us"], 'no command "us"', "check"),
    ],
)
def test_wrong_usage_tells_what_was_meant(argv: list[str], message: str, hint: str) -> None:
    """The message names what was said, the hint what could have been."""
    with pytest.raises(WrongUsage) as caught:
        parse(argv)
    assert message in caught.value.message
    assert hint in caught.value.hint


def test_options_are_not_abbreviated() -> None:
    """An option added later must not change what a shorter word means."""
    with pytest.raises(WrongUsage, match='no option "--form"'):
        parse(["check", "hat.md", "--form", "json"])


def test_values_are_read_without_regard_to_case() -> None:
    """US is us."""
    assert parse(["check", "hat.md", "--terms", "UK"]).terms == "uk"


@pytest.mark.parametrize("argv", [["--help"], ["check", "--help"], ["convert", "-h"]])
def test_help_goes_to_standard_output(argv: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """It was asked for, so it is a result."""
    with pytest.raises(SystemExit) as ended:
        parse(argv)
    printed = capsys.readouterr()
    assert (ended.value.code, printed.err) == (0, "")
    assert printed.out.startswith("usage: tallyhook")
