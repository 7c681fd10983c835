"""Parts of a pattern from the sections of a text as typed: rows are read, what is no row becomes a remark."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number, PerSize
from convert.document.records import Label, Part, Remark, Row, RowKind, Side, Special, Worked
from convert.document.resolving import with_all_sizes
from convert.document.slugs import free_slug
from convert.document.steps import (
    Again,
    Begin,
    Chain,
    ChangeColour,
    Decrease,
    Group,
    Join,
    Origin,
    Repeat,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    Work,
)
from convert.findings import Finding
from convert.importers.making import named
from convert.importers.short_labels import with_rounds
from convert.importers.typed.conventions import is_spiral, read_convention, sentences, tells_of_chain
from convert.importers.typed.for_sizes import ForSizes
from convert.importers.typed.rounds import ended_apart, rounds_apart, with_rings
from convert.importers.typed.sections import Section
from convert.importers.typed.stitches import define_named
from convert.importers.typed.units import DEFINES, Kind, Unit, label_length, numbered_length
from convert.importers.typed.words import entries, spaced
from convert.importers.typed.yarn import yarn_apart
from convert.instructions.chains.rings import works_into_ring
from convert.instructions.reader import Context, RowRead, read_row, read_steps, row_label_length, with_specials
from convert.instructions.rows.label import numbers_in
from convert.instructions.stitches.plain import worked_in
from convert.source import Passage
from convert.terms.prose import read_prose
from convert.trade.patterns import either, number_words, said

_READ = 3
"""One clause in so many has to be read for a paragraph to be taken for instructions."""
_BRACKET = re.compile(r"\((?:[A-Za-z’'-]+\s?){1,6}\)(?=\s|\Z)")
_FABRIC = (Work, Group, Chain, Decrease, Repeat, Begin, Again)


class PartRead(Struct, frozen=True):
    """A part, what was found in its rows, and how much of them was understood."""

    part: Part
    findings: tuple[Finding, ...]
    clauses: int
    verbatim_clauses: int
    specials: tuple[Special, ...] = ()
    """Stitches that rows explain where they first use them."""
    around: bool = False
    """The work goes around at its end."""


def reads_as_steps(passage: Passage, context: Context) -> bool:
    """Whether a passage is instructions: a third of its clauses at least are read, and one of them makes fabric."""
    if tells_of_chain(passage.text):  # "Ch 1 is not a stitch." tells how rows are counted and works nothing
        told = sentences(passage)
        work = [sentence for sentence in told if not _is_convention(sentence, context)]
        if len(work) < len(told):
            return any(reads_as_steps(sentence, context) for sentence in work)
    read = read_steps(passage, context)
    made = [step for step in read.row.steps if not _says_only(step)]
    if not made or not read.clauses:
        return False
    if not read.verbatim_clauses:
        return True
    return _READ * (read.clauses - read.verbatim_clauses) >= read.clauses and any(
        isinstance(step, _FABRIC) for step in made
    )


def _is_convention(sentence: Passage, context: Context) -> bool:
    convention = read_convention(sentence, context.system)
    return convention is not None and convention.whole


def _says_only(step: Step) -> bool:
    """Whether a step is words alone: kept as they stood, or pointing to work told elsewhere."""
    if isinstance(step, Again):
        return not (step.first or step.even or step.reached)
    return isinstance(step, Verbatim)


def opens_work(passage: Passage, context: Context) -> bool:
    """Whether a passage begins a piece of work, with a foundation or a ring."""
    if not reads_as_steps(passage, context):
        return False
    steps = read_steps(passage, context).row.steps
    made = [step for step in steps if not isinstance(step, Verbatim | ChangeColour)]
    begun = any(isinstance(step, Begin) for step in made[:2]) or _on_own_chain(made) or _is_foundation(made)
    return begun or _begins_as_another(made)


def _begins_as_another(steps: Sequence[Step]) -> bool:
    """Whether the piece is begun as another one: "Work as for first star through Rnd 4", on its own chain or not."""
    own = len(steps) > 1 and _is_foundation(steps[:1])
    first = steps[own] if steps else None
    return isinstance(first, Again) and first.first == 1 and bool(first.words)


def _is_foundation(steps: Sequence[Step]) -> bool:
    """Whether the steps are a foundation chain and nothing else: "Make a chain of 20 stitches, turn"."""
    chain = steps[0] if steps else None
    made = isinstance(chain, Chain) and chain.counts is None and _is_long(chain.number)
    return made and all(isinstance(step, Turn | Join) or _says_only(step) for step in steps[1:])


def _is_long(number: Number) -> bool:
    """Whether a piece of work may begin with so many chains, in every size that has a number."""
    each = number.values if isinstance(number, PerSize) else (number,)
    return all(value is None or (isinstance(value, int) and value >= _CHAIN) for value in each)


_CHAIN = 3
"""The fewest chains that a piece of work begins with."""


def _on_own_chain(steps: Sequence[Step]) -> bool:
    """Whether the steps begin with a foundation chain and work back along it: "Ch 11, sc in 2nd ch from hook"."""
    worked = steps[1] if len(steps) > 1 and isinstance(steps[0], Chain) else None
    return isinstance(worked, Work | Slip) and worked.place is not None and worked.place.origin is Origin.HOOK


def _pieces(section: Section, context: Context) -> Iterator[tuple[Unit, Passage | None]]:
    """The units of a section, each round by itself, with the heading that stands before it within the part."""
    for index, unit in enumerate(section.units):
        whole = yarn_apart(unit, lambda passage: reads_as_steps(passage, context))
        lines = [part for line in whole for part in ended_apart(line, lambda passage: reads_as_steps(passage, context))]
        for number, piece in enumerate(piece for line in lines for piece in rounds_apart(line, context)):
            yield piece, None if number else section.befores.get(index)


def is_colour_sequence(section: Section, context: Context) -> bool:
    """Whether the rows of a section only say with which yarn they are worked: "Rows 1-2: A. Rows 3-4: B."."""
    rows = [unit.passage.text for unit in section.units if unit.kind is Kind.ROW]
    named = [row[label_length(row) :].strip(" .") for row in rows]
    return len(rows) > 1 and len(rows) == len(section.units) and all(_is_yarn(word, context) for word in named)


def _is_yarn(word: str, context: Context) -> bool:
    """Whether a word names a yarn: one of the list, or a single capital letter."""
    return word in context.colours or (len(word) == 1 and word.isupper())


def read_part(
    section: Section, name: Passage | str, taken: set[str], context: Context, *, spiral: bool, rounds: bool
) -> PartRead:
    """A part from its section.

    `spiral` tells that the pattern works all its rounds in a spiral, `rounds` that an earlier part has rounds.
    """
    said = name if isinstance(name, str) else name.text
    title, make = named(said)
    items: list[Row | Remark] = []
    defined: list[Special] = []
    reads: list[RowRead] = []
    sized = ForSizes(context)
    sized.takes(title)
    for unit, heading in _pieces(section, context):
        before = None if heading is not None and sized.takes(heading.text) else heading
        special = define_named(unit.passage, context) if _may_define(unit) else None
        if special is not None:
            defined.append(special)
            context = with_specials(context, (special,))
            continue
        read = _row(unit, context, items)
        if read is None and sized.takes(unit.passage.text):
            continue
        if read is None:
            if before is not None:
                items.append(_remark(before, context))
            items += [_remark(passage, context, sized.ends(passage.text)) for passage in entries([unit])]
        else:
            reads.append(read)
            row = with_all_sizes(sized.applied(sized.under(unit.passage, read.row)), [id for id, _ in context.sizes])
            items.append(_with_before(row, before, context))
            sized.ends_behind(row)
            context = with_specials(context, read.specials)
            context = replace(
                context,
                stitch=worked_in(read.row.steps, context.stitch, context.system),
                around=_goes_around(read.row, context),
                shaped=_SHAPED.get(read.row.label.kind, ""),
            )
    for index in sorted(i for i in section.befores if i >= len(section.units)):
        items.append(_remark(section.befores[index], context))
    span = name.whole if isinstance(name, Passage) else section.units[0].passage.whole
    spiral = spiral or is_spiral(said) or any(isinstance(i, Remark) and is_spiral(_text(i)) for i in items)
    told = with_rounds(with_rings(items), before=rounds)
    part = Part(free_slug(title, "part", taken), title, told, _worked(told, spiral), make, span=span)
    findings = tuple(
        finding
        for index, read in enumerate(reads)
        for finding in read.findings
        if finding.code != "unclosed-mark" or not _referred_to(finding, reads[index + 1 :])
    )
    specials = (*defined, *(special for read in reads for special in read.specials))
    clauses, verbatim = sum(r.clauses for r in reads), sum(r.verbatim_clauses for r in reads)
    return PartRead(part, findings, clauses, verbatim, specials, context.around)


_SHAPED = {
    RowKind.DECREASE_ROW: "dec",
    RowKind.DECREASE_ROUND: "dec",
    RowKind.INCREASE_ROW: "inc",
    RowKind.INCREASE_ROUND: "inc",
}
"""By which stitch a row is called that has no number."""


def _may_define(unit: Unit) -> bool:
    """Whether a line may tell what a stitch is: "picot = ch 3, ...", "Picot: ch 3, sl st in 3rd ch from hook"."""
    text = unit.passage.text
    return bool(DEFINES.match(text) or (unit.kind is Kind.TEXT and _NAMED.match(text)))


_NAMED = re.compile(r"[A-Za-z][A-Za-z -]{1,24}:\s")


def _goes_around(row: Row, context: Context) -> bool:
    """Whether the work goes around behind a row, as far as the labels tell so far."""
    told = row.label.kind.is_round
    return context.around if told is None else told


def _referred_to(finding: Finding, later: Sequence[RowRead]) -> bool:
    """Whether a later row refers to the mark that a row leaves open: "repeat from ** to end of 1st point"."""
    steps = [step for read in later for step in read.row.steps if isinstance(step, Again) and not step.first]
    words = {word for step in steps for part in step.words if isinstance(part, str) for word in part.split()}
    return any(f" {word} " in finding.message for word in words if not any(char.isalnum() for char in word))


def _text(remark: Remark) -> str:
    return " ".join(word for word in remark.words if isinstance(word, str))


def _row(unit: Unit, context: Context, items: Sequence[Row | Remark]) -> RowRead | None:
    """The row that a unit is; None if it is none."""
    if unit.kind is Kind.ROW:
        return read_row(unit.passage, context)
    if unit.kind is Kind.NUMBERED:
        return _numbered_row(unit.passage, context, items)
    if reads_as_steps(unit.passage, context):
        named = row_label_length(unit.passage.text) and not label_length(unit.passage.text)
        return read_steps(unit.passage, context) if named else read_row(unit.passage, context)
    if _rows_more().search(unit.passage.text):
        return read_row(unit.passage, context)  # not understood, and no remark: the rows behind stand on others
    return None


@cache
def _rows_more() -> re.Pattern[str]:
    """ "Do that hem round 3 more times": further rows, in words of the author's own."""
    number = rf"(?:\d{{1,3}}|{either(number_words())})"
    times = rf"{number}\s(?:{said('more')}\s{said('times')}|{said('times')}\s{said('more')})"
    more = rf"(?:{times}|{said('once', 'twice', 'thrice')}\s{said('more')})"
    rows = said("row", "round")
    return re.compile(rf"\b{rows}\b[^.!?]{{0,60}}\b{more}\b|\b{more}\b[^.!?]{{0,30}}\b{rows}\b", re.IGNORECASE)


