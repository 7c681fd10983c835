"""Reads one line of pattern language into a row."""

from __future__ import annotations

import re

from msgspec import Struct
from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import CountItem, Label, Row, RowKind, Special
from convert.document.steps import (
    Again,
    Chain,
    ChangeColour,
    Counts,
    FastenOff,
    Join,
    Origin,
    Step,
    Turn,
    Until,
    Verbatim,
    Work,
)
from convert.findings import Finding, Severity
from convert.instructions.chains.rings import with_ring, with_round_for_around, with_short_ring
from convert.instructions.clauses import read_items
from convert.instructions.counts.stated import read_stated
from convert.instructions.counts.stated_asides import spaces_between
from convert.instructions.counts.stated_midway import with_midway
from convert.instructions.counts.two_sizes import with_count_told
from convert.instructions.repeats.settling import settle
from convert.instructions.rows.foundations import name_length
from convert.instructions.rows.label import label_match, read_label
from convert.instructions.rows.one_at_a_time import with_rest_left
from convert.instructions.rows.passes import is_only_back, is_way_back
from convert.instructions.stitches.bare_stitch import all_along
from convert.instructions.stitches.names import names_behind, told_by_steps
from convert.instructions.stitches.only_named import named_in_passing
from convert.instructions.stitches.spelled_rows import with_spelled
from convert.instructions.stitches.wraps import by_wraps
from convert.instructions.words.cursor import Context, Counting, Cursor
from convert.instructions.words.lexicon import lexemes
from convert.instructions.words.said import with_terms
from convert.instructions.words.size_names import read_sizes, sizes_in_front
from convert.instructions.words.slips import slips_in
from convert.instructions.words.tokens import has_look_alikes
from convert.limits import LIMITS
from convert.source import Passage
from convert.trade.patterns import listed

__all__ = ["Context", "RowRead", "read_row", "read_steps", "row_label_length", "with_specials"]

_HEADING = re.compile(r"\s*([A-Z][A-Z'’ -]{2,30}):\s+(?=\S)")
"""What is begun with the row, between its label and what is worked: "Next row. BRIM: sc in ..."."""
_FOR_SIZES = re.compile(rf"\s*{sizes_in_front()}", re.IGNORECASE)


class RowRead(Struct, frozen=True):
    """A row as read: the tree, what was found wrong in the wording, and how much of it was understood."""

    row: Row
    findings: tuple[Finding, ...] = ()
    clauses: int = 0
    verbatim_clauses: int = 0
    specials: tuple[Special, ...] = ()
    """Stitches that the row explains in brackets where it first uses them."""


def with_specials(context: Context, specials: tuple[Special, ...]) -> Context:
    """The context with further stitches; one known already keeps its definition, and may be called otherwise."""
    given = {special.id: special for special in specials}
    known = {special.id for special in context.specials}
    old = tuple(_called(special, given.get(special.id)) for special in context.specials)
    new = tuple(special for special in given.values() if special.id not in known)
    return replace(context, specials=(*old, *new))


def _called(special: Special, anew: Special | None) -> Special:
    """The stitch with its new name, if a row only calls it otherwise."""
    same = anew is not None and bool(anew.steps) and anew.steps == special.steps and anew.name == special.name
    return anew if anew is not None and same else special


def row_label_length(text: str) -> int:
    """The length of a row label at the start of a text; 0 if there is none.

    >>> row_label_length("Rnd 3: Sc in each st."), row_label_length("Sew on the ears.")
    (7, 0)
    """
    match = label_match(text)
    return match.end() if match else 0


def read_row(passage: Passage, context: Context) -> RowRead:
    """A whole line with its label: "Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18 sc)"."""
    if len(passage.text) > LIMITS.row:
        return _too_long(passage)
    sized, sizes = _sizes_in_front(passage.text, context)
    rest = passage.cut(sized) if sizes else passage
    label, length, labelled_sizes, unread = read_label(rest, context)
    body = rest.cut(length)
    named = 0 if length else name_length(body.text)
    front: Prose = (body.text[:named].strip(),) if named else ()
    body = body.cut(named)
    heading = _HEADING.match(body.text) if length else None
    if heading is not None and _is_heading(heading[1], context):
        body = body.cut(heading.end())
        unread = (*unread, heading[1])
    behind, behind_sizes = (0, ()) if sizes or labelled_sizes else _sizes_in_front(body.text, context)
    body = body.cut(behind) if behind_sizes else body
    colours = tuple(ChangeColour(word, label.span) for word in unread if _is_colour(word, context))
    counted = [word for word in unread if any(map(str.isalpha, word)) or _counts_each(word, label, context)]
    counts = {word: found for word in counted if (found := read_count(Passage.at(f"({word})", 0, 0), context))}
    words = [word for word in unread if not _is_colour(word, context) and word not in counts]
    before: Prose = (f"({'; '.join(words)})",) if words else front
    read = _read(passage, label, body, context, sizes or labelled_sizes or behind_sizes, before)
    read = _with_length(read, words)
    if context.passes and label.numbers and (any(map(is_way_back, words)) or is_only_back(read.row.steps)):
        return _second_pass(read, body)
    stated = tuple(replace(item, span=label.span) for found in counts.values() for item in found)
    if not (colours or stated):
        return read
    row = replace(read.row, steps=(*colours, *read.row.steps), stated=(*stated, *read.row.stated))
    return replace(read, row=row)


