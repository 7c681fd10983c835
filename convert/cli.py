"""The command line: arguments in, library calls, results on standard output, messages on standard error, a status out.

This is the only module that prints, ends the program or reads the environment. What only one command needs is imported
by that command, so that `check` starts without the libraries that make pages.
"""

from __future__ import annotations

import io
import os
import shutil
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from msgspec.structs import replace

from convert.arguments import WrongUsage, nearest, parse
from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.errors import OutputRefused, PatternError
from convert.examine import STDIN, Examined, examine, unread
from convert.exporters.findings_text import COLOUR, PLAIN, ROOM, Paint, write_findings, write_summary
from convert.files import PatternFile, find_files, kind_of, same_folder, write_beside, write_file
from convert.findings import Severity
from convert.grader.made_to_measure import NoWish, Wish, read_gauge, read_measure
from convert.pictures import read_pictures
from convert.source import Source

if TYPE_CHECKING:
    import argparse

    from convert.grader.yarn_in_hand import Reached
    from convert.pipeline import Checked

CLEAN, FOUND, REFUSED = 0, 1, 2
"""Exit statuses: nothing to complain about; errors found in a pattern; wrong usage or unreadable input."""


def _status(one: Examined, strict: bool) -> int:
    """The exit status that a file asks for."""
    grave = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    if not one.readable:
        return REFUSED
    return FOUND if any(finding.severity in grave for finding in one.findings) else CLEAN


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command and returns the exit status. Never raises for what a user or a file did."""
    _prepare_streams()
    status = REFUSED
    try:
        arguments = parse(sys.argv[1:] if argv is None else argv)
        status = _run(arguments)
        sys.stdout.flush()
    except PatternError as error:
        _say(f"tallyhook: {error.message}" + (f"\n{error.hint}" if error.hint else ""))
        return REFUSED
    except BrokenPipeError:
        # Whoever read the results has gone. What is still buffered has nowhere to go.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        return 130
    except SystemExit as asked:  # argparse ends so after --help
        return int(asked.code or 0)
    return status


def _run(arguments: argparse.Namespace) -> int:
    if arguments.version:
        from importlib.metadata import version  # noqa: PLC0415 - slow to import, and rarely asked for

        print(f"tallyhook {version('tallyhook')}")
        return CLEAN
    commands = {
        "check": _check,
        "convert": _convert,
        "grade": _grade,
        "survey": _survey,
        "explain": _explain,
        "schema": _schema,
    }
    return commands[arguments.command](arguments)


# ---------------------------------------------------------------- commands


def _check(arguments: argparse.Namespace) -> int:
    from convert.exporters.json.report import FileReport, write_report  # noqa: PLC0415 - for this command alone

    done: list[Examined] = []
    for one in _examine_all(arguments):
        if arguments.format == "text":
            _show(one, sys.stdout if one.readable else sys.stderr)
        done.append(replace(one, source=Source(one.source.name, "")))
    proofs = [one.checked.proof if one.checked else None for one in done]
    findings = [finding for one in done for finding in one.findings]
    if arguments.format == "json":
        titles = [one.checked.document.title if one.checked and one.checked.document else "" for one in done]
        reports = [
            FileReport(one.source.name, title, one.findings, proof)
            for one, title, proof in zip(done, titles, proofs, strict=True)
        ]
        _put(write_report(reports))
    else:
        _put(write_summary(len(done), findings, [proof.understood for proof in proofs if proof]))
    return max((_status(one, arguments.strict) for one in done), default=REFUSED)


def _convert(arguments: argparse.Namespace) -> int:
    from convert.publish import Edition, form_of, publish  # noqa: PLC0415 - for this command alone

    form = arguments.to or form_of(arguments.output)
    if arguments.data and form == "html" and arguments.output == "-":
        raise WrongUsage("--data puts a file beside the page, so the page needs a name", hint="Say it with -o.")
    one = _examine_one(arguments)
    if one.checked is None or not one.readable:
        _show(one, sys.stderr)
        return REFUSED
    edition = Edition(
        form,
        TermSystem(arguments.terms) if arguments.terms in ("us", "uk") else None,
        None if arguments.size.lower() == "all" else arguments.size,
        arguments.paper or "",
        both=arguments.terms == "both",
        full_words=arguments.words == "full",
        each_row=arguments.rows == "each",
        with_data=arguments.data,
        name=Path(arguments.output).stem,
        url=arguments.url or "",
        other_url=arguments.other_url or "",
        look=arguments.look,
        environment=os.environ,
    )
    one, files = _with_pictures(one, arguments, pages=edition.is_page)
    if edition.is_page and not arguments.draft and _status(one, arguments.strict) != CLEAN:
        return _held_back(one, arguments.strict)
    assert one.checked is not None
    written = publish(one.checked, replace(edition, files=files))
    if edition.is_page and not arguments.draft and any(f.severity is Severity.ERROR for f in written.findings):
        return _held_back(replace(one, findings=(*one.findings, *written.findings)), arguments.strict)
    one = replace(one, findings=(*one.findings, *written.findings))
    _show(one, sys.stderr)
    _deliver(arguments, arguments.output, written.data)
    if written.beside:
        _deliver(arguments, str(Path(arguments.output).with_suffix(".json")), written.beside)
    for name, data in () if _stays(arguments) else written.pictures.items():
        if not write_beside(Path(arguments.output).parent, name, data):
            _say(f"tallyhook: a picture would take the place of another file, {name}; it was not written")
    return _status(one, arguments.strict)


def _held_back(one: Examined, strict: bool) -> int:
    _show(one, sys.stderr)
    _say("tallyhook: nothing was written, since the pattern has errors; --draft writes it all the same")
    return _status(one, strict)


def _with_pictures(one: Examined, arguments: argparse.Namespace, *, pages: bool) -> tuple[Examined, dict[str, bytes]]:
    """The content of the pattern's pictures, where the output needs them: pages, and data that go to another folder."""
    document = one.checked.document if one.checked else None
    if document is None or (_stays(arguments) and not pages):
        return one, {}
    files, told = read_pictures(document, None if arguments.file == "-" else Path(arguments.file).parent)
    new = tuple(finding for finding in told if finding not in one.findings)
    return replace(one, findings=(*one.findings, *new)), files


