"""Reads numbers: "48", "three", "48 (56, 64)", "48 [56: 64]", "{6*shells + 2}"."""

from __future__ import annotations

import re

from convert.document.numbers import Formula, Number, PerSize
from convert.instructions.words.cursor import Cursor

_CLOSERS = {"(": ")", "[": "]", "{": "}"}
_BETWEEN = {",", ":", ";", "/", "-", "–"}
_SPACED = re.compile(r"\s*([-+*/()])\s*")


def read_number(cur: Cursor) -> Number | None:
    """A number at the position, with its values for the other sizes if they follow in brackets."""
    kind = cur.peek().kind
    if kind not in ("num", "mark"):
        return None
    formula = read_formula(cur) if kind == "mark" and cur.context.names else None
    if formula is not None:
        return formula
    listed = _listed_sizes(cur)
    if listed is not None:
        return listed
    if kind == "mark" and cur.is_mark("–", "-") and (cur.is_mark("(", "[", ahead=1) or cur.is_mark("-", ahead=1)):
        return _none_first(cur)
    first = cur.take_kind("num")
    if first is None:
        return None
    others = _other_sizes(cur)
    number: Number = first.value if others is None else PerSize((first.value, *others))
    tied = _tied_formula(cur) if cur.context.names else None
    return tied if tied is not None else number


_PARTING = ("/", "-", "–", ",")
_FEW = 2
"""With so many sizes "ch 1, 2 sc in next st" would be a number for each."""


def _none_first(cur: Cursor) -> PerSize | None:
    """ "– (56, 64)": the first size leaves the step out."""
    start = cur.at
    cur.take_mark("-", "–")
    cur.take_mark("-")
    others = _other_sizes(cur)
    if others is None or len(others) != len(cur.context.sizes) - 1:
        cur.at = start
        return None
    return PerSize((None, *others))


def _listed_sizes(cur: Cursor) -> PerSize | None:
    """ "8/9/10", "8-9-10", "8, 9, 10" and "{8, 9, 10}": a number for every size, without the trade's brackets; read
    where there are several sizes.
    """
    wanted = len(cur.context.sizes)
    start = cur.at
    if wanted < 2 or (cur.ids[cur.at + 1] not in _PARTING and not cur.is_mark("{")):
        return None
    values = _bracket_of_numbers(cur) if cur.is_mark("{") else _parted(cur, wanted)
    if values is None or len(values) != wanted:
        cur.at = start
        return None
    return PerSize(tuple(values))


def _parted(cur: Cursor, wanted: int) -> list[int | None] | None:
    """Numbers between strokes, dashes or commas; None where more of them follow than there are sizes."""
    values: list[int | None] = []
    signs = ("/", *(_DASHES if wanted > _FEW else ()))
    if wanted > _FEW and not cur.is_mark("(", "[", "<", ahead=-1):
        signs = (*signs, ",")
    while cur.peek().kind == "num":
        values.append(cur.peek().value)
        cur.at += 1
        if len(values) == wanted or not cur.take_mark(*signs):
            break
    listed = wanted > 1 and cur.is_mark(",", ahead=-2)
    return None if listed and cur.is_mark(",") and cur.peek(1).kind == "num" else values


_DASHES = ("-", "–")
"""Between the numbers of three sizes or more; between two numbers they say from which to which."""


def _other_sizes(cur: Cursor) -> tuple[int | None, ...] | None:
    """The values in one or more brackets right after the first size's, if the brackets hold nothing else."""
    if cur.ids[cur.at] not in _CLOSERS:
        return None
    start = cur.at
    values: list[int | None] = []
    wanted = len(cur.context.sizes) - 1
    while cur.peek().kind == "mark" and cur.peek().id in _CLOSERS:
        if values and len(values) == wanted:
            break  # what follows in brackets is a count: "hdc 3 (5, 7) (24, 26, 28)"
        group = _bracket_of_numbers(cur)
        if group is None:
            break
        values += group
    short = len(values) == 1 and wanted > 1 and not (cur.done or cur.is_mark(".", ";"))
    if values and (len(values) == wanted or len(values) > 1 or short):
        return tuple(values)
    cur.at = start
    return None


def _bracket_of_numbers(cur: Cursor) -> list[int | None] | None:
    start = cur.at
    closer = _CLOSERS[cur.peek().id]
    cur.at += 1
    values: list[int | None] = []
    while True:
        lexeme = cur.peek()
        if lexeme.kind == "num":
            values.append(lexeme.value)
        elif lexeme.kind == "mark" and lexeme.id in ("-", "–"):
            values.append(None)
            cur.at += lexeme.id == "-" and cur.is_mark("-", ahead=1)
        else:
            break
        cur.at += 1
        if cur.take_mark(closer):
            return values
        if not (cur.peek().kind == "mark" and cur.peek().id in _BETWEEN):
            break
        cur.at += 1
    cur.at = start
    return None


def read_formula(cur: Cursor) -> Formula | None:
    """A formula in braces over the numbers of the sizes."""
    if not (cur.context.names and cur.is_mark("{")):
        return None
    return _braced(cur, tied=False)


def _tied_formula(cur: Cursor) -> Formula | None:
    """The formula behind printed values: "3 (5, 7) {= pairs}"."""
    if cur.context.names and cur.is_mark("{") and cur.is_mark("=", ahead=1):
        return _braced(cur, tied=True)
    return None


def _braced(cur: Cursor, *, tied: bool) -> Formula | None:
    end = cur.at + 1
    while end < len(cur.words) and cur.words[end].id != "}":
        end += 1
    if end >= len(cur.words):
        return None
    first = cur.at + (2 if tied else 1)
    inside = cur.passage.text[cur.words[first].start : cur.words[end].start] if first < end else ""
    names = re.findall(r"[A-Za-z_][A-Za-z_0-9]*", inside)
    if not names or any(name not in cur.context.names for name in names):
        return None
    if not re.fullmatch(r"[\w\s+\-*/()]+", inside):
        return None
    cur.at = end + 1
    return Formula(tidy_formula(inside))


def tidy_formula(text: str) -> str:
    """A formula with single blanks around its signs.

    >>> tidy_formula("6*shells+2")
    '6 * shells + 2'
    """
    spaced = _SPACED.sub(lambda m: m.group(1) if m.group(1) in "()" else f" {m.group(1)} ", text.strip())
    return re.sub(r"\s+", " ", spaced).replace("( ", "(").replace(" )", ")").strip()


def times_word(cur: Cursor) -> int | None:
    """ "once", "twice", "thrice" as numbers, read if one stands next."""
    for id, value in (("once", 1), ("twice", 2), ("thrice", 3)):
        if cur.take_word(id):
            return value
    return None
