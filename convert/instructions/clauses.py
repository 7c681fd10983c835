"""Reads a row clause by clause. Each kind of clause has its reader in `READERS`; a new notation is a new reader
there.

What no reader understands becomes a verbatim step up to the next comma, so that nothing is lost and the rest is read.
"""

from __future__ import annotations

import unicodedata

from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import Special
from convert.document.steps import (
    Again,
    Chain,
    Extent,
    Group,
    Place,
    Repeat,
    Slip,
    Step,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.errors import LimitExceeded
from convert.instructions.again import read_again, read_elsewhere
from convert.instructions.asides import begins_sentence, read_aside
from convert.instructions.chains import (
    counted_behind,
    read_chain,
    read_commence,
    read_edge,
    read_foundation_stitches,
    read_other_side,
    read_ring,
    read_standing,
)
from convert.instructions.clusters import divided_all_along
from convert.instructions.cursor import Cursor
from convert.instructions.edges import read_along, read_edging
from convert.instructions.exceptions import read_exception
from convert.instructions.groups import (
    GROUP_READERS,
    Reader,
    first_that_reads,
    read_open_group,
    read_place_first,
    repeated,
)
from convert.instructions.items import Ends, Item, Mark, RepeatFrom, counted_on
from convert.instructions.lexicon import Lexeme
from convert.instructions.loops import read_working_in
from convert.instructions.motions import read_motions
from convert.instructions.moves import (
    read_colour,
    read_fasten_off,
    read_join,
    read_marker,
    read_skip,
    read_slip,
    read_turn,
    read_yarn_left,
)
from convert.instructions.numbers import read_number
from convert.instructions.places import read_place
from convert.instructions.remarks import is_inert
from convert.instructions.repeats import is_sign, read_how_often, read_repeat_from, settle
from convert.instructions.shaped_ends import read_shaped_ends
from convert.instructions.stated import read_stated
from convert.instructions.work import read_held_back, read_places, read_work
from convert.limits import LIMITS
from convert.trade.stitches import stitches

_CLOSERS = {"(": ")", "[": "]", "{": "}", "|": "|"}
_SEPARATORS = (",", ";", ":", "-", "–", "/", "_", "=", '"')


def read_items(cur: Cursor, closer: str = "", *, grouped: bool = False) -> list[Item]:
    """The clauses up to the closing mark (not read) or the end of the row."""
    items: list[Item] = []
    while not cur.done and not (closer and cur.is_mark(closer)):
        if not grouped and read_stated(cur):
            continue
        if cur.is_mark("."):
            cur.at += 1
            items.append(Ends())
            continue
        if cur.take_mark(*_SEPARATORS) or cur.take_words("and", "then") or _leads_on(cur):
            continue
        if cur.peek().kind == "mark" and cur.peek().id in ")]}" and not closer:
            cur.at += 1
            continue
        _one(cur, items, closer, grouped)
    return items


def _leads_on(cur: Cursor) -> bool:
    """ "... and work the" at the end: the label of the next row stood behind it."""
    if len(cur.words) - cur.at != 2 or not (cur.is_word("work") and cur.is_word("the", ahead=1)):
        return False
    cur.at += 2
    return True


def _one(cur: Cursor, items: list[Item], closer: str, grouped: bool) -> None:
    start = cur.at
    found = _refer(cur) if not grouped else None
    if found is not None:
        cur.clauses += sum(isinstance(item, RepeatFrom) for item in found)
        items.extend(found)
        return
    if is_ornament(cur):
        items.append(_ornament(cur))
        return
    if _modifies(cur, items):
        items.extend(_modified(cur, items) or [_verbatim(cur, closer)])
        return
    if divided_all_along(cur, items):
        cur.clauses += 1
        return
    bracket = cur.peek().kind == "mark" and cur.peek().id in _CLOSERS and not _is_formula(cur)
    steps = _bracket(cur, items, grouped) if bracket else None
    if steps is None:
        steps = _times_before(cur, grouped) or _first_that_reads(cur, grouped) or _carried_on(cur, items)
    if steps is None:
        cur.at = start
        steps = [_verbatim(cur, closer)]
    else:
        cur.clauses += 1
        steps = counted_on(items, steps)
        steps = _into_picot(cur, items, start, steps)
    items.extend(repeated(cur, steps))


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


def is_ornament(cur: Cursor) -> bool:
    """Whether the mark at the position only decorates: an emoji, a star."""
    word = cur.peek()
    return word.kind == "mark" and all(unicodedata.category(char) in _DECORATING for char in word.text)


def _ornament(cur: Cursor) -> Verbatim:
    start = cur.at
    while is_ornament(cur):
        cur.at += 1
    return Verbatim((cur.text(start, cur.at),), True, cur.span(start))


_DECORATING = ("So", "Sk", "Cf", "Mn", "Cn")
"""What emoji are made of: symbols, modifiers, joiners, variation selectors."""


def _modifies(cur: Cursor, items: list[Item]) -> bool:
    """Whether a participle says how the work just told of differs somewhere: "..., making 3 doubles in each corner".

    It does behind what already goes to the end of the row, behind a row worked again, and behind words not understood.
    """
    last = items[-1] if items else None
    unread = isinstance(last, Verbatim) and not last.inert
    whole = (
        unread
        or isinstance(last, Again)
        or (isinstance(last, Work) and last.place is not None and last.place.which is Which.EACH)
    )
    if not whole or not cur.is_word("work") or not cur.peek().text.lower().endswith("ing"):
        return False
    ahead = 2 if cur.is_word("the", ahead=1) else 1
    return cur.peek(ahead).kind in ("num", "stitch", "tog")


def _modified(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """The last step parted at its exception, taken from the items; None where it cannot be."""
    last = items[-1]
    parted = read_exception(cur, last) if isinstance(last, Work) else None
    if parted is not None:
        cur.clauses += 1
        items.pop()
    return parted


def _is_formula(cur: Cursor) -> bool:
    """Whether the brace at the position opens a formula or a number per size, and not a repeat."""
    start = cur.at
    number = read_number(cur) if cur.is_mark("{") else None
    cur.at = start
    return number is not None


def _times_before(cur: Cursor, grouped: bool) -> list[Step] | None:
    """ "6 x (sc, inc)": the number of times stands before the bracket."""
    start = cur.at
    number = read_number(cur) if cur.peek().kind == "num" else None
    if number is None or not cur.take_words("times") or not (cur.peek().kind == "mark" and cur.peek().id in _CLOSERS):
        cur.at = start
        return None
    opened, end = cur.at, _closing(cur)
    if end is None:
        cur.at = start
        return None
    cur.at = opened + 1
    steps = settle(read_items(cur, cur.words[end].id, grouped=grouped), cur)
    cur.at = end + 1
    return [Repeat(steps, Extent.TIMES, number, span=cur.span(start))] if steps else None


def _first_that_reads(cur: Cursor, grouped: bool) -> list[Step] | None:
    if grouped:
        return first_that_reads(cur, GROUP_READERS)
    return first_that_reads(cur, _COUNTED if cur.peek().kind in ("num", "stitch", "tog") else READERS)


def _carried_on(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """ "and in each ch across" behind a remark: the last stitch goes on into further places."""
    last = next((item for item in reversed(items) if not (isinstance(item, Chain) or _is_remark(item))), None)
    if not isinstance(last, Work) or not cur.is_word("in"):
        return None
    start = cur.at
    places = read_places(cur)
    if any(place.what is What.PIECE for place in places):
        places = ()
    ends = cur.done or cur.peek().kind == "mark"
    if not places or not ends:
        cur.at = start
        return None
    return [Work(last.stitch, last.each, place, span=cur.span(start)) for place in places]


def _is_remark(item: Item) -> bool:
    return isinstance(item, Verbatim) and item.inert


# --- signs and endings ---------------------------------------------------------------------------------------------


def _refer(cur: Cursor) -> list[Item] | None:
    """Marks of repeats, "rep from *", "ending with", "ending at **"."""
    start = cur.at
    if is_sign(cur):
        sign = cur.peek().id
        cur.at += 1
        mark = Mark(sign, cur.span(start))
        after = cur.at
        how = read_how_often(cur, total=True)
        if how is not None:
            return [RepeatFrom(sign, how, words=cur.text(start, cur.at), span=cur.span(start))]
        cur.at = after
        return [mark]
    again = read_repeat_from(cur)
    if again is not None:
        return [replace(again, words=cur.text(start, cur.at))]
    stopped = _last_time_only(cur, start)
    if stopped is not None:
        return [stopped]
    if cur.take_words("ending"):
        if cur.is_word("manner") and cur.peek().text.lower().endswith("correspond"):
            cur.at += 1
            return [Ends(fitting=True, span=cur.span(start))]
        cur.take_words("with", "last", "repeat", "at", "in")
        if is_sign(cur):
            sign = cur.peek().id
            cur.at += 1
            return [Ends(at_sign=sign, span=cur.span(start))]
        return [Ends(ending=True, span=cur.span(start))]
    return None


def _last_time_only(cur: Cursor, start: int) -> Ends | None:
    """ "the last time only to **": where the last repeat stops."""
    cur.take_words("the")
    if cur.take_words("last") and cur.take_words("times"):
        cur.take_words("only")
        if cur.take_words("to", "at", "in") and is_sign(cur):
            cur.at += 1
            return Ends(at_sign=cur.peek(-1).id, span=cur.span(start))
    cur.at = start
    return None


# --- brackets ------------------------------------------------------------------------------------------------------


def _bracket(cur: Cursor, items: list[Item], grouped: bool) -> list[Step] | None:
    """A bracket: what a chain counts as, a repeat, a group into one place, or words."""
    start = cur.at
    if counted_behind(cur, items):
        return []
    end = _closing(cur)
    if end is None:
        return None
    if _definition(cur, start, end):
        return []
    inside = cur.text(start + 1, end) if end > start + 1 else ""
    if not _goes_on(cur, end) and (is_inert(inside) or _only_names(cur, start, end) or _tells_made(cur, start, end)):
        cur.at = end + 1
        return [Verbatim((cur.text(start, end + 1),), inert=True, span=cur.span(start))]
    return _bracketed_steps(cur, start, end, grouped=grouped)


_NAMING = (
    "piece",
    "corner",
    "centre",
    "group",
    "space",
    "loop",
    "stitch",
    "the",
    "of",
    "foundation-chain",
    "row-end",
    "row-ends",
)


def _goes_on(cur: Cursor, end: int) -> bool:
    """Whether something behind the bracket tells how often or where its steps are worked."""
    after = cur.words[end + 1] if end + 1 < len(cur.words) else None
    if after is None:
        return False
    crossed = after.id == "*" and end + 2 < len(cur.words) and cur.words[end + 2].kind == "num"
    return (
        crossed
        or after.kind == "num"
        or after.id in ("times", "once", "twice", "thrice", "in", "around", "across", "to")
    )


def _only_names(cur: Cursor, start: int, end: int) -> bool:
    """Whether a bracket only gives a name to what was just worked: "(center front)", "(long sc)", "(corner shell)".

    A stitch explained in words, "(sdc: yo, insert hook ...)", changes nothing either if the trade knows the stitch.
    """
    words = cur.words[start + 1 : end]
    colon = next((i for i, w in enumerate(words[: _NAME + 1]) if w.id == ":"), None)
    if colon and any(w.kind == "stitch" for w in words[:colon]) and not any(w.kind == "num" for w in words[:colon]):
        return True
    plain = all(w.kind in ("unknown", "stitch") or (w.kind == "word" and w.id in _NAMING) for w in words)
    last = stitches().get(words[-1].id) if words and words[-1].kind == "stitch" else None
    counted = last is not None and last.unit and all(w.kind in ("num", "stitch") or w.id == "the" for w in words)
    return bool(words) and len(words) <= _NAME and (plain or counted) and start > 0


def _tells_made(cur: Cursor, start: int, end: int) -> bool:
    """Whether a bracket only tells what was just made: "(1 mesh increased at end of row)", "(block made over mesh)"."""
    words = cur.words[start + 1 : end]
    told = next((i for i, w in enumerate(words[: _NAME + 1]) if w.kind == "word" and w.id in ("total-of", "told")), 0)
    subject = words[:told]
    return told > 0 and all(
        w.kind in ("num", "ord", "stitch", "unknown") or w.id in (*_NAMING, "turning-chain", "back-loop")
        for w in subject
    )


_NAME = 4
"""The most words that the name of a stitch explained in brackets may have."""


def _definition(cur: Cursor, start: int, end: int) -> bool:
    """ "(cluster st: 3 tr in same sp keeping last loop of each tr on hook)": a stitch explained where it is
    first used.
    """
    colon = next((i for i in range(start + 2, min(end, start + 2 + _NAME)) if cur.words[i].id == ":"), None)
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


def _closing(cur: Cursor) -> int | None:
    """Where the bracket at the position closes; None if it never does."""
    if cur.partners is None:
        cur.partners = _partners(cur.words)
    return cur.partners.get(cur.at)


def _partners(words: list[Lexeme]) -> dict[int, int]:
    """The closing mark of every bracket, found in one pass; brackets of different kinds do not see each other."""
    found: dict[int, int] = {}
    open_at: dict[str, list[int]] = {opener: [] for opener in _CLOSERS}
    openers = {closer: opener for opener, closer in _CLOSERS.items()}
    for index, word in enumerate(words):
        if word.kind != "mark":
            continue
        waiting = open_at.get(openers.get(word.id, ""))
        if waiting:
            found[waiting.pop()] = index
            if word.id in _CLOSERS:  # "|" both closes and opens
                waiting.append(index)
        elif word.id in open_at:
            open_at[word.id].append(index)
    return found


def _bracketed_steps(cur: Cursor, start: int, end: int, *, grouped: bool) -> list[Step] | None:
    if cur.depth >= LIMITS.brackets:
        raise LimitExceeded(f"brackets stand more than {LIMITS.brackets} deep", cur.span(start))
    closer = cur.words[end].id
    marked = (len(cur.findings), len(cur.stated), cur.clauses, cur.verbatim)
    cur.at = end + 1
    place = read_place(cur) if cur.is_word("in", "around", "between") or _all_in(cur) else None
    behind = cur.at
    cur.at = start + 1
    cur.depth += 1
    inner = read_items(cur, closer, grouped=grouped or place is not None)
    cur.depth -= 1
    clean = cur.at == end and cur.verbatim == marked[3]
    steps = settle(inner, cur)
    cur.at = behind
    if place is not None:
        return [Group(steps, place, cur.span(start))] if steps else None
    how = read_how_often(cur, total=True)
    if how is not None and steps:
        return [Repeat(steps, how.extent, how.times, how.place, span=cur.span(start))]
    cur.at = start
    del cur.findings[marked[0] :], cur.stated[marked[1] :]
    cur.clauses, cur.verbatim = marked[2], marked[3]
    return _plain_bracket(cur, start, end, steps, clean)


def _plain_bracket(cur: Cursor, start: int, end: int, steps: tuple[Step, ...], clean: bool) -> list[Step] | None:
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


# --- words as they stand -------------------------------------------------------------------------------------------


_ORNAMENT = 8
"""Signs without a letter, no more than this, are ornaments: an emoji, a row of dots."""


def _verbatim(cur: Cursor, closer: str) -> Verbatim:
    """The words up to the next comma, semicolon or full stop outside brackets, kept as they stand."""
    start = cur.at
    depth = 0
    while not cur.done:
        word = cur.peek()
        if word.kind == "mark":
            if depth == 0 and cur.at > start and (word.id in ",;." or word.id == closer):
                break
            if word.id in "([{":
                depth += 1
            elif word.id in ")]}":
                if depth == 0:
                    break
                depth -= 1
        if cur.at > start and depth == 0 and _instruction_begins(cur):
            break
        cur.at += 1
    if cur.at == start:
        cur.at += 1
    text = cur.text(start, cur.at)
    words: Prose = (text,)
    ornament = len(text) <= _ORNAMENT and not any(char.isalnum() for char in text)
    inert = ornament or is_inert(text) or _is_purpose(cur, start)
    cur.clauses += 1
    cur.verbatim += 0 if inert else 1
    return Verbatim(words, inert, cur.span(start))


def _instruction_begins(cur: Cursor) -> bool:
    """Whether words that are kept end here without a comma: at a mark, "rep from", "attach", "work 3 sc"."""
    if is_sign(cur) or cur.is_word("attach"):
        return True
    if cur.is_word("repeat"):
        return cur.is_word("from", ahead=1)
    if cur.is_word("go-on"):
        return cur.is_word("manner", ahead=1)
    return cur.is_word("work") and (cur.peek(1).kind == "num" and cur.peek(2).kind == "stitch")


_HOW_FAR = ("remaining", "next", "last", "each", "row", "round", "end", "previous", "around", "across", "more")


def _is_purpose(cur: Cursor, start: int) -> bool:
    """Whether the words tell what for, and neither how long nor how many: "for picot", "for the back of the neck"."""
    words = cur.words[start : cur.at]
    if words[0].id != "for" or words[0].kind != "word":
        return False
    return not any(w.kind in ("num", "ord") or (w.kind == "word" and w.id in _HOW_FAR) for w in words)


def read_alternately(cur: Cursor) -> list[Step] | None:
    """ "Alternately 1 double, 3 chain, miss 3": up to the full stop, and over and over."""
    start = cur.at
    if cur.depth or not begins_sentence(cur) or not cur.take_words("alternately"):
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
    return [Repeat(steps, Extent.END, span=cur.span(start))]


def read_do_not(cur: Cursor) -> list[Step] | None:
    """ "do not turn": a remark, since a round is not turned unless the text says so."""
    start = cur.at
    if not cur.take_words("do-not-turn"):
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


READERS: tuple[Reader, ...] = (
    read_turn,
    read_motions,
    read_do_not,
    read_foundation_stitches,
    read_chain,
    read_commence,
    read_other_side,
    read_shaped_ends,
    read_working_in,
    read_place_first,
    read_open_group,
    read_ring,
    read_skip,
    read_alternately,
    read_again,
    read_standing,
    read_edge,
    read_join,
    read_fasten_off,
    read_yarn_left,
    read_colour,
    read_marker,
    read_held_back,
    read_along,
    read_edging,
    read_slip,
    read_work,
    read_elsewhere,
    read_aside,
)
"""The readers of clauses, in the order in which they are tried."""

_WORDED = frozenset(
    {
        read_turn,
        read_motions,
        read_do_not,
        read_commence,
        read_other_side,
        read_working_in,
        read_place_first,
        read_ring,
        read_skip,
        read_alternately,
        read_again,
        read_standing,
        read_edge,
        read_join,
        read_fasten_off,
        read_yarn_left,
        read_colour,
        read_marker,
        read_held_back,
        read_along,
        read_slip,
    }
)
"""Readers of clauses that begin with a word, so that they are not asked about a number or a stitch."""
_COUNTED: tuple[Reader, ...] = tuple(reader for reader in READERS if reader not in _WORDED)
