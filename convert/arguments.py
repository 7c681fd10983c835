"""The command line's arguments: what may be said, and help for what was meant."""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from typing import NoReturn

from convert.errors import PatternError

FORMATS = ("markdown", "html", "pdf", "json", "yaml")
KINDS = ("yaml", "markdown", "text", "json")
COMMANDS = ("check", "convert", "grade", "survey", "explain", "schema")


class WrongUsage(PatternError):
    """The command was not given as it has to be; exit status 2."""


class _Parser(argparse.ArgumentParser):
    """A parser that raises `WrongUsage` instead of ending the program."""

    def error(self, message: str) -> NoReturn:
        if message.startswith("the following arguments are required"):
            message = f"{self.prog}: {message.split(': ', 1)[1]} is missing"
        raise WrongUsage(message, hint=f"{self.format_usage().strip().replace('usage', 'Usage', 1)}")


def nearest(word: str, known: Sequence[str]) -> str:
    """A question after the known word that comes nearest; empty if none is near.

    >>> nearest("covnert", COMMANDS), nearest("xyz", COMMANDS)
    ('Did you mean "convert"?', '')
    """
    found = get_close_matches(word.lower(), known, 1, 0.6)
    return f'Did you mean "{found[0]}"?' if found else ""


def _one_of(what: str, known: Sequence[str]) -> Callable[[str], str]:
    def read(said: str) -> str:
        word = said.lower()
        if word not in known:
            raise argparse.ArgumentTypeError(
                f'there is no {what} "{said}", only {", ".join(known)}. {nearest(word, known)}'.strip()
            )
        return word

    return read


def _url(said: str) -> str:
    if not re.fullmatch(r"https?://[^\s<>\"']+", said):
        raise argparse.ArgumentTypeError(f'"{said}" is no address such as https://patterns.example/us/hat.html')
    return said


