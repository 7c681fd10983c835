"""Tells what a bracket is, before anything in it is read: where it closes, and whether it only names or explains."""

from __future__ import annotations

from collections.abc import Callable

from convert.document.steps import Decrease, Place, Step, Verbatim, Which, Work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.numbers import read_number
from convert.instructions.words.said import untranslatable
from convert.trade.patterns import listed
from convert.trade.stitches import drawn_together, stitches

CLOSERS = {"(": ")", "[": "]", "{": "}", "|": "|"}


def is_formula(cur: Cursor) -> bool:
    """Whether the brace at the position opens a formula or a number per size, and not a repeat."""
    start = cur.at
    number = read_number(cur) if cur.is_mark("{") else None
    cur.at = start
    return number is not None


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


def goes_on(cur: Cursor, end: int) -> bool:
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


def only_names(cur: Cursor, start: int, end: int) -> bool:
    """Whether a bracket only gives a name to what was just worked: "(center front)", "(long sc)", "(corner shell)".

    A stitch explained in words, "(sdc: yo, insert hook ...)", changes nothing either if the trade knows the stitch.
    """
    words = cur.words[start + 1 : end]
    colon = next((i for i, w in enumerate(words[: MOST_NAMING + 1]) if w.id == ":"), None)
    if colon and any(w.kind == "stitch" for w in words[:colon]) and not any(w.kind == "num" for w in words[:colon]):
        return True
    plain = all(w.kind in ("unknown", "stitch") or (w.kind == "word" and w.id in _NAMING) for w in words)
    last = stitches().get(words[-1].id) if words and words[-1].kind == "stitch" else None
    counted = last is not None and last.unit and all(w.kind in ("num", "stitch") or w.id == "the" for w in words)
    return bool(words) and len(words) <= MOST_NAMING and (plain or counted) and start > 0


def explains_picot(cur: Cursor, before: object, start: int, end: int) -> bool:
    """Whether a bracket behind a picot tells how it is made: "1 picot (4 chain, 1 slip stitch in the 1st)"."""
    entry = stitches().get(before.stitch) if isinstance(before, Work) and before.place is None else None
    words = cur.words[start + 1 : end]
    if entry is None or not entry.decoration or not any(word.id == "ch" for word in words):
        return False
    alone = any(untranslatable(word) and words[at - 1].kind != "num" for at, word in enumerate(words) if at)
    return (
        not alone
        and not untranslatable(words[0])
        and all(
            word.kind in ("num", "ord", "stitch") or word.id in _OF_A_PICOT or word.text.lower() in listed("made_of")
            for word in words
        )
    )


def explains_shaping(before: object, steps: tuple[Step, ...]) -> bool:
    """Whether a bracket behind an increase or a decrease only tells how it is made: "inc (2 sc in next st)"."""
    entry = stitches().get(before.stitch) if isinstance(before, Work) else None
    one = steps[0] if len(steps) == 1 else None
    if entry is None or not entry.prevailing:
        return False
    if isinstance(one, Decrease):
        return entry.takes == one.legs
    alone = isinstance(one, Work) and one.place in (Place(), Place(which=Which.SAME))
    return alone and isinstance(one, Work) and entry.makes == one.each and entry.makes > 1


_OF_A_PICOT = frozenset(
    {"it", ",", "and", "then", "in", "the", "of", "same", "slip", "stitch", "each", "last", "from", "hook", "join"}
)


def tells_made(cur: Cursor, start: int, end: int) -> bool:
    """Whether a bracket only tells what was just made: "(1 mesh increased at end of row)", "(block made over mesh)"."""
    words = cur.words[start + 1 : end]
    told = next(
        (i for i, w in enumerate(words[: MOST_NAMING + 1]) if w.kind == "word" and w.id in ("total-of", "told")), 0
    )
    subject = words[:told]
    return told > 0 and all(
        w.kind in ("num", "ord", "stitch", "unknown") or w.id in (*_NAMING, "turning-chain", "back-loop")
        for w in subject
    )


def explains_known(cur: Cursor, start: int, end: int) -> bool:
    """Whether a bracket tells how a stitch of the trade is made: "(loop st: insert hook in st, wind yarn over finger,
    ...)". It takes one place and makes one stitch, however that is done.
    """
    words = cur.words[start + 1 : end]
    colon = next((i for i, w in enumerate(words[: MOST_NAMING + 1]) if w.id == ":"), 0)
    named = [w for w in words[:colon] if w.id != "stitch"]
    entry = stitches().get(named[0].id) if len(named) == 1 and named[0].kind == "stitch" else None
    if entry is None or entry.unit or (entry.takes, entry.makes) != (1, 1):
        return False
    told = words[colon + 1 :]
    enters = [i for i, w in enumerate(told) if w.kind == "word" and w.id == "insert" and _into_stitch(told[i + 1 :])]
    others = (w.kind == "stitch" and w.id != entry.id for w in told)
    return len(enters) == 1 and not any(others)


def explains_cluster(cur: Cursor, start: int, end: int, read: Callable[[Cursor], tuple[Step, ...]]) -> bool:
    """ "(2 tr cluster: 2 tr in same st keeping last loop of each tr on hook)": whether a bracket tells in other words
    what the name of a cluster tells; `read` reads those.
    """
    colon = next((i for i in range(start + 4, min(end, start + 3 + MOST_NAMING)) if cur.words[i].id == ":"), None)
    name = [word for word in cur.words[start + 1 : colon] if word.id not in ("-", "stitch")] if colon else []
    if colon is None or [word.kind for word in name] != ["num", "stitch", "stitch"] or not drawn_together(name[2].id):
        return False
    told = read(Cursor(cur.passage, cur.words[colon + 1 : end], cur.context))
    steps = [step for step in told if not (isinstance(step, Verbatim) and step.inert)]
    one = steps[0] if len(steps) == 1 else None
    return isinstance(one, Decrease) and (one.stitch, one.legs) == (name[1].id, name[0].value)


def _into_stitch(words: list[Lexeme]) -> bool:
    """Whether the hook goes into a stitch of the row below: "in st", "into the next st"."""
    for word in words[:_BEHIND_HOOK]:
        if word.kind == "mark":
            break
        if word.id == "stitch":
            return True
    return False


_BEHIND_HOOK = 5
"""How far behind "insert" the stitch stands."""
MOST_NAMING = 4
"""The most words that the name of a stitch explained in brackets may have."""


def closing(cur: Cursor) -> int | None:
    """Where the bracket at the position closes; None if it never does."""
    if cur.partners is None:
        cur.partners = _partners(cur.words)
    return cur.partners.get(cur.at)


def _partners(words: list[Lexeme]) -> dict[int, int]:
    """The closing mark of every bracket, found in one pass; brackets of different kinds do not see each other."""
    found: dict[int, int] = {}
    open_at: dict[str, list[int]] = {opener: [] for opener in CLOSERS}
    openers = {closer: opener for opener, closer in CLOSERS.items()}
    for index, word in enumerate(words):
        if word.kind != "mark":
            continue
        waiting = open_at.get(openers.get(word.id, ""))
        if waiting:
            found[waiting.pop()] = index
            if word.id in CLOSERS:  # "|" both closes and opens
                waiting.append(index)
        elif word.id in open_at:
            open_at[word.id].append(index)
    return found
