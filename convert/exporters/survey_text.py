"""A survey of a folder as a table for a terminal, with lists of what is asked for, or as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

from msgspec.structs import asdict

from convert.document.records import Row
from convert.exporters.display import safe
from convert.findings import Finding
from convert.source import Span
from convert.surveyed import Figures, Kept, Surveyed, codes, total

KEPT = "verbatim"
"""What `--show` calls the clauses kept as they stood."""
_HEADS = ("rows", "clauses", "kept", "executed", "agree", "disagree", "untold", "errors", "warnings")


def write_survey(surveyed: Sequence[Surveyed], shown: Sequence[str] = ()) -> str:
    """The table by file and in all, the codes found, and a list of each thing in `shown`: a code, or "verbatim"."""
    lines = [*_table(surveyed), "", *_shares(total(surveyed)), "", *_codes(surveyed)]
    for name in shown:
        lines += ["", *(_kept(surveyed) if name == KEPT else _findings(surveyed, name))]
    return "\n".join(lines) + "\n"


def write_survey_json(surveyed: Sequence[Surveyed], shown: Sequence[str] = ()) -> str:
    """The same as JSON, lines and columns counted from 1."""
    data = {
        "files": [{"file": one.name, "terms": one.terms, **_numbers(one)} for one in surveyed],
        "total": asdict(total(surveyed)),
        "codes": [{"code": code, "severity": severity, "number": number} for code, severity, number in codes(surveyed)],
        "shown": {
            name: [
                *(_kept_data(one, kept) for one in surveyed for kept in one.kept if name == KEPT),
                *(_finding_data(one, finding) for one in surveyed for finding in one.findings if finding.code == name),
            ]
            for name in shown
        },
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _numbers(one: Surveyed) -> dict[str, int]:
    severities = [finding.severity.value for finding in one.findings]
    return {**asdict(one.figures), "errors": severities.count("error"), "warnings": severities.count("warning")}


def _table(surveyed: Sequence[Surveyed]) -> Iterator[str]:
    width = max((len(one.name) for one in surveyed), default=4)
    yield f"{'file':<{width}}  terms  " + "  ".join(f"{head:>8}" for head in _HEADS)
    sums = dict.fromkeys(_HEADS, 0)
    for one in surveyed:
        numbers = _row_of(one)
        sums = {head: sums[head] + numbers[head] for head in _HEADS}
        yield f"{safe(one.name):<{width}}  {one.terms or '-':<5}  " + _columns(numbers)
    yield f"{f'{len(surveyed)} files':<{width}}  {'':<5}  " + _columns(sums)


def _row_of(one: Surveyed) -> dict[str, int]:
    numbers = _numbers(one)
    return {head: numbers[{"agree": "agreeing", "disagree": "disagreeing"}.get(head, head)] for head in _HEADS}


def _columns(numbers: dict[str, int]) -> str:
    return "  ".join(f"{numbers[head]:>8}" for head in _HEADS)


def _shares(figures: Figures) -> Iterator[str]:
    read = figures.clauses - figures.kept
    stated = figures.agreeing + figures.disagreeing + figures.untold
    yield f"clauses read    {_share(read, figures.clauses)}"
    yield f"rows executed   {_share(figures.executed, figures.rows)}"
    if figures.open:
        yield f"rows open       {_share(figures.open, figures.rows)}"
    yield f"rows proved     {_share(figures.proved, figures.rows)}"
    yield f"counts agree    {_share(figures.agreeing, stated)}"
    if figures.unreadable:
        yield f"not readable    {figures.unreadable} of {figures.files} files"


def _share(part: int, whole: int) -> str:
    return f"{part} of {whole}" + (f" ({100 * part / whole:.1f}%)" if whole else "")


def _codes(surveyed: Sequence[Surveyed]) -> Iterator[str]:
    found = codes(surveyed)
    width = max((len(code) for code, _, _ in found), default=0)
    for code, severity, number in found:
        yield f"{severity:<8} {code:<{width}} {number:>6}"


def _kept(surveyed: Sequence[Surveyed]) -> Iterator[str]:
    """Each wording once, the most frequent first, with the first place it stands at."""
    places: dict[str, list[str]] = {}
    for one in surveyed:
        for kept in one.kept:
            places.setdefault(kept.words, []).append(_where(one, kept.span))
    yield f"{sum(map(len, places.values()))} clauses kept verbatim"
    for words, where in sorted(places.items(), key=lambda entry: -len(entry[1])):
        yield f"{len(where):>5}  {safe(words)}   [{safe(where[0])}]"


def _findings(surveyed: Sequence[Surveyed], code: str) -> Iterator[str]:
    found = [(one, finding) for one in surveyed for finding in one.findings if finding.code == code]
    yield f"{len(found)} findings: {code}"
    for one, finding in found:
        yield ""
        yield f"{safe(_where(one, finding.span))} {finding.severity}: {safe(finding.message)}"
        row = one.row_at(finding.span)
        yield from (f"    {safe(line)}" for line in (_said(row), finding.because, finding.hint) if line)


def _said(row: Row | None) -> str:
    return " ".join(row.said.split()) if row is not None else ""


def _where(one: Surveyed, span: Span) -> str:
    return one.name if span.line < 0 else f"{one.name}:{span.for_people[0]}"


def _kept_data(one: Surveyed, kept: Kept) -> dict[str, object]:
    line, column = kept.span.for_people
    return {"file": one.name, "line": line, "column": column, "words": kept.words}


def _finding_data(one: Surveyed, finding: Finding) -> dict[str, object]:
    line, column = finding.span.for_people
    said = _said(one.row_at(finding.span))
    about = {"message": finding.message, "because": finding.because, "hint": finding.hint, "row": said}
    return {"file": one.name, "line": line, "column": column, "severity": finding.severity, **about}
