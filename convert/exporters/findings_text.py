"""Findings as text for a terminal: where, what, the line itself with marks under it, why, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from msgspec import Struct

from convert.exporters.display import Line, safe
from convert.fabric.results import Understood
from convert.findings import Finding, Severity
from convert.source import Source, Span

ROOM = 110
"""Columns of a source line that are shown; of a longer line, the stretches around its marks."""
_LINES = 3
"""Lines of one long stretch that are shown."""


class Paint(Struct, frozen=True):
    """The marks before and after coloured words; all empty without colour."""

    error: str = ""
    warning: str = ""
    note: str = ""
    quiet: str = ""
    strong: str = ""
    end: str = ""

    def of(self, severity: Severity) -> str:
        """The mark that begins words of this severity."""
        return {Severity.ERROR: self.error, Severity.WARNING: self.warning, Severity.NOTE: self.note}[severity]


PLAIN = Paint()
COLOUR = Paint("\x1b[1;31m", "\x1b[1;33m", "\x1b[1;36m", "\x1b[2m", "\x1b[1m", "\x1b[0m")


def write_finding(source: Source, finding: Finding, paint: Paint = PLAIN, room: int = ROOM) -> str:
    """One finding, ending with a line end. `room` is how many columns of a source line are shown.

    >>> source = Source("hat.md", "Rnd 1: 6 sc in ring. (7)")
    >>> print(
    ...     write_finding(
    ...         source,
    ...         Finding(
    ...             "count-mismatch",
    ...             Severity.ERROR,
    ...             "Round 1 makes 6 sc, but it says 7.",
    ...             Span(0, 7, 0, 19),
    ...             related=(Span(0, 21, 0, 24),),
    ...             hint="The count should be 6.",
    ...         ),
    ...     ),
    ...     end="",
    ... )
    hat.md:1:8 error: Round 1 makes 6 sc, but it says 7.  [count-mismatch]
    1 | Rnd 1: 6 sc in ring. (7)
      |        ^^^^^^^^^^^^  ^^^
    Hint: The count should be 6.
    """
    mark = f"{paint.of(finding.severity)}{finding.severity}{paint.end}"
    head = f"{paint.strong}{safe(_where(source, finding.span))}{paint.end} {mark}: {safe(finding.message)}"
    lines = [f"{head}  {paint.quiet}[{finding.code}]{paint.end}", *_quoted(source, finding, paint, room)]
    if finding.because:
        lines.append(safe(finding.because))
    if finding.hint:
        lines.append(f"Hint: {safe(finding.hint)}")
    return "\n".join(lines) + "\n"


def write_findings(source: Source, findings: Iterable[Finding], paint: Paint = PLAIN, room: int = ROOM) -> str:
    """All findings of one source, with a blank line after each."""
    return "".join(write_finding(source, finding, paint, room) + "\n" for finding in findings)


def _where(source: Source, span: Span) -> str:
    name = source.name.replace("\n", "\\n")
    if span.line < 0:
        return name
    line, column = span.for_people
    return f"{name}:{line}:{column}"


def _quoted(source: Source, finding: Finding, paint: Paint, room: int) -> list[str]:
    spans = [span for span in (finding.span, *finding.related) if span.line >= 0]
    text = _lines(source.text) if spans else ()
    numbers = sorted({number for span in spans for number in _lines_of(span) if number < len(text)})
    gutter = len(str(max(numbers, default=0) + 1))
    quoted: list[str] = []
    before = None
    for number in numbers:
        if before is not None and number > before + 1:
            quoted.append(f"{paint.quiet}{'.' * min(gutter, 3):>{gutter}} |{paint.end}")
        line = text[number].rstrip("\r")
        stretches = [stretch for span in spans if (stretch := _stretch(span, number, line)) is not None]
        for shown, marks in _pieces(Line(line), stretches, room):
            quoted.append(f"{paint.quiet}{number + 1:>{gutter}} |{paint.end} {shown}".rstrip())
            if marks:
                quoted.append(
                    f"{paint.quiet}{' ' * gutter} |{paint.end} {paint.of(finding.severity)}{marks}{paint.end}"
                )
        before = number
    return quoted


@lru_cache(maxsize=2)
def _lines(text: str) -> tuple[str, ...]:
    """The lines of a text, split once for all findings of a file."""
    return tuple(text.split("\n"))


def _lines_of(span: Span) -> Sequence[int]:
    return range(span.line, min(span.end_line, span.line + _LINES - 1) + 1)


def _pieces(line: Line, stretches: Sequence[tuple[int, int]], room: int) -> Iterator[tuple[str, str]]:
    """The line with the marks under it; a long line in several pieces, one for each group of marks."""
    waiting = sorted(stretches) or [(0, 0)]
    while waiting:
        start, end = line.window(waiting[0][0], room)
        here = [stretch for stretch in waiting if start <= stretch[0] < end or stretch == waiting[0]]
        waiting = [stretch for stretch in waiting if stretch not in here]
        before, after = "…" if start else "", "…" if end < len(line.text) else ""
        yield f"{before}{line.cut(start, end)}{after}", _marks(line, here if stretches else (), start, end, len(before))


def _stretch(span: Span, number: int, text: str) -> tuple[int, int] | None:
    """The offsets of a span on one line; None if it does not touch the line."""
    if not span.line <= number <= span.end_line:
        return None
    indent = len(text) - len(text.lstrip())
    start = span.column if number == span.line else indent
    end = span.end_column if number == span.end_line else len(text.rstrip())
    return start, max(end, start + 1)


def _marks(line: Line, stretches: Sequence[tuple[int, int]], start: int, end: int, shift: int) -> str:
    """Carets under the stretches, as far as they lie between the offsets `start` and `end`."""
    length = line.column(end) - line.column(start) + shift + 1
    marks = [" "] * length
    for first, last in stretches:
        if first > end or last < start:
            continue
        left = line.column(max(first, start)) - line.column(start) + shift
        right = line.column(min(last, end)) - line.column(start) + shift
        for column in range(left, max(right, left + 1)):
            marks[min(column, length - 1)] = "^"
    return "".join(marks).rstrip()


def counted(number: int, what: str, none: str = "no") -> str:
    """A number with its noun.

    >>> counted(1, "error"), counted(0, "error"), counted(1200, "row")
    ('1 error', 'no errors', '1,200 rows')
    """
    return f"{f'{number:,}' if number else none} {what}{'' if number == 1 else 's'}"


def write_summary(files: int, findings: Sequence[Finding], understood: Sequence[Understood]) -> str:
    """The closing line: files, findings, and how much of the rows was proved."""
    number = dict.fromkeys(Severity, 0)
    for finding in findings:
        number[finding.severity] += 1
    shown = [s for s in Severity if number[s] or s is not Severity.NOTE]
    parts = [counted(files, "file"), *(counted(number[severity], severity) for severity in shown)]
    rows = sum(u.rows for u in understood)
    proved = sum(u.proved_rows for u in understood)
    verbatim = sum(u.verbatim_rows for u in understood)
    if not rows:
        return f"{', '.join(parts)}; no rows.\n"
    proof = [f"{proved:,} proved"] if proved < rows else ["all proved"] if rows > 1 else ["proved"]
    if proved < rows:
        proof.append(f"{rows - proved:,} not proved")
    if verbatim:
        proof.append(f"{verbatim:,} not fully understood")
    return f"{', '.join(parts)}; {counted(rows, 'row')}: {', '.join(proof)}.\n"
