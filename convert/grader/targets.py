"""What each size should measure: its own targets, and those that it gets from a body and ease."""

from __future__ import annotations

from difflib import get_close_matches

from msgspec.structs import replace

from convert.document.lengths import Length
from convert.document.records import Document
from convert.document.sizing import BodyTarget, Measure, Size
from convert.findings import Finding, Severity
from convert.trade.bodies import BodyMeasure, bodies, body, ease


def with_targets(document: Document) -> tuple[tuple[Size, ...], tuple[Finding, ...]]:
    """The sizes with every target. One that a size gives itself goes before that of its body."""
    findings: list[Finding] = []
    sizes = tuple(_with_targets(size, document, findings) for size in document.sizes)
    return sizes, tuple(findings)


def unit_of(document: Document) -> str:
    """Inches where the gauge is given in inches, else centimetres: which column of the tables is used."""
    return "in" if document.gauge is not None and document.gauge.over.unit == "in" else "cm"


def _with_targets(size: Size, document: Document, findings: list[Finding]) -> Size:
    if not size.body:
        return size
    measures = body(size.body)
    if measures is None:
        findings.append(_unknown(size))
        return size
    own = {target.name for target in size.target}
    made: list[Measure] = []
    for wanted in document.from_body:
        if wanted.target in own:
            continue
        if wanted.body not in measures:
            findings.append(_no_measure(wanted, size, tuple(measures)))
            continue
        made.append(Measure(wanted.target, target_of(wanted, measures[wanted.body], unit_of(document))))
    return replace(size, target=(*size.target, *made))


def target_of(wanted: BodyTarget, measure: BodyMeasure, unit: str) -> Length:
    """The measurement and its ease."""
    found = measure.length(unit)
    cm = found.cm
    if wanted.fit:
        cm += ease(wanted.fit, unit).cm
    if wanted.ease is not None:
        cm += wanted.ease.cm
    if wanted.less is not None:
        cm -= wanted.less.cm
    return Length(cm, unit)


def _unknown(size: Size) -> Finding:
    near = get_close_matches(size.body.casefold(), bodies(), 1, 0.5)
    return Finding(
        "unknown-body",
        Severity.ERROR,
        f"No table of bodies has “{size.body}”.",
        size.span,
        (size.id,),
        expected="a table and a size of it, such as “child 4”",
        found=size.body,
        hint=f"Did you mean “{near[0]}”?" if near else "Tables: women, men, child, baby, head, blanket.",
    )


def _no_measure(wanted: BodyTarget, size: Size, known: tuple[str, ...]) -> Finding:
    return Finding(
        "unknown-body",
        Severity.ERROR,
        f"The body “{size.body}” has no measurement “{wanted.body}”.",
        wanted.span,
        (size.id,),
        expected=", ".join(known),
        found=wanted.body,
        hint="Use one of its measurements, or give the size the target itself.",
    )