_STOPS = re.compile(r"[().]")
"""What stands around each number of a label: "(4)-(6)", "4. - 6."."""


_BRACKETED = re.compile(r"\(([^\d()]+)\)")
_SIDES = {"RS": Side.RIGHT, "WS": Side.WRONG}
"""The side that faces the maker, in brackets behind the number: "1 (RS):"."""


def _numbered_row(passage: Passage, context: Context, items: Sequence[Row | Remark]) -> RowRead:
    """A row whose label is its number alone. It is a round where it, or the work before it, goes around a ring."""
    length = numbered_length(passage.text)
    aside = _aside(passage.cut(length), context)
    read = read_steps(passage.cut(length).cut(len(aside)), context, row=True)
    first, last, rest = numbers_in(_STOPS.sub("", passage.text[:length]))
    steps = [step for item in items if isinstance(item, Row) for step in item.steps] + list(read.row.steps)
    ring = any(
        isinstance(s, Join) or (isinstance(s, Begin) and s.start in (Start.CHAIN_RING, Start.ADJUSTABLE_RING))
        for s in steps
    )
    ring = ring or works_into_ring(tuple(steps))
    goes_on = context.around and not any(isinstance(step, Chain | Begin | Turn) for step in steps)
    label = Label(
        RowKind.ROUND if ring or goes_on else RowKind.ROW,
        first,
        None if last == first else last,
        rest,
        side=next((side for letters, side in _SIDES.items() if letters in passage.text[:length]), None),
        span=passage.span(0, length),
    )
    row = replace(read.row, label=label, said=passage.text, span=passage.whole)
    named = _BRACKETED.search(passage.text[:length])
    if named is not None and named.group(1) not in _SIDES:  # "2 (orange)."
        row = replace(row, before=(f"({named.group(1)})", *row.before))
    return replace(read, row=replace(row, before=(aside, *row.before)) if aside else row)