def _stays(arguments: argparse.Namespace) -> bool:
    """Whether the output lies where the pattern does, or nowhere, so that its pictures need no copies."""
    if arguments.output == "-" or arguments.file == "-":
        return bool(arguments.output == "-")
    return same_folder(Path(arguments.output).parent, Path(arguments.file).parent)


def _deliver(arguments: argparse.Namespace, output: str, data: bytes) -> None:
    if output == "-":
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        return
    try:
        write_file(Path(output), data, never=() if arguments.file == "-" else (Path(arguments.file),))
    except OutputRefused as error:
        raise OutputRefused(f"{output}: {error.message}", hint=error.hint) from error


def _grade(arguments: argparse.Namespace) -> int:
    from convert.exporters.grading_table import write_csv, write_json, write_table  # noqa: PLC0415 - for this command

    one = _examine_one(arguments)
    _show(one, sys.stderr)
    write = {"text": write_table, "csv": write_csv, "json": write_json}[arguments.format]
    checked = one.checked
    if checked and checked.document and checked.grading:
        in_hand = _in_hand(arguments, checked)
        _put(write(checked.document, checked.grading, checked.proof, checked.measured, in_hand))
    return _status(one, arguments.strict)


def _in_hand(arguments: argparse.Namespace, checked: Checked) -> Reached | None:
    """How far the yarn that the maker has reaches; None where nobody asks."""
    if not arguments.in_hand or checked.document is None or checked.measured is None:
        return None
    from convert.grader.yarn_in_hand import NoAmount, reached, read_in_hand  # noqa: PLC0415 - for few calls

    try:
        amounts = [read_in_hand(said, checked.document) for said in arguments.in_hand]
    except NoAmount as error:
        raise WrongUsage(str(error), hint='Say it once for each yarn: --in-hand "A=3 balls"') from error
    return reached(checked.document, checked.measured, amounts)