def _is_colour(word: str, context: Context) -> bool:
    """Whether a word in a label calls the yarn of its rows."""
    return word in context.colours or word.casefold() in listed("colours")


def _with_length(read: RowRead, words: list[str]) -> RowRead:
    """ "Rows 4 to desired length: Rep Rows 2 and 3": rows that are worked again, as long as the label says."""
    onwards = next((word for word in words if word.casefold() in listed("open_lengths")), None)
    first = read.row.steps[0] if read.row.steps else None
    if onwards is None or not isinstance(first, Again) or first.times is not None or first.until is not None:
        return read
    again = replace(first, until=Until(words=onwards))
    before = tuple(word for word in read.row.before if word != f"({onwards})")
    return replace(read, row=replace(read.row, steps=(again, *read.row.steps[1:]), before=before))


def _second_pass(read: RowRead, body: Passage) -> RowRead:
    """The way back of a row that is told in a line of its own, under the number of the first pass."""
    steps = (Verbatim((body.text,), True, body.whole),)
    row = replace(read.row, label=replace(read.row.label, continued=True), steps=steps, stated=())
    return replace(read, row=row, verbatim_clauses=0)


def _is_heading(said: str, context: Context) -> bool:
    """Whether words in capitals name a piece, or mean nothing in a row: "NECKBAND", and not "SC"."""
    words = lexemes(said, context.system, context.specials)
    return all(word.kind == "unknown" or (word.kind == "word" and word.id == "piece") for word in words)


def _counts_each(figures: str, label: Label, context: Context) -> bool:
    """Whether figures behind a label are counts of every row that it names, or of every size."""
    return len(re.findall(r"\d+", figures)) in (len(label.numbers), len(context.sizes))


def _sizes_in_front(text: str, context: Context) -> tuple[int, tuple[str, ...]]:
    """The length of "For sizes M and L only:" at the start of a text, and the sizes it names."""
    match = _FOR_SIZES.match(text) if context.sizes else None
    sizes = read_sizes(match.group(1), context) if match else ()
    return (match.end(), sizes) if match else (0, ())


def read_count(passage: Passage, context: Context) -> tuple[CountItem, ...]:
    """The stated count that a bracket is, if it is one with its noun: "(24 sts)"."""
    inside = passage.text[1:-1].lstrip("= ")
    if not inside[:1].isdigit() or inside.isdigit():
        return ()
    cur = Cursor(passage, lexemes(passage.text, context.system, context.specials), context)
    return tuple(cur.stated) if read_stated(cur) and cur.done else ()


def read_steps(passage: Passage, context: Context, *, row: bool = False) -> RowRead:
    """Instructions without a label, such as the definition of a stitch. `row` tells that they are a whole row."""
    if len(passage.text) > LIMITS.row:
        return _too_long(passage)
    read = _read(passage, Label(), passage, context, (), ())
    return replace(read, row=replace(read.row, steps=all_along(read.row.steps, passage, context))) if row else read


_ROUND = re.compile(r"\bround\b", re.IGNORECASE)
"""Where it does not stand, it cannot be meant for "around"."""


def _read(
    passage: Passage, label: Label, body: Passage, context: Context, sizes: tuple[str, ...], before: Prose
) -> RowRead:
    known = context.specials
    named = (*by_wraps(body, context), *named_in_passing(body, context))
    context = with_specials(context, named) if named else context
    words = with_short_ring(lexemes(body.text, context.system, context.specials), label, context)
    cur = Cursor(body, with_round_for_around(words) if _ROUND.search(body.text) else words, context)
    cur.defined += named
    cur.sizes = len(sizes)
    cur.around = label.kind.is_round
    cur.rows = len(label.numbers) or (label.repeat if isinstance(label.repeat, int) else 1)
    cur.last_row = label.numbers[-1] if label.numbers and label.ends is None else 0
    steps = with_spelled(with_ring(settle(read_items(cur), cur), cur), cur)
    steps = with_rest_left(with_count_told(steps, cur)) if cur.alone else with_count_told(steps, cur)
    steps = all_along(steps, body, context) if label.kind is not RowKind.UNLABELLED else steps
    if named:
        cur.defined = [s if s.steps else told_by_steps(s, steps, context.specials) for s in cur.defined]
    if "(" in body.text:
        cur.defined += names_behind(steps, cur)
    steps = with_midway(steps, tuple(cur.stated), cur) if len(cur.stated) > 1 else steps
    steps, spaces = _with_spaces(_with_counting(steps, cur), label, cur)
    steps = with_terms(steps, context.system, known)
    row = Row(
        label, steps, _told_early((*cur.stated, *spaces), steps), sizes, before, said=passage.text, span=passage.whole
    )
    brackets = (*_unclosed(body), *_look_alikes(passage), *slips_in(passage, cur))
    return RowRead(row, (*cur.findings, *brackets), cur.clauses, cur.verbatim, tuple(cur.defined))


