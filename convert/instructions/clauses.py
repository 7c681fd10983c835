"""Reads a row clause by clause. Each kind of clause has its reader in `readers.py`; a new notation is a new one there.

What no reader understands becomes a verbatim step up to the next comma, so that nothing is lost and the rest is read.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Special
from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Ending,
    EndingKind,
    Extent,
    Group,
    Place,
    Repeat,
    Slip,
    Step,
    Verbatim,
    Which,
    Work,
)
from convert.errors import LimitExceeded
from convert.instructions.chains.chain_counts import counted_behind, told_of_chain
from convert.instructions.chains.closing_chain import with_last_chain
from convert.instructions.chains.from_chain import begun_in_chain
from convert.instructions.counts.stated import read_stated
from convert.instructions.incidental import into_beginning, said_in_passing
from convert.instructions.places.carried_on import carried_on, group_carried_on
from convert.instructions.places.other_side import other_side_in_bracket
from convert.instructions.places.place import read_place
from convert.instructions.readers import read_first
from convert.instructions.repeats.brackets import (
    CLOSERS,
    MOST_NAMING,
    closing,
    explains_cluster,
    explains_known,
    explains_picot,
    explains_shaping,
    goes_on,
    is_formula,
    only_names,
    tells_made,
)
from convert.instructions.repeats.outer_marks import with_outer
from convert.instructions.repeats.references import joins_clauses, read_reference
from convert.instructions.repeats.repeat import read_how_often, said_repeated, without_first
from convert.instructions.repeats.settling import settle
from convert.instructions.rows.every import explains_growth
from convert.instructions.rows.for_rows import read_for_rows, read_further_rows
from convert.instructions.rows.passes import read_pass
from convert.instructions.rows.up_to import narrowed_behind
from convert.instructions.shaping.exceptions import modified, modifies
from convert.instructions.stitches.divided import divided_all_along
from convert.instructions.stitches.groups import repeated
from convert.instructions.stitches.hook_told import placed_by_hook
from convert.instructions.stitches.in_brackets import read_in_bracket
from convert.instructions.stitches.motions import read_bracketed_motions, read_marked_motions
from convert.instructions.stitches.spelled_names import made_more
from convert.instructions.stitches.worked_back import worked_back
from convert.instructions.stitches.wraps import wraps_told
from convert.instructions.stitches.wraps_behind import placed_behind_wraps
from convert.instructions.words.asides import begins_sentence
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, Item, RepeatFrom, counted_on
from convert.instructions.words.kept import is_ornament, keep, read_ornament
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.numbers import read_number
from convert.instructions.words.remarks import is_inert
from convert.instructions.words.said import said_from, said_in_row
from convert.limits import LIMITS
from convert.terms.prose import read_prose

_SEPARATORS = (":", "-", "–", "/", "_", "=", '"')


def read_items(cur: Cursor, closer: str = "", *, grouped: bool = False) -> list[Item]:
    """The clauses up to the closing mark (not read) or the end of the row."""
    items: list[Item] = []
    colon = ":" in cur.holds
    while not cur.done and not (closer and cur.is_mark(closer)):
        if cur.take_mark(",", ";"):
            continue
        if not grouped and not (colon and _leads_in(cur, items)) and read_stated(cur):
            continue
        if cur.is_mark("."):
            cur.at += 1
            items.append(Ends(span=cur.span(cur.at - 1)))
            continue
        if cur.take_mark(*_SEPARATORS) or cur.take_words("and", "then") or _leads_on(cur):
            continue
        if cur.peek().kind == "mark" and cur.peek().id in ")]}" and not closer:
            cur.at += 1
            continue
        _one(cur, items, closer, grouped)
    return items


def _leads_in(cur: Cursor, items: list[Item]) -> bool:
    """ "With a magic ring: 6 sc": behind a colon with nothing worked before it, work follows and no count."""
    led = cur.is_mark(":") or (cur.at > 0 and cur.is_mark(":", ahead=-1))
    return led and all(isinstance(item, Begin | ChangeColour | Verbatim) for item in items)


def _leads_on(cur: Cursor) -> bool:
    """ "... and work the" at the end: the label of the next row stood behind it. "Placing (2 dc, ch 1, 2 dc) in each
    corner": what is placed stands in the bracket.
    """
    exception = "exceptions" in cur.begun and cur.is_mark("(", "[", ahead=1) and cur.is_listed("exceptions")
    if exception or ("+" in cur.holds and joins_clauses(cur)):
        cur.at += 1
        return True
    if cur.end - cur.at != 2 or not (cur.is_word("work") and cur.is_word("the", ahead=1)):
        return False
    cur.at += 2
    return True


def _one(cur: Cursor, items: list[Item], closer: str, grouped: bool) -> None:
    start = cur.at
    passed = read_pass(cur) if cur.context.passes else None
    if passed is not None:
        cur.clauses += 1
        items.extend(repeated(cur, passed))
        return
    first = cur.peek()
    mark, worded = first.kind == "mark", first.kind in ("word", "unknown")
    marked = (read_marked_motions(cur) or read_bracketed_motions(cur)) if mark else None
    if marked is not None:
        cur.clauses += 1
        items.extend(marked)
        return
    found = read_reference(cur) if not grouped and (mark or worded) else None
    if found is not None:
        cur.clauses += sum(isinstance(item, RepeatFrom) for item in found)
        items.extend(found)
        return
    if mark and is_ornament(cur):
        items.append(read_ornament(cur))
        return
    told = narrowed_behind(cur, items) or (cur.is_word("beginning") and begun_in_chain(cur, items))
    if told or (worded and told_of_chain(cur, items)):
        cur.clauses += 1
        return
    behind = _said_behind(cur, items) if worded else None
    if behind is not None:
        cur.clauses += 1
        items.extend(behind)
        return
    if worded and modifies(cur, items):
        items.extend(modified(cur, items) or [keep(cur, closer)])
        return
    if (not mark and divided_all_along(cur, items)) or (worded and placed_by_hook(cur, items)):
        cur.clauses += 1
        return
    steps = _worked(cur, items, first, grouped)
    if steps is None:
        cur.at = start
        steps = [keep(cur, closer)]
    else:
        cur.clauses += 1
        steps = with_last_chain(cur, items, counted_on(items, steps), start)
        steps = into_beginning(cur, items, _into_picot(cur, items, start, steps))
    items.extend(repeated(cur, steps))


def _worked(cur: Cursor, items: list[Item], first: Lexeme, grouped: bool) -> list[Step] | None:
    """The steps of the clause that begins with `first`; None where no reader knows it."""
    steps = None
    if first.kind == "mark" and first.id in CLOSERS and not is_formula(cur):
        steps = _bracket(cur, items, grouped)
    elif first.kind == "num":
        steps = _times_before(cur, grouped)
    elif first.kind in ("word", "unknown"):
        steps = _bracket_behind_verb(cur, items, grouped) or group_carried_on(cur, items) or _alternately(cur)
    return steps if steps is not None else read_first(cur, grouped) or carried_on(cur, items)


def _said_behind(cur: Cursor, items: list[Item]) -> list[Item] | None:
    """What words at the position say of the work told last: what its last working leaves out, how many rows it is."""
    passing = said_in_passing(cur, items)
    if passing is not None:
        return [passing]
    more = made_more(cur, items) if "repeat_to_make" in cur.begun else None
    if more is not None:
        return more
    again = (
        explains_growth(cur, items[-1] if items else None)
        or worked_back(cur, items)
        or read_for_rows(cur, items)
        or read_further_rows(cur, items)
    )
    return [*again] if again is not None else None


def _into_picot(cur: Cursor, items: list[Item], start: int, steps: list[Step]) -> list[Step]:
    """ "Sc in next st, ch 3, sl st in top of sc": behind chains, the stitch that they rise from is meant."""
    slip = steps[0] if steps else None
    if len(items) < 2 or not isinstance(slip, Slip) or not isinstance(items[-1], Chain):
        return steps
    place, made = slip.place, items[-2]
    top = any(word.kind == "word" and word.id == "top" for word in cur.words[start : cur.at])
    if not top or place.of is None or not isinstance(made, Work) or made.stitch != place.of:
        return steps
    if place.which is not Which.NEXT or place.number != 1 or place.words:
        return steps
    return [replace(slip, place=Place(which=Which.MADE, of=place.of, span=place.span))]


def _bracket_behind_verb(cur: Cursor, items: list[Item], grouped: bool) -> list[Step] | None:
    """ "Repeat (sc, inc) 6 times", "work [dc, ch 1] around": the verb says no more than the number behind."""
    start = cur.at
    if not cur.is_word("repeat", "work") or not cur.is_mark("(", "[", "{", ahead=1):
        return None
    cur.at += 1
    marked = (len(cur.findings), len(cur.stated), cur.clauses, cur.verbatim)
    steps = None if is_formula(cur) else _bracket(cur, items, grouped)
    grouped_there = not cur.is_word("repeat", ahead=start - cur.at) and steps is not None and len(steps) == 1
    if steps is not None and len(steps) == 1 and isinstance(steps[0], Repeat):
        return [replace(steps[0], span=cur.span(start))]
    if steps is not None and grouped_there and isinstance(steps[0], Group):
        return [replace(steps[0], span=cur.span(start))]
    cur.at = start
    del cur.findings[marked[0] :], cur.stated[marked[1] :]
    cur.clauses, cur.verbatim = marked[2:]
    return None


def _times_before(cur: Cursor, grouped: bool) -> list[Step] | None:
    """ "6 x (sc, inc)", "6(sc, inc)": the number of times stands before the bracket."""
    start = cur.at
    glued = cur.peek().kind == "num" and cur.is_mark("(", "[", ahead=1) and cur.peek(1).glued
    glued = glued and cur.peek(2).kind != "num" and not is_formula(cur)
    number = read_number(cur) if cur.peek().kind == "num" else None
    if (
        number is None
        or not (cur.take_words("times") or glued)
        or not (cur.peek().kind == "mark" and cur.peek().id in CLOSERS)
    ):
        cur.at = start
        return None
    opened, end = cur.at, closing(cur)
    if end is None:
        cur.at = start
        return None
    cur.at = opened + 1
    steps = settle(read_items(cur, cur.words[end].id, grouped=grouped), cur)
    cur.at = end + 1
    return [Repeat(steps, Extent.TIMES, number, span=cur.span(start))] if steps else None


def _bracket(cur: Cursor, items: list[Item], grouped: bool) -> list[Step] | None:
    """A bracket: what a chain counts as, a repeat, a group into one place, or words."""
    start = cur.at
    if counted_behind(cur, items):
        return []
    told = read_in_bracket(cur)
    if told is not None:
        return told
    end = closing(cur)
    if end is None:
        return None
    if _definition(cur, start, end):
        return []
    if explains_cluster(cur, start, end, lambda inner: settle(read_items(inner), inner)):
        cur.at = end + 1
        return [Verbatim(said_in_row(cur, start) or said_from(cur, start), inert=True, span=cur.span(start))]
    around = other_side_in_bracket(cur, start, end)
    if around is not None:
        return around
    inside = cur.text(start + 1, end) if end > start + 1 else ""
    if wraps_told(inside) and (placed := placed_behind_wraps(cur, items, end)) is not None:
        return placed
    if not goes_on(cur, end) and explains_picot(cur, items[-1] if items else None, start, end):
        cur.at = end + 1
        return [Verbatim(said_in_row(cur, start) or said_from(cur, start), inert=True, span=cur.span(start))]
    if not goes_on(cur, end) and (is_inert(inside) or _only_tells(cur, start, end)):
        cur.at = end + 1
        return [Verbatim((cur.text(start, end + 1),), inert=True, span=cur.span(start))]
    return _bracketed_steps(cur, start, end, items, grouped=grouped)


def _only_tells(cur: Cursor, start: int, end: int) -> bool:
    return only_names(cur, start, end) or tells_made(cur, start, end) or explains_known(cur, start, end)


def _definition(cur: Cursor, start: int, end: int) -> bool:
    """ "(cluster st: 3 tr in same sp keeping last loop of each tr on hook)": a stitch explained where it is
    first used.
    """
    colon = next((i for i in range(start + 2, min(end, start + 2 + MOST_NAMING)) if cur.words[i].id == ":"), None)
    named = colon is not None and any(w.kind == "stitch" for w in cur.words[start + 1 : colon])
    if (
        colon is None
        or not named
        or any(w.kind not in ("stitch", "word", "unknown") for w in cur.words[start + 1 : colon])
    ):
        return False
    name = cur.text(start + 1, colon)
    id = next(w.id for w in cur.words[start + 1 : colon] if w.kind == "stitch")
    inner = Cursor(cur.passage, cur.words[colon + 1 : end], cur.context)
    steps = settle(read_items(inner), inner)
    if inner.verbatim or not steps or any(special.id == id for special in cur.context.specials):
        return False
    if any(isinstance(step, Work) and step.stitch == id for step in steps):
        return False  # the trade's own stitch, told in other words
    span = cur.span(start, end + 1)
    cur.defined.append(Special(id, name, name, steps=steps, span=span))
    cur.at = end + 1
    return True


def _bracketed_steps(cur: Cursor, start: int, end: int, outer: list[Item], *, grouped: bool) -> list[Step] | None:
    if cur.depth >= LIMITS.brackets:
        raise LimitExceeded(f"brackets stand more than {LIMITS.brackets} deep", cur.span(start))
    closer = cur.words[end].id
    marked = (len(cur.findings), len(cur.stated), cur.clauses, cur.verbatim)
    cur.at = end + 1
    place = read_place(cur) if cur.is_word("in", "around", "between", "form-ring") or _all_in(cur) else None
    behind = cur.at
    cur.at = start + 1
    cur.depth += 1
    inner = read_items(cur, closer, grouped=grouped or place is not None)
    cur.depth -= 1
    clean = cur.at == end and cur.verbatim == marked[3]
    steps = settle(with_outer(inner, outer), cur)
    cur.at = behind
    if place is not None:
        return [Group(steps, place, cur.span(start))] if steps else None
    how = read_how_often(cur, total=True) or said_repeated(cur)
    told = outer[-1] if outer else None
    if how is not None and clean and isinstance(told, Work) and explains_shaping(told, steps):
        outer.pop()  # "inc (2 sc in next st) 6 times": how it is made, and how often
        words = read_prose(cur.text(start, end + 1), cur.context.system, cur.context.specials)
        said = Verbatim(words, inert=True, span=cur.span(start, end + 1))
        return [Repeat((told, said), how.extent, how.times, how.place, span=told.span.to(cur.span(start)))]
    if how is not None and steps:
        if cur.is_word("more", ahead=-2) or cur.is_word("more", ahead=-1):
            how = without_first(how, steps, outer)
        return [Repeat(steps, how.extent, how.times, how.place, said_doubtful=how.doubtful, span=cur.span(start))]
    cur.at = start
    del cur.findings[marked[0] :], cur.stated[marked[1] :]
    cur.clauses, cur.verbatim = marked[2], marked[3]
    if clean and explains_shaping(outer[-1] if outer else None, steps):
        cur.at = end + 1
        return [Verbatim(said_in_row(cur, start) or said_from(cur, start), inert=True, span=cur.span(start))]
    return _plain_bracket(cur, start, end)


def _plain_bracket(cur: Cursor, start: int, end: int) -> list[Step] | None:
    """A bracket with nothing behind it that tells how often or where: kept in the author's words.

    Whether its steps are worked or only explained cannot be told, so its effect is unknown.
    """
    cur.at = end + 1
    cur.verbatim += 1
    cur.clauses += 1
    return [Verbatim((cur.text(start, end + 1),), inert=False, span=cur.span(start))]


def _all_in(cur: Cursor) -> bool:
    if cur.is_word("each") and cur.is_word("in", ahead=1):
        cur.at += 1
        return True
    return False


def _alternately(cur: Cursor) -> list[Step] | None:
    """ "Alternately 1 double, 3 chain, miss 3": up to the full stop, and over and over."""
    start = cur.at
    if "alternately" not in cur.holds or cur.depth or not begins_sentence(cur) or not cur.take_words("alternately"):
        return None
    marked = (len(cur.findings), len(cur.stated), cur.clauses, cur.verbatim)
    cur.depth += 1
    steps = settle(read_items(cur, "."), cur)
    cur.depth -= 1
    if not any(isinstance(step, Work | Group | Chain) for step in steps):
        cur.at = start
        del cur.findings[marked[0] :], cur.stated[marked[1] :]
        cur.clauses, cur.verbatim = marked[2:]
        return None
    ending = Ending(EndingKind.FITTING) if cur.around is False else None  # the last turn may be cut short
    return [Repeat(steps, Extent.END, ending=ending, span=cur.span(start))]
