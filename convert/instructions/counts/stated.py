"""Reads stated counts: "(36 dc, 4 ch-3 sps)", "[24]", "— 48 (56, 64) sts", "= 24 sc"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number, PerSize
from convert.document.records import CORNER, CountItem, CountKind
from convert.instructions.counts.stated_asides import (
    leads_to_count,
    refers_behind,
    take_aside,
    take_bare_size,
    take_counting_chain,
    take_end_of_row,
    take_groups_of,
    with_chains_between,
)
from convert.instructions.counts.stated_marks import (
    CLOSERS,
    at_end,
    follows_whole_row,
    is_between_signs,
    is_thing,
    leads,
    only_ended,
    repeats_in_front,
    take_leads,
    take_trail,
)
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.remarks import remark_follows
from convert.trade.stitches import stitches

_NO_LEADS = (",", ";", ".")
"""The commonest marks of a row, behind which no count stands."""
_LEADING = frozenset({"total-of", "in-all", "count-words", "row", "round", "row-end", "work"})
"""Where a row holds none of these words, no word of it leads to a count."""


def read_stated(cur: Cursor) -> bool:
    """Reads a stated count at the position into `cur.stated`, if there is one."""
    start = cur.at
    lexeme = cur.peek()
    kind = lexeme.kind
    if kind in ("stitch", "tog") or lexeme.id in _NO_LEADS or (kind == "word" and cur.holds.isdisjoint(_LEADING)):
        return False
    if kind == "mark" and lexeme.id in CLOSERS:
        found = _bracketed(cur, CLOSERS[lexeme.id])
        cur.at = cur.at if found else start
        found = found or (_behind_a_dash(cur) if leads(cur) else [])
    elif kind == "mark" and leads(cur):
        found = _behind_a_dash(cur)
    elif kind == "mark" and is_between_signs(cur):
        cur.at += 1
        found = _items(cur)
        cur.take_mark(lexeme.id)
    elif cur.is_word("total-of", "in-all", "count-words") or leads_to_count(cur):
        led = cur.at > start
        cur.at += cur.is_word("total-of", "in-all", "count-words")
        cur.take_mark(":", "=", "–", "-")
        found = _items(cur)
        found = [replace(item, span=cur.span(start)) for item in found[:1]] + found[1:] if led else found
        take_aside(cur)
        if not (cur.done or cur.is_mark(".", ";", ",")):
            found = []
    elif cur.is_word("work") and cur.peek(1).kind == "num" and cur.at:
        found = _made_in_all(cur)
    elif kind == "num":
        found = _last_sentence(cur)
    else:
        return False
    if not found:
        cur.at = start
        return False
    cur.stated.extend(found)
    return True


def _bracketed(cur: Cursor, closer: str) -> list[CountItem]:
    sized = _sized_with_dashes(cur)
    if sized is not None:
        return [sized]
    of_number = cur.peek(-1).kind == "num"
    cur.at += 1
    alone = _only_of_chain(cur, closer)
    if alone is not None:
        return [alone]
    cur.take_words("total-of", "in-all", "count-words")
    cur.take_mark("=", ":")
    take_aside(cur)
    found = _items(cur)
    if of_number and len(found) == len(cur.context.sizes) - 1 and cur.peek(-1).kind == "num":
        return []  # "row 38 (40, 42)": that number for the other sizes
    cur.take_words("total-of", "in-all", "around", "across", "remaining")
    if found and take_end_of_row(cur):
        found[-1] = replace(found[-1], span=found[-1].span.to(cur.span(cur.at - 1)))
    take_aside(cur)
    found = with_chains_between(cur, found)
    if take_counting_chain(cur) and found and cur.take_mark(","):
        found += _items(cur)  # "(39 dc incl. the turning ch, 38 sps)"
    if found and cur.counting is not None:
        found[-1] = replace(found[-1], span=found[-1].span.to(cur.span(cur.at - 1)))
    cur.take_mark(".")
    if not found or not cur.take_mark(closer):
        return []
    behind = cur.at
    if cur.take_words("in-all", "total-of") and not (cur.done or cur.is_mark(".", ",", ";") or _begins_sentence(cur)):
        cur.at = behind
    if cur.peek().kind == "num" or cur.is_word(
        "times", "twice", "once", "thrice", "in", "around", "across", "each", "to", "form-ring"
    ):
        return []
    if cur.is_mark("*") and cur.peek(1).kind == "num":
        return []
    often = cur.is_word("times", "more", ahead=2) or cur.is_word("around", "across", "to", "twice", "thrice", ahead=1)
    if cur.is_word("repeat") and often:
        return []  # "[1 sc, 1 dc] repeat across"
    return _with_noun_behind(cur, found)


_OF_CHAIN = frozenset({"counting", "not_counting", "counted", "not_counted"})


def _only_of_chain(cur: Cursor, closer: str) -> CountItem | None:
    """ "30 dc (including ch 3)": what the count just read says of the beginning chain, in a bracket of its own."""
    if not cur.stated or cur.counting is not None or cur.begun.isdisjoint(_OF_CHAIN):
        return None
    start = cur.at
    if take_counting_chain(cur) and cur.take_mark(closer):
        count = cur.stated.pop()
        return replace(count, span=count.span.to(cur.span(cur.at - 1)))
    cur.at, cur.counting = start, None
    return None


def _with_noun_behind(cur: Cursor, found: list[CountItem]) -> list[CountItem]:
    """ "(184, 188) dc" behind rows of two sizes: what is counted stands behind the bracket."""
    start = cur.at
    if len(found) == 1 and isinstance(found[0].number, PerSize) and found[0].kind is CountKind.TOTAL:
        kind, of, chains = _noun(cur)
        if cur.at > start and (cur.done or cur.peek().kind == "mark"):
            return [replace(found[0], kind=kind, of=of, chains=chains, span=found[0].span.to(cur.span(start)))]
        cur.at = start
    return found


def _sized_with_dashes(cur: Cursor) -> CountItem | None:
    """ "[-, 72, 72]", "(–, –, 80 sts)": a count for each size, with a dash where a size does not work the row."""
    start, wanted = cur.at, len(cur.context.sizes)
    closer = CLOSERS[cur.peek().id]
    cur.at += 1
    values: list[int | None] = []
    while cur.peek().kind == "num" or cur.is_mark("-", "–"):
        values.append(cur.peek().value if cur.peek().kind == "num" else None)
        cur.at += 1
        if not cur.take_mark(",", "/", ":", ";"):
            break
    kind, of, chains = _noun(cur)
    if len(values) != wanted or None not in values or not cur.take_mark(closer):
        cur.at = start
        return None
    return CountItem(PerSize(tuple(values)), kind, of, chains, span=cur.span(start))


def _behind_a_dash(cur: Cursor) -> list[CountItem]:
    lead = take_leads(cur)
    cur.take_words("total-of")
    found = _items(cur)
    cur.take_words("in-all", "around", "across", "total-of")
    take_trail(cur, lead)
    counted_behind = lead == ":" and cur.is_mark("(", "[") and cur.peek(1).kind == "num"  # "magic ring: 6 sc (6)"
    if counted_behind:
        return []
    remarked = cur.is_word("in") and remark_follows(cur)
    closed = remarked or (lead in (":", "=") and _closes_behind(cur))
    if found and (at_end(cur) or only_ended(cur) or _begins_sentence(cur) or closed):
        return found
    return []


def _ends_row(cur: Cursor, start: int) -> bool:
    """Whether the stop in front of a number, on the same line, ends what goes to the end of a row: "... around. 18"."""
    before = cur.words[start - 2] if start > 1 else None
    whole = before is not None and (before.kind == "stitch" or before.id in _WHOLE)
    return whole and cur.span(start - 1).line == cur.span(start, start + 1).line


_WHOLE = ("around", "across", "ring", "adjustable-ring", "stitch", "times", ")", "]", "join", "turn", "end")


def _words_behind(cur: Cursor) -> bool:
    """Whether a bracket with words follows, and not another count."""
    return cur.is_mark("(") and cur.peek(1).kind != "num"


def _closes_behind(cur: Cursor) -> bool:
    """ ": 18 sc sl st, fasten off", "= 24 join": on the line below the count, without a stop, the piece is closed."""
    slip = cur.peek().id == "sl-st" and (cur.is_mark(",", ".", ";", ahead=1) or cur.at + 1 == len(cur.words))
    return slip or cur.is_word("fasten-off", "join", "cut")


def _made_in_all(cur: Cursor) -> list[CountItem]:
    """ "Making 12 loops in all": the number reached, behind the work; "repeat from * across, making 12 dc" and "like
    3rd row, making 48 tr" need no more words, since nothing is left to be worked there.
    """
    again = cur.at > 2 and cur.is_word("row", "round", ahead=-2) and cur.peek(-3).kind == "ord"
    behind = cur.is_mark(",", ahead=-1) and (again or cur.is_word("around", "across", ahead=-2))
    cur.at += 1
    found = _items(cur)
    counted = all(item.kind is not CountKind.TOTAL or cur.peek(-1).kind != "num" for item in found)
    said = cur.take_words("in-all") > 0 or behind
    ends = cur.done or cur.is_mark(".", ";") or (cur.peek().kind == "mark" and not behind)
    if not found or not counted or not said or not ends:
        return []
    return found


def _last_sentence(cur: Cursor) -> list[CountItem]:
    """A sentence of its own that holds nothing but a count ("Join. 24 sc."), a count behind work told by an earlier row
    ("same as 3rd row, 24 sc"), or one in all ("..., 45 in all").
    """
    start = cur.at
    referred = refers_behind(cur)
    before = cur.peek(-1) if cur.at else None
    whole = follows_whole_row(cur)
    if before is None or not (whole or (before.kind == "mark" and before.id in ".:;,")):
        return []
    behind = before.id == "." and cur.is_word("around", "across", "end", ahead=-2)
    found = _items(cur)
    if before.id in (",", ";") and any(item.kind is CountKind.CHAIN for item in found):
        return []  # "... in each st across, 1 ch, turn": the next row's chain
    bare = bool(found) and found[-1].kind is CountKind.TOTAL and cur.peek(-1).kind == "num"
    take_aside(cur)
    made = cur.take_words("total-of", "in-all") > 0
    if found and not made and takes_sign(cur, "are_left"):
        made, found[-1] = True, replace(found[-1], span=found[-1].span.to(cur.span(cur.at - 1)))
    alone = before.id == "." and _ends_row(cur, start) and at_end(cur)
    alone = alone or (before.id == "." and _ends_line(cur) and cur.ids[max(0, start - 2)] not in ("row", "round"))
    counts = not bare or alone or cur.is_word("in-all", ahead=-1)
    if found and cur.is_word("in-all", ahead=-1):
        found[-1] = replace(found[-1], span=found[-1].span.to(cur.span(cur.at - 1)))
    plain = all(item.kind is CountKind.TOTAL for item in found)  # nobody works "12 sts"
    if whole and (plain or not repeats_in_front(cur, start)) and (at_end(cur) or _words_behind(cur)):
        return found
    goes_on = before.id == "." and (behind or plain or referred) and (cur.is_mark(".") or _begins_sentence(cur))
    ended = before.id == "." and cur.is_word("fasten-off")  # "... across. 60 sc", and below "FO. It will curl."
    closed = at_end(cur) or cur.is_mark("**", "***") or goes_on or ended or (before.id == "." and only_ended(cur))
    closed = closed or (made and cur.is_mark(",") and cur.is_word(*_CLOSING, ahead=1))
    if plain and not bare and before.id == "," and cur.is_mark(",") and cur.is_word(*_CLOSING, ahead=1):
        return found
    plain = plain and not bare and before.id == ","
    return found if found and closed and counts and (made or before.id != "," or referred or plain) else []


_CLOSING = ("join", "turn", "fasten-off")


def _begins_sentence(cur: Cursor) -> bool:
    """Whether a sentence begins with a capital that is no stitch and no yarn: "= 12 Fasten off", on a line below."""
    word = cur.peek()
    worded = word.kind in ("word", "unknown") and word.text[:1].isupper() and word.text[1:2].islower()
    return (worded and word.text not in cur.context.colours) or cur.is_mark("(")


def _ends_line(cur: Cursor) -> bool:
    """Whether a sentence begins on the next line: "... turn. 20", and below "Fasten off when square."."""
    return not cur.done and _begins_sentence(cur) and cur.span(cur.at - 1).line < cur.span(cur.at, cur.at + 1).line


def _items(cur: Cursor) -> list[CountItem]:
    found: list[CountItem] = []
    bare: list[bool] = []
    joint = 0
    while True:
        item = _item(cur)
        if item is None:
            return found if not found or not _dangling(cur) else []
        item = _with_other_sizes(cur, item)
        found.append(replace(item, span=cur.span(joint)) if joint else item)
        bare.append(cur.peek(-1).kind == "num")
        start = cur.at
        total = item.kind is CountKind.TOTAL and not bare[-1]  # "18 sts: 12 sc, 6 ch-1 sps"
        if total and cur.is_mark(":", ahead=1):
            cur.take_words("in-all")
        joined = cur.take_mark(",", "+", ";", "/", *(":" if total else "")) or cur.take_word("and", "with")
        cur.take_word("and", "with")
        joint = start if cur.is_word("and", ahead=-1) else 0
        cur.at += cur.is_word("the") and cur.peek(1).kind == "num"  # "and the 2 underarm chains"
        if not joined and cur.peek().kind != "num":
            return _one_for_each_size(found, bare, cur)
        if cur.peek().kind != "num" and not cur.is_mark("{"):
            extra = _extra(cur, start)
            cur.at = cur.at if extra else start
            return [*_one_for_each_size(found, bare, cur), *extra]


def _extra(cur: Cursor, start: int) -> list[CountItem]:
    """ "4 dc + buttonhole", "21 hdc + ch-5", "8 sc and the buttonhole": one thing without a number, behind a plus or
    with its article.
    """
    joint = cur.peek(start - cur.at)
    if joint.id != "+" and not (joint.id == "and" and cur.is_word("the")):
        return []
    cur.take_words("the")
    at = cur.at
    space = cur.peek().kind == "stitch" and cur.peek().id == "ch"
    kind, of, chains = _chain_noun(cur) if space else (CountKind.OTHER, None, None)
    while not space and cur.peek().kind in ("word", "unknown") and cur.at - at < _EXTRA:
        cur.at += 1
    if cur.at > at and chains != 0 and (cur.done or cur.is_mark(")", "]", "}", ".", ";")):
        return [CountItem(1, kind, of if space else cur.text(at, cur.at), chains, span=cur.span(at))]
    cur.at = start
    return []


_EXTRA = 4
"""The most words of such a thing."""


def _one_for_each_size(found: list[CountItem], bare: list[bool], cur: Cursor) -> list[CountItem]:
    """ "(24, 28, 32 sts)", "[24, 28, 32]": figures without a noun, or with one behind the last, as many as sizes."""
    sizes = len(found) if len(found) == cur.sizes else len(cur.context.sizes)
    if len(found) > sizes > 1 and all(bare[: sizes - 1]) and not bare[sizes - 1]:
        first = _one_for_each_size(found[:sizes], bare[:sizes], cur)
        return [*first, *_one_for_each_size(found[sizes:], bare[sizes:], cur)]  # those of "(26, 30, 34 hdc, 1 ch-4 sp)"
    numbers = tuple(i.number for i in found if isinstance(i.number, int))
    each_row = bare[-1:] == [True] and cur.rows == sizes  # "(43, 47, 51)" behind three rows
    last = found[-1]
    if sizes < 2 or len(numbers) != sizes or len(found) != sizes or each_row or not all(bare[:-1]):
        return found
    return [CountItem(PerSize(numbers), last.kind, last.of, last.chains, span=found[0].span.to(last.span))]


def _with_other_sizes(cur: Cursor, first: CountItem) -> CountItem:
    """ "24 sts (28 sts, 32 sts)": the noun stands behind the number of every size."""
    start, wanted = cur.at, len(cur.context.sizes)
    if wanted < 2 or cur.peek(-1).kind == "num" or not cur.is_mark("(", "[") or cur.peek(1).kind != "num":
        return first
    closer = CLOSERS[cur.peek().id]
    values: list[Number] = [first.number]
    item: CountItem | None = first
    while item is not None and (item.kind, item.of, item.chains) == (first.kind, first.of, first.chains):
        if cur.take_mark(closer) and len(values) == wanted:
            numbers = tuple(value for value in values if isinstance(value, int))
            return replace(first, number=PerSize(numbers), span=cur.span(start - 2))
        cur.at += 1
        item = _item(cur)
        values += [item.number] if item is not None else []
    cur.at = start
    return first


def _dangling(cur: Cursor) -> bool:
    return cur.peek(-1).kind == "mark"


def _item(cur: Cursor) -> CountItem | None:
    start = cur.at
    number = read_number(cur)
    if number is None:
        return None
    kind, of, chains = _noun(cur)
    return CountItem(number, kind, of, chains, span=cur.span(start))


def _noun(cur: Cursor) -> tuple[CountKind, str | None, int | None]:
    if cur.is_word("corner"):
        return _corner_noun(cur)
    lexeme = cur.peek()
    if lexeme.kind == "stitch" and lexeme.id == "ch":
        return _chain_noun(cur)
    if lexeme.kind == "num" and cur.peek(2 if cur.is_mark("-", ahead=1) else 1).id == "ch":
        length = lexeme.value
        cur.at += 3 if cur.is_mark("-", ahead=1) else 2
        cur.take_mark("-")
        corner = CORNER if cur.take_words("corner") else None
        cur.take_words("space", "loop")
        return CountKind.SPACE, corner, length
    if lexeme.kind in ("stitch", "tog"):
        cur.at += 1
        cur.take_words("stitch")
        if cur.take_words("group"):
            return CountKind.GROUP, lexeme.id, None
        if lexeme.kind == "tog":
            return CountKind.STITCH, f"{lexeme.id}{lexeme.value}tog", None
        return CountKind.STITCH, lexeme.id, None
    if cur.take_words("stitch"):
        return CountKind.TOTAL, None, None
    if cur.take_words("space", "loop"):
        picked_up = cur.context.passes and (cur.take_words("on-hook") or True)
        return CountKind.TOTAL if picked_up else CountKind.SPACE, None, None
    first = cur.at
    if cur.take_words("group") or take_groups_of(cur):
        bare = take_bare_size(cur)
        return (CountKind.OTHER, cur.text(first, cur.at), None) if bare else (CountKind.GROUP, None, None)
    if cur.is_word("row", "round"):
        cur.at += 1
        return CountKind.ROWS, cur.words[cur.at - 1].id, None
    if (lexeme.kind == "unknown" and lexeme.text.isalpha() and not _opens_sentence(cur)) or cur.is_word("piece"):
        return _word_of_author(cur)
    return CountKind.TOTAL, None, None


def _opens_sentence(cur: Cursor) -> bool:
    """Whether the word behind a number begins a sentence, and is no noun: "= 12 Stuff the body."."""
    text = cur.peek().text
    ends = cur.is_mark(")", "]", "}", ",", "+", ahead=1)
    return text[:1].isupper() and text[1:2].islower() and not ends


def _word_of_author(cur: Cursor) -> tuple[CountKind, str | None, int | None]:
    """ "2 half shells", "2 underarm chains": things by the author's own word; the "open spaces" of filet are spaces."""
    first = cur.at
    cur.at += 1
    if cur.is_word("space", "loop") and cur.is_listed("open_meshes", -1):
        cur.at += 1
        return CountKind.SPACE, None, None
    entry = stitches().get(cur.peek().id) if cur.peek().kind == "stitch" else None
    cur.at += entry is not None and (entry.unit or entry.id == "ch")
    cur.at += is_thing(cur)
    return CountKind.OTHER, cur.text(first, cur.at), None


def _corner_noun(cur: Cursor) -> tuple[CountKind, str | None, int | None]:
    """ "4 corner ch-2 sps": some of the spaces; other spaces of the row may be as long. "4 corners" are no spaces."""
    first = cur.at
    cur.at += 1
    plain = cur.done or (cur.peek().kind == "mark" and not cur.is_mark("-"))
    kind, _, chains = (CountKind.OTHER, None, None) if plain else _noun(cur)
    if kind is not CountKind.SPACE:
        return CountKind.OTHER, cur.text(first, cur.at), None
    return CountKind.SPACE, CORNER, chains


def _chain_noun(cur: Cursor) -> tuple[CountKind, str | None, int | None]:
    first = cur.at
    cur.at += 1
    cur.take_mark("-")
    length = cur.take_kind("num")
    cur.take_mark("-")
    corner = CORNER if cur.take_words("corner") else None
    if length is not None and is_thing(cur) and not cur.is_word("space", "loop"):
        cur.at += 1
        return CountKind.OTHER, cur.text(first, cur.at), None
    if cur.take_words("space", "loop") or length is not None:
        return CountKind.SPACE, corner, length.value if length else None
    return CountKind.CHAIN, None, None