def _told_early(stated: tuple[CountItem, ...], steps: tuple[Step, ...]) -> tuple[CountItem, ...]:
    """The counts, with those marked that stand between the work of a line and rows that it has worked again."""
    if not stated or not any(isinstance(step, Again) for step in steps):
        return stated
    works = [step.span for step in steps if not isinstance(step, Verbatim | Join | Turn | FastenOff | ChangeColour)]
    return tuple(
        replace(item, early=any(span < item.span for span in works) and any(item.span < span for span in works))
        for item in stated
    )


def _with_counting(steps: tuple[Step, ...], cur: Cursor) -> tuple[Step, ...]:
    """The steps with what the stated count says of their beginning chain; its words alone where no chain is there of
    which that can be true.
    """
    told = cur.counting
    if told is None:
        return steps
    at = next((index for index, step in enumerate(steps) if isinstance(step, Chain)), None)
    first = steps[at] if at is not None else None
    if at is None and (told.counts == Counts() or _begins_at_hook(steps)):
        return _with_words(steps, told, inert=True)  # no chain is there that could be counted
    if isinstance(first, Chain) and told.counts == Counts("st") and first.counts not in (None, Counts()):
        return steps  # the chain says itself which stitch it counts as
    if at is None or not isinstance(first, Chain) or first.counts not in (None, told.counts):
        cur.verbatim += 1
        return _with_words(steps, told, inert=False)
    return (*steps[:at], replace(first, counts=told.counts), *steps[at + 1 :])


def _with_words(steps: tuple[Step, ...], told: Counting, *, inert: bool) -> tuple[Step, ...]:
    """The steps with the words of a count where they stood."""
    at = next((index for index, step in enumerate(steps) if step.span > told.span), len(steps))
    return (*steps[:at], Verbatim((told.words,), inert, told.span), *steps[at:])


def _begins_at_hook(steps: tuple[Step, ...]) -> bool:
    """Whether the first stitch goes past chains at the hook, which may well be the stitch that is counted with them."""
    first = next((step for step in steps if isinstance(step, Work)), None)
    place = first.place if first is not None else None
    return place is not None and place.origin is Origin.HOOK and (place.nth or 1) > 1


def _with_spaces(steps: tuple[Step, ...], label: Label, cur: Cursor) -> tuple[tuple[Step, ...], list[CountItem]]:
    """The spaces "between every dc" of a stated count; the words alone where nothing tells whether the row is flat."""
    joined, turned = (any(isinstance(step, kind) for step in steps) for kind in (Join, Turn))
    flat = False if joined or label.kind.is_round else True if turned else None
    if flat is not None:
        return steps, [spaces_between(between, flat=flat) for between in cur.between]
    return (*steps, *(Verbatim((between.words,), True, between.span) for between in cur.between)), []


def _look_alikes(passage: Passage) -> tuple[Finding, ...]:
    """Letters of another alphabet that look like Latin ones: understood, and reported, since a search will not
    find them.
    """
    if passage.text.isascii() or not has_look_alikes(passage.text):
        return ()
    at = next(i for i, char in enumerate(passage.text) if has_look_alikes(char))
    return (
        Finding(
            "look-alike-letters",
            Severity.NOTE,
            "The row has letters of another alphabet that look like Latin ones.",
            passage.span(at, at + 1),
            expected="Latin letters",
            found=passage.text[at],
            hint="Type the word anew. It was read as what it looks like.",
        ),
    )


_BRACKET = re.compile(r"[()\[\]]")


def _unclosed(body: Passage) -> tuple[Finding, ...]:
    """Brackets that do not close or were never opened."""
    closers = {")": "(", "]": "["}
    open_at: list[tuple[str, int]] = []
    found: list[Finding] = []
    for match in _BRACKET.finditer(body.text):
        offset, char = match.start(), match.group()
        if char in "([":
            open_at.append((char, offset))
        elif open_at and open_at[-1][0] == closers[char]:
            open_at.pop()
        else:
            found.append(_bracket_finding(body, char, offset, "never opened", closers[char]))
    for char, offset in open_at:
        found.append(_bracket_finding(body, char, offset, "never closed", {"(": ")", "[": "]"}[char]))
    return tuple(found[:1])


def _bracket_finding(body: Passage, char: str, offset: int, what: str, partner: str) -> Finding:
    return Finding(
        "unclosed-bracket",
        Severity.ERROR,
        f"The bracket {char} is {what}.",
        body.span(offset, offset + 1),
        expected=partner,
        found="none",
        hint=f"Put the missing {partner} where the part in brackets {'begins' if partner in '([' else 'ends'}.",
    )


def _too_long(passage: Passage) -> RowRead:
    finding = Finding(
        "row-too-long",
        Severity.ERROR,
        f"This row has {len(passage.text):,} characters; more than {LIMITS.row:,} are not read.",
        passage.span(0, 1),
        hint="Split it into several rows.",
    )
    row = Row(Label(), (Verbatim((passage.text,), span=passage.whole),), said=passage.text, span=passage.whole)
    return RowRead(row, (finding,), 1, 1)
