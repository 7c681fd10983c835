"""Works pattern lines for the tests."""

from __future__ import annotations

from convert.document.records import Document, Part, Special, TermSystem, Worked
from convert.document.sizing import Size
from convert.fabric.parts.run import WorkedRow
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from convert.instructions.reader import Context, read_row, with_specials
from convert.source import Passage


def pattern(
    lines: list[str],
    sizes: tuple[str, ...] = (),
    worked: Worked = Worked.UNSAID,
    specials: tuple[Special, ...] = (),
    system: TermSystem = TermSystem.US,
    colours: tuple[str, ...] = (),
) -> Document:
    """A document with one part of these rows."""
    context = Context(system, specials, tuple((s, s) for s in sizes), colours)
    rows = []
    for index, line in enumerate(lines):
        read = read_row(Passage.at(line, index, 0), context)
        rows.append(read.row)
        context = with_specials(context, read.specials)
    return Document(
        "Test",
        "test",
        system,
        sizes=tuple(Size(s, s) for s in sizes),
        specials=context.specials,
        parts=(Part("p", "P", tuple(rows), worked),),
    )


def work(lines: list[str], **options: object) -> list[WorkedRow]:
    """The rows of the first size."""
    return list(work_document(pattern(lines, **options), {})[0].rows)  # type: ignore[arg-type]  # passed on as they are


def made(lines: list[str], **options: object) -> list[str]:
    """What each row made, in words; "?" where it is unknown."""
    found = []
    for worked in work(lines, **options):
        outcome = worked.outcome
        found.append(describe_strip(outcome.made) if outcome is not None and outcome.made is not None else "?")
    return found


def faults(lines: list[str], **options: object) -> list[str]:
    """The codes of what went wrong, row by row."""
    return [",".join(f.code for f in w.outcome.faults) if w.outcome else "" for w in work(lines, **options)]


def whys(lines: list[str], **options: object) -> list[str]:
    """Why it is unknown what a row makes, row by row; empty where it is known."""
    return [w.outcome.why if w.outcome else "" for w in work(lines, **options)]