def _parser() -> _Parser:
    parser = _Parser(
        prog="tallyhook",
        description="Crochet patterns: every row worked in every size, graded, in US and UK terms, ready to publish.",
        epilog="Exit status: 0 clean, 1 errors found in a pattern, 2 wrong usage or unreadable input. "
        "`tallyhook COMMAND --help` tells more about a command.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="store_true", help="print the version")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    _add_check(commands)
    _add_convert(commands)
    _add_grade(commands)
    _add_survey(commands)
    explain = commands.add_parser("explain", help="explain a finding's code", allow_abbrev=False)
    explain.add_argument("code", nargs="?", metavar="CODE", help="such as count-mismatch; without it, all codes")
    schema = commands.add_parser("schema", help="print a JSON Schema", allow_abbrev=False)
    schema.add_argument("name", nargs="?", metavar="NAME", help="such as pattern; without it, all names")
    return parser


def _add_check(commands: argparse._SubParsersAction[_Parser]) -> None:
    check = commands.add_parser("check", help="check patterns, or all patterns in folders", allow_abbrev=False)
    check.add_argument(
        "files", nargs="+", metavar="FILE|FOLDER", help="a pattern, a folder of them, or - for standard input"
    )
    check.add_argument("--format", type=_one_of("report format", ("text", "json")), default="text", help="text or json")
    check.add_argument("--terms", type=_one_of("term system", ("us", "uk")), help="us or uk, for texts that do not say")
    _add_common(check)


def _add_convert(commands: argparse._SubParsersAction[_Parser]) -> None:
    convert = commands.add_parser("convert", help="write a pattern in another form", allow_abbrev=False)
    convert.add_argument("file", metavar="FILE", help="a pattern, or - for standard input")
    convert.add_argument(
        "-o", "--output", metavar="OUT", required=True, help="the file to write, or - for standard output"
    )
    convert.add_argument("--to", type=_one_of("form", FORMATS), help=f"{', '.join(FORMATS)}; else by the ending of OUT")
    convert.add_argument(
        "--terms",
        type=_one_of("term system", ("us", "uk", "both")),
        help="us or uk, or both in one page; else as the pattern is written",
    )
    convert.add_argument("--size", default="all", metavar="ID", help="one size by its id; else all")
    convert.add_argument("--paper", type=_one_of("paper", ("a4", "letter")), help="a4 or letter, for pdf")
    convert.add_argument(
        "--words", type=_one_of("kind of words", ("short", "full")), default="short", help="full: no abbreviations"
    )
    convert.add_argument(
        "--rows", type=_one_of("way of rows", ("as-written", "each")), default="as-written", help="each: no row ranges"
    )
    convert.add_argument(
        "--look",
        type=_one_of("look", ("usual", "large", "low-ink")),
        default="usual",
        help="of a pdf: large or low-ink",
    )
    convert.add_argument(
        "--data", action="store_true", help="the pattern as json too: beside an html page, inside a pdf"
    )
    convert.add_argument("--url", type=_url, help="where the html page will stand on the web")
    convert.add_argument("--other-url", type=_url, help="where the same page in the other terms will stand")
    _add_wish(convert)
    convert.add_argument("--draft", action="store_true", help="write a page of a pattern with errors all the same")
    _add_common(convert)


def _add_grade(commands: argparse._SubParsersAction[_Parser]) -> None:
    grade = commands.add_parser("grade", help="show the numbers that each size comes to", allow_abbrev=False)
    grade.add_argument("file", metavar="FILE", help="a pattern, or - for standard input")
    forms = ("text", "csv", "json")
    grade.add_argument("--format", type=_one_of("format", forms), default="text", help="text, csv or json")
    _add_wish(grade)
    grade.add_argument(
        "--in-hand",
        action="append",
        default=[],
        metavar="NAME=AMOUNT",
        help='yarn that you have, such as "A=3 balls", "A=250 g" or "A=400 m": how far does it reach? repeatable',
    )
    _add_common(grade)


def _add_wish(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--gauge", metavar="GAUGE", help='your own, such as "16 sts 9 rows = 10 cm"')
    parser.add_argument(
        "--fit",
        action="append",
        default=[],
        metavar="NAME=LENGTH",
        help="one size made to this measurement; repeatable",
    )


def _add_survey(commands: argparse._SubParsersAction[_Parser]) -> None:
    survey = commands.add_parser("survey", help="tell how well a folder of patterns is read", allow_abbrev=False)
    survey.add_argument("folder", metavar="FOLDER", help="a folder of patterns, or one pattern")
    survey.add_argument(
        "--terms", type=_one_of("term system", ("us", "uk")), help="us or uk, for texts that do not say"
    )
    survey.add_argument(
        "--format", type=_one_of("report format", ("text", "json")), default="text", help="text or json"
    )
    survey.add_argument(
        "--show", action="append", default=[], metavar="CODE", help="list the findings of a code, or verbatim clauses"
    )


def _add_common(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--from", dest="kind", type=_one_of("kind", KINDS), help=f"read as {', '.join(KINDS)}")
    parser.add_argument("--strict", action="store_true", help="warnings count as errors for the exit status")


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """The arguments, read. Raises `WrongUsage`, or SystemExit(0) after printing help that was asked for.

    >>> parse(["check", "hat.md"]).files
    ['hat.md']
    """
    words = [word for word in argv if not word.startswith("-")]
    parser = _parser()
    if words and not set(words) & set(COMMANDS):
        raise WrongUsage(f'there is no command "{words[0]}"', hint=_suggest(words[0], COMMANDS))
    said, unknown = parser.parse_known_args(argv)
    if unknown:
        raise WrongUsage(
            f'there is no option "{unknown[0]}"' if unknown[0][0] == "-" else f'"{unknown[0]}" is too much',
            hint=_suggest(unknown[0].split("=")[0], _options(parser, said.command)),
        )
    if said.command is None and not said.version:
        raise WrongUsage("say what to do", hint=_suggest("", COMMANDS))
    return said


def _suggest(word: str, known: Sequence[str]) -> str:
    plural = "Options" if known and known[0].startswith("-") else "Commands"
    return nearest(word, known) or f"{plural}: {', '.join(known)}. See: tallyhook --help"


def _options(parser: argparse.ArgumentParser, command: str | None) -> list[str]:
    """The long options that a command has, read off its help."""
    groups = (action for action in parser._actions if isinstance(action, argparse._SubParsersAction))  # noqa: SLF001
    chosen = next((group.choices[command] for group in groups if command), parser)
    return sorted(set(re.findall(r"--[a-z]+(?:-[a-z]+)*", chosen.format_help())))