def _aside(passage: Passage, context: Context) -> str:
    """ "(buttonholes)" behind the number of a row: words in brackets of which nothing is worked."""
    found = _BRACKET.match(passage.text)
    read = read_steps(passage.cut(0, found.end()), context) if found else None
    kept = read is not None and all(isinstance(step, Verbatim) for step in read.row.steps)
    return found.group() if found and kept else ""


def _with_before(row: Row, before: Passage | None, context: Context) -> Row:
    """The row with a heading that stood before it in the same paragraph."""
    if before is None:
        return row
    words = read_prose(spaced(before.text), context.system, context.specials)
    return replace(row, before=(*words, *((" ",) if row.before else ()), *row.before) if row.before else words)


def _remark(passage: Passage, context: Context, sizes: tuple[str, ...] = ()) -> Remark:
    return Remark(read_prose(spaced(passage.text), context.system, context.specials), sizes, passage.whole)


def _worked(items: Sequence[Row | Remark], spiral: bool) -> Worked:
    """How the part is worked, as far as its labels and joins tell."""
    rows = [item for item in items if isinstance(item, Row)]
    kinds = {row.label.kind.is_round for row in rows} - {None}
    if kinds == {False}:
        return Worked.ROWS
    if kinds != {True}:
        return Worked.UNSAID
    joined = any(isinstance(step, Join) for row in rows if row.label.first is not None for step in row.steps)
    if spiral and not joined:
        return Worked.SPIRAL
    return Worked.ROUNDS if joined else Worked.UNSAID