def _survey(arguments: argparse.Namespace) -> int:
    from convert.exporters.survey_text import KEPT, write_survey, write_survey_json  # noqa: PLC0415 - for this command alone
    from convert.survey import survey_folder  # noqa: PLC0415 - likewise

    known = (KEPT, *_codes()) if arguments.show else ()
    for code in arguments.show:
        if code not in known:
            hint = nearest(code, known) or "`tallyhook explain` lists the codes; `verbatim` is for the clauses kept."
            raise WrongUsage(f'no finding has the code "{code}"', hint=hint)
    write = write_survey_json if arguments.format == "json" else write_survey
    surveyed = list(survey_folder(arguments.folder, arguments.terms and TermSystem(arguments.terms)))
    _put(write(surveyed, tuple(arguments.show)))
    return CLEAN if any(not one.figures.unreadable for one in surveyed) else REFUSED


def _explain(arguments: argparse.Namespace) -> int:
    from convert.checks import registry  # noqa: PLC0415 - for this command alone
    from convert.exporters.explanation_text import write_codes, write_explanation  # noqa: PLC0415 - likewise

    known = registry()
    if arguments.code is None:
        _put(write_codes(known.values()))
        return CLEAN
    if arguments.code not in known:
        hint = nearest(arguments.code, list(known)) or "`tallyhook explain` lists the codes."
        raise WrongUsage(f'no finding has the code "{arguments.code}"', hint=hint)
    _put(write_explanation(known[arguments.code]))
    return CLEAN


def _codes() -> tuple[str, ...]:
    from convert.checks import registry  # noqa: PLC0415 - for few commands

    return tuple(registry())


def _schema(arguments: argparse.Namespace) -> int:
    from convert.trade.tables import folder, read_data  # noqa: PLC0415 - for this command alone

    ending = ".schema.json"
    names = sorted(f.name.removesuffix(ending) for f in folder("schema").iterdir() if f.name.endswith(ending))
    if arguments.name is None:
        _put("".join(f"{name}\n" for name in names))
        return CLEAN
    if arguments.name not in names:
        hint = nearest(arguments.name, names) or f"Schemas: {', '.join(names)}"
        raise WrongUsage(f'there is no schema "{arguments.name}"', hint=hint)
    _put(read_data(arguments.name + ending, under="schema"))
    return CLEAN


# ---------------------------------------------------------------- reading


def _examine_all(arguments: argparse.Namespace) -> Iterator[Examined]:
    options = ReadOptions(terms=arguments.terms and TermSystem(arguments.terms))
    seen: set[Path] = set()
    for name in arguments.files:
        try:
            files = (STDIN,) if name == "-" else find_files(name)
        except PatternError as error:
            yield unread(Source(name, ""), error)
            continue
        for file in files:
            one = None if file.path in seen else examine(file, arguments.kind, options, _stdin)
            seen.add(file.path)
            if one and one.passed_over:
                _say(f"{one.source.name}: passed over, there is no row of a pattern in it")
            elif one:
                yield one


def _examine_one(arguments: argparse.Namespace) -> Examined:
    name = arguments.file
    if name != "-" and Path(name).is_dir():
        raise WrongUsage(f"{name} is a folder", hint="Name one pattern in it. (`tallyhook check` reads whole folders.)")
    file = STDIN if name == "-" else PatternFile(Path(name), kind_of(name), named=True)
    try:
        return examine(file, arguments.kind, ReadOptions(), _stdin, _wish(arguments))
    except NoWish as error:
        raise WrongUsage(str(error), hint='--gauge "16 sts 9 rows = 10 cm", --fit width=140cm') from error


def _wish(arguments: argparse.Namespace) -> Wish | None:
    """What a maker asks for beside the pattern; None where the pattern is taken as it is."""
    if not arguments.gauge and not arguments.fit:
        return None
    gauge = read_gauge(arguments.gauge) if arguments.gauge else None
    return Wish(gauge, tuple(read_measure(said) for said in arguments.fit))


def _stdin(most: int) -> bytes:
    return sys.stdin.buffer.read(most)


# ---------------------------------------------------------------- printing


def _prepare_streams() -> None:
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")


def _put(text: str) -> None:
    sys.stdout.write(text)


def _say(text: str) -> None:
    print(text, file=sys.stderr)


def _show(one: Examined, stream: TextIO) -> None:
    room = max(40, shutil.get_terminal_size().columns - 8) if stream.isatty() else ROOM
    stream.write(write_findings(one.source, one.findings, _paint(stream), room))
    stream.flush()


def _paint(stream: TextIO) -> Paint:
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb" or not stream.isatty()
    return PLAIN if plain else COLOUR


if __name__ == "__main__":
    sys.exit(main())
