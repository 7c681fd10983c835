"""Writes instruction trees in clear standard wording, in either term system, for one size or for all."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.prose import Prose, Term
from convert.document.steps import (
    Again,
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Group,
    Join,
    JoinBy,
    Marker,
    MarkerAct,
    Origin,
    Place,
    Repeat,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    Until,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.instructions.chains.open_chain import write_open_length
from convert.instructions.repeats.repeat import is_one, plus
from convert.instructions.rows.again import set_off
from convert.instructions.words.asides import is_telling
from convert.instructions.writing.pieces import (
    counted_term,
    joined,
    posted,
    preposition,
    separated,
    stitch_term,
    word,
    worded,
    write_number,
    write_place,
)
from convert.instructions.writing.wording import Wording
from convert.source import NOWHERE
from convert.terms.naming import write_prose
from convert.trade.patterns import listed
from convert.trade.stitches import stitches


class InRow(Struct, frozen=True):
    """What the steps of a row need to know of it: "around" or "across", and how deep repeats stand."""

    wording: Wording
    ending: str = "around"
    stars: int = 0
    brackets: int = 0
    opening: ChangeColour | None = None
    """The step that takes up the first yarn of the part, where there is nothing to change from."""

    def deeper(self, *, stars: int = 0) -> InRow:
        """Inside a repeat that uses up this many signs, or (none) inside brackets."""
        return InRow(self.wording, self.ending, self.stars + stars, self.brackets + (not stars))


def definition(steps: tuple[Step, ...], wording: Wording) -> Prose:
    """How a special stitch is made. A single step goes into the stitch "indicated": the rows say which."""
    if len(steps) == 1 and isinstance(steps[0], Work | Group) and steps[0].place == Place():
        indicated = replace(steps[0], place=Place(What.PIECE, words=f"st {word('indicated', wording)}"))
        return write_sentences((indicated,), InRow(wording))
    return write_sentences(steps, InRow(wording))


def write_definition(steps: tuple[Step, ...], wording: Wording) -> str:
    """How a special stitch is made, as a text."""
    return write_prose(definition(steps, wording), wording.system, wording.specials)


def write_steps(steps: tuple[Step, ...], wording: Wording) -> str:
    """Steps without a label, as in a row of a shaping."""
    return write_prose(write_sentences(steps, InRow(wording)), wording.system, wording.specials)


def sentences(steps: tuple[Step, ...], wording: Wording) -> Prose:
    """Steps as a sentence in which the terms stay references."""
    return write_sentences(steps, InRow(wording))


def write_sentences(steps: tuple[Step, ...], inner: InRow) -> Prose:
    """The steps as a sentence that begins with a capital and ends with a full stop."""
    body = _list(steps, inner, whole=True)
    if not body:
        return ()
    body = _capital(body)
    last = body[-1]
    return body if isinstance(last, str) and last.endswith((".", "!", "?")) else joined(body, ".")


def _capital(body: Prose) -> Prose:
    first = body[0]
    if isinstance(first, Term):
        return (Term(first.id, first.form, first.legs, True), *body[1:])
    bare = first.lstrip("*[(")
    if not bare and len(body) > 1 and isinstance(body[1], Term):
        return (first, *_capital(body[1:]))
    at = len(first) - len(bare)
    return (first[:at] + bare[:1].upper() + bare[1:], *body[1:])


def _list(steps: tuple[Step, ...], inner: InRow, *, whole: bool = False) -> Prose:
    """Steps joined by commas; a semicolon stands before and after a repeat's "rep from". `whole`: they are all of a
    row, and words that were kept with a capital begin a sentence, as they did.
    """
    out: Prose = ()
    for index, step in enumerate(steps):
        within = _goes_with_next(steps, index)
        text = _beside(steps, index, inner) or write_step(step, replace(inner, ending="") if within else inner)
        if not index:
            out = text
            continue
        if whole and isinstance(step, Verbatim | Again) and _is_capital(text):
            out = joined(out, ". ", text)
        elif _leads(out):
            out = joined(out, " ", text)
        else:
            out = joined(out, *_between(steps[index - 1], step, text))
    return out


def _leads(text: Prose) -> bool:
    """Whether a text ends with a colon: what follows needs no comma."""
    return bool(text) and isinstance(text[-1], str) and text[-1].endswith(":")


def _is_capital(text: Prose) -> bool:
    """Whether a text begins with a word that has a capital, and is neither a letter alone nor in capitals."""
    first = text[0] if text else ""
    return isinstance(first, str) and first[:1].isupper() and first[1:2].islower()


def _beside(steps: tuple[Step, ...], index: int, inner: InRow) -> Prose:
    """A step whose words depend on those around it; empty for any other.

    A foundation chain is never what "counts as dc": its skipped end is, and that is said behind the stitch that skips
    it.
    """
    step = steps[index]
    if isinstance(step, Chain) and _skipped_end(steps, index):
        return _chain(replace(step, counts=None), inner)
    skipped = _skipped_end(steps, index - 1) if index else 0
    chain = steps[index - 1]
    if not skipped or not isinstance(chain, Chain) or chain.counts is None:
        return ()
    told = _counts(chain.counts, inner.wording)
    missed = joined(f" ({word('skipped', inner.wording)} ", Term("ch"), f"-{skipped} ")
    return joined(write_step(step, inner), missed, str(told[0]).removeprefix(" ("), *told[1:])


def _skipped_end(steps: tuple[Step, ...], index: int) -> int:
    """How many chains the stitch behind the chain at `index` skips, counted from the hook; 0 if it does not."""
    if index + 1 >= len(steps):
        return 0
    chain, work = steps[index], steps[index + 1]
    if not isinstance(chain, Chain) or chain.skipped or not isinstance(work, Work) or work.place is None:
        return 0
    return (work.place.nth or 1) - 1 if work.place.origin is Origin.HOOK else 0


def _between(before: Step, step: Step, text: Prose) -> tuple[str, Prose]:
    """The sign between two steps, and the second one's text.

    What behind "ending with ..." is not part of the ending begins a new sentence; words in brackets need no comma.
    """
    if _in_one_pass(before, step):
        return " and ", text
    if _goes_on(before, step) or _is_aside(step):
        return " ", text
    if is_telling(before) or is_telling(step):
        return ". ", _capital(text)
    open_ended = isinstance(before, Repeat) and before.ending is not None and before.ending.kind is EndingKind.WITH
    if open_ended and not isinstance(step, Join | Turn | FastenOff):
        return ". ", _capital(text)
    return ", ", text


def _goes_with_next(steps: tuple[Step, ...], index: int) -> bool:
    """Whether a step and the next are worked in one pass, whose end is told behind the last of them."""
    return index + 1 < len(steps) and _in_one_pass(steps[index], steps[index + 1])


def _in_one_pass(one: Step, other: Step) -> bool:
    """ "Dc in each dc and (2 dc, ch 1, 2 dc) in each ch-1 sp around": both go on side by side, and not one behind the
    other.
    """
    places = [step.place for step in (one, other) if isinstance(step, Work | Group) and step.place is not None]
    each = len(places) == len((one, other)) and all(p.which is Which.EACH and p.every == 1 for p in places)
    return each and {p.what for p in places} == {What.STITCH, What.SPACE}


def _goes_on(before: Step, step: Step) -> bool:
    """Whether kept words need no comma in front: they stand in brackets, or tell what the work before them is for."""
    said = step.words[0] if isinstance(step, Verbatim) and step.inert and step.words else ""
    if not isinstance(said, str):
        return False
    if (
        said
        and isinstance(before, FastenOff | ChangeColour | Chain)
        and before.span.end_line == step.span.line
        and before.span != NOWHERE
    ):
        return step.span.column == before.span.end_column + 1  # "fasten off A", "ch 40 in A": no comma stood there
    purpose = isinstance(before, Work | Chain | Skip | Slip) and said.split(" ", 1)[0] in listed("told_behind")
    return said[:1] == "(" or purpose


def _is_aside(step: Step) -> bool:
    return isinstance(step, Chain) and step.skipped


def write_step(step: Step, inner: InRow) -> Prose:
    """One step. Every kind of step has its writer in `_WRITERS`."""
    return _WRITERS[type(step)](step, inner)


def _work(step: Work, inner: InRow) -> Prose:
    wording = inner.wording
    stitch = joined(counted_term(posted(step.stitch, step.place), wording, step.each))
    many = "" if is_one(step.each) else f"{write_number(step.each, wording)} "
    if step.place is None:
        return joined(many, stitch)
    place = step.place
    if place.what is What.PIECE and place.which is Which.EACH:
        return joined(many, stitch, " ", worded(place.words, wording))
    entry = stitches().get(step.stitch)
    if entry is not None and entry.takes > 1 and isinstance(place.number, int) and place.which is Which.NEXT:
        taken = replace(place, number=place.number * entry.takes)
        return joined(many, stitch, " over ", write_place(taken, wording))
    counted = place.which in (Which.NEXT, Which.LAST, Which.FIRST)
    each = "each of " if counted and many and not is_one(place.number) else ""
    between = " " if place.what is What.ROW_END and place.which is Which.ANY else f" {preposition(place)} {each}"
    return joined(many, stitch, between, write_place(place, wording, ending=inner.ending))


def _group(step: Group, inner: InRow) -> Prose:
    steps = _list(step.steps, inner.deeper())
    place = step.place
    each = "each of " if place.which is Which.NEXT and not is_one(place.number) else ""
    return joined("(", steps, f") {preposition(place)} {each}", write_place(place, inner.wording, ending=inner.ending))


def _chain(step: Chain, inner: InRow) -> Prose:
    if step.skipped and step.counts is not None:
        number = write_number(step.number, inner.wording)
        counts = _counts(step.counts, inner.wording)
        skipped = f"({number} {word('skipped', inner.wording)} "
        return joined(skipped, Term("ch"), " ", str(counts[0]).removeprefix(" ("), *counts[1:])
    return joined(Term("ch"), f" {write_number(step.number, inner.wording)}", _counts(step.counts, inner.wording))


def _counts(counts: Counts | None, wording: Wording) -> Prose:
    if counts is None:
        return ()
    if counts.stitch is None:
        return joined(f" ({word('not-counts', wording)} st)")
    stitch = "st" if counts.stitch == "st" else stitch_term(counts.stitch, wording)
    chains = joined(" and ", Term("ch"), f" {counts.chains}") if counts.chains else ""
    return joined(f" ({word('counts-as', wording)} ", stitch, chains, ")")


def _slip(step: Slip, inner: InRow) -> Prose:
    return joined(Term("sl-st"), " in ", write_place(step.place, inner.wording, ending=inner.ending))


def _decrease(step: Decrease, inner: InRow) -> Prose:
    wording = inner.wording
    stitch = Term(posted(step.stitch, step.places[0]), legs=step.legs)
    only = step.places[0]
    if len(step.places) == 1 and is_one(only.number):
        return joined(f"{step.legs}-", Term(step.stitch), " ", Term("cluster"), " in ", write_place(only, wording))
    places = separated([write_place(place, wording, ending=inner.ending) for place in step.places], " and ")
    return joined(stitch, " over ", places)


def _skip(step: Skip, inner: InRow) -> Prose:
    place = write_place(step.place, inner.wording, ending=inner.ending)
    if step.leave:
        return joined("leave ", place, " unworked")
    return joined(Term("skip"), " ", place)


def _repeat(step: Repeat, inner: InRow) -> Prose:
    wording = inner.wording
    plain = _each_up_to(step, inner)
    if plain is not None:
        return plain
    if step.extent is Extent.TIMES and step.ending is None:
        opener, closer = "[]" if inner.brackets % 2 == 0 else "()"
        body = _list(step.steps, inner.deeper())
        return joined(opener, body, f"{closer} {_times(step.times, wording)}")
    star = "*" * (inner.stars + 1)
    deeper = inner.deeper(stars=2 if step.ending is not None and step.ending.kind is EndingKind.AT else 1)
    body = _list(step.steps, deeper)
    tail = joined(f"; rep from {star} ", _how_far(step, inner))
    if body and isinstance(body[0], str) and body[0].startswith("*"):
        star += " "
    if step.ending is None:
        return joined(star, body, tail)
    return _with_ending(step, step.ending, star, deeper, tail)


def _each_up_to(step: Repeat, inner: InRow) -> Prose | None:
    """ "sc in each st to last 2 sts", for a repeat of one stitch in the next place."""
    one = step.steps[0]
    if len(step.steps) > 1 or step.extent not in (Extent.TO_LAST, Extent.TO_PLACE) or not isinstance(one, Work):
        return None
    place = one.place
    if place is not None and place.what is What.PIECE and place.which is Which.EACH:
        return joined(_work(one, inner), " ", _how_far(step, inner))  # "evenly along side to next corner"
    if place is None or place.which is not Which.NEXT or place.number != 1 or place.nth or place.within:
        return None
    if place.what not in (What.STITCH, What.SPACE) or (step.place is not None and step.place.what is What.PIECE):
        return None
    each = replace(place, which=Which.EACH, also=tuple(replace(p, which=Which.EACH) for p in place.also))
    text = _work(replace(one, place=each), replace(inner, ending="to"))
    return joined(text, " ", str(_how_far(step, inner)[0]).removeprefix("to "), *_how_far(step, inner)[1:])


def _with_ending(step: Repeat, ending: Ending, star: str, inner: InRow, tail: Prose) -> Prose:
    if ending.kind is EndingKind.FITTING:
        return joined(star, _list(step.steps, inner), tail, ", ending to correspond")
    if ending.kind is EndingKind.WITH:
        return joined(star, _list(step.steps, inner), tail, ", ending with ", _list(ending.steps, inner))
    sign = star.strip() + "*"
    before = _list(step.steps[: ending.after], inner)
    behind = _list(step.steps[ending.after :], inner)
    return joined(star, before, f", {sign} ", behind, tail, f", ending last rep at {sign}")


_ADVERBS = {"1": "once", "2": "twice"}


def _times(number: Number, wording: Wording) -> str:
    """How often: "once", "twice", "3 (4, 5) times"; in an edition of one size by its own number."""
    said = write_number(number, wording)
    return _ADVERBS.get(said) or f"{said} times"


def _more(number: Number, wording: Wording) -> str:
    return f"{_times(number, wording)} more"


def _how_far(step: Repeat, inner: InRow) -> Prose:
    wording = inner.wording
    if step.extent is Extent.TIMES:
        return (_more(plus(step.times, -1), wording),)
    if step.extent is Extent.END or step.place is None:
        return (inner.ending,)
    if step.place.what is What.PIECE and step.place.words.startswith("until "):
        return worded(step.place.words, wording)
    if step.extent is Extent.TO_LAST:
        return joined("to ", write_place(step.place, wording))
    if step.place.within is not None and step.place.which is Which.NEXT:
        before = Place(step.place.what, Which.NEXT, step.place.number, step.place.of)
        count = joined(
            *[str(p).removeprefix("next ") if isinstance(p, str) else p for p in write_place(before, wording)]
        )
        return joined(
            f"to {'1 ' if is_one(before.number) else ''}", count, " before ", write_place(step.place.within, wording)
        )
    return joined("to ", write_place(step.place, wording))


def _join(step: Join, inner: InRow) -> Prose:
    how = joined(" with ", Term("sl-st")) if step.by is JoinBy.SLIP else ()
    place = joined(" in ", write_place(step.place, inner.wording)) if step.place is not None else ()
    return joined(word("join", inner.wording), how, place)


def _turn(step: Turn, inner: InRow) -> Prose:
    return (word("turn", inner.wording),)


def _fasten_off(step: FastenOff, inner: InRow) -> Prose:
    return (word("fasten-off", inner.wording),)


def _colour(step: ChangeColour, inner: InRow) -> Prose:
    return (f"with {step.colour}" if step is inner.opening else f"change to {step.colour}",)


def _marker(step: Marker, inner: InRow) -> Prose:
    act = {MarkerAct.PLACE: "place-marker", MarkerAct.MOVE: "move-marker", MarkerAct.REMOVE: "remove-marker"}[step.act]
    place = joined(" in ", write_place(step.place, inner.wording)) if step.place is not None else ()
    return joined(word(act, inner.wording), place)


def _begin(step: Begin, inner: InRow) -> Prose:
    wording = inner.wording
    if step.start is Start.CHAIN_RING:
        number = write_number(step.number, wording)
        return joined(Term("ch"), f" {number}, join with ", Term("sl-st"), f" {word('form-ring', wording)}")
    if step.start is Start.ADJUSTABLE_RING:
        return (f"make an {word('adjustable-ring', wording)}",)
    if step.start is Start.ALONG and step.place is not None:
        return joined("working ", worded(step.place.words, wording))
    if step.start is Start.OTHER_SIDE:
        return joined("working along other side of ", Term("ch"))
    if step.start is Start.STITCHES and step.stitch is not None:
        return joined(f"{write_number(step.number, wording)} ", stitch_term(step.stitch, wording))
    if step.start is Start.CHAIN:
        return joined(Term("ch"), f" {write_number(step.number, wording)}")
    if step.start is Start.OPEN_CHAIN:
        return joined(Term("ch"), f" {write_open_length(step)}")
    by = joined(" with ", stitch_term(step.by, wording)) if step.by else ()
    place = step.place
    known = place is not None and (place.what is not What.PIECE or bool(place.words))
    where = joined(" in ", write_place(place, wording)) if place is not None and known else ()
    return joined("join yarn", by, where)


def _again(step: Again, inner: InRow) -> Prose:
    if not step.first:
        return step.words
    wording = inner.wording
    rounds = step.rounds if step.rounds is not None else inner.ending == "around"
    rows = _row_numbers(step, "Rnd" if rounds else "Row")
    words = joined(", " if set_off(step.words) else " ", step.words) if step.words else ()
    if step.until is not None:
        return joined(f"rep {rows} {_until_words(step.until, wording)}", words)
    if step.times is None:
        return joined(f"rep {rows}", words)
    more = _more(step.times, wording)
    comma = "," if rows[-1:].isdigit() and not more[:1].isalpha() else ""
    return joined(f"rep {rows}{comma} {more}", words)


def _until_words(until: Until, wording: Wording) -> str:
    """ "until scarf measures 150 (165, 180) cm": the target's name gives way to its lengths, if they are known."""
    lengths = wording.targets.get(until.target or "")
    return until.words if lengths is None else until.words.replace(f"{{{until.target}}}", lengths)


def _row_numbers(step: Again, noun: str) -> str:
    if step.first < 0:
        return f"last {noun.lower()}" if step.first == -1 else f"last {-step.first} {noun.lower()}s"
    if step.first == step.last:
        return f"{noun} {step.first}"
    return f"{noun}s {step.first}{' and ' if step.last == step.first + 1 else '-'}{step.last}"


def _verbatim(step: Verbatim, inner: InRow) -> Prose:
    return step.words


_WRITERS: dict[type, Callable[[Any, InRow], Prose]] = {
    Work: _work,
    Group: _group,
    Chain: _chain,
    Slip: _slip,
    Decrease: _decrease,
    Skip: _skip,
    Repeat: _repeat,
    Join: _join,
    Turn: _turn,
    FastenOff: _fasten_off,
    ChangeColour: _colour,
    Marker: _marker,
    Begin: _begin,
    Again: _again,
    Verbatim: _verbatim,
}
