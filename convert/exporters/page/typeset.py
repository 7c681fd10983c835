"""Turns worded text into pieces for the page, and decides where a line must not break.

"3 dc", "ch 2", "next 5 sts", "48 (56, 64)" stay together, an asterisk stays with what it begins. No special blanks or
hyphens get into what a reader copies or searches; the one change of characters is the apostrophe between letters, which
is set curved.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from convert.document.prose import Form, Prose, Term
from convert.document.records import Special, TermSystem
from convert.exporters.page.records import Clump, Flow, Mark, Piece, continues_list
from convert.terms.naming import written_term

LONGEST_CLUMP = 24
"""Characters that are kept on one line at most; longer ones would overflow a phone or a page at 400 % zoom."""

LONGEST_LIST = 36
"""Characters of a list of the sizes' numbers with what it counts that are kept together where there is room."""

LONGEST_GROUP = 18
"""Characters of a group such as "(2 dc, ch 2, 3 dc)" that is kept on one line."""

LONGEST_LABEL = 13
"""Characters that the column of labels holds on one line."""

_APOSTROPHE = re.compile(r"(?<=[^\W\d_])'(?=[^\W\d_])")
_BLANKS = re.compile(r"([ \t\r\n\f\v\u00a0\u202f]+)")
_REPEAT_MARKS = re.compile(r"(\*+|[\[\]])")
_NUMBER = re.compile(r"[(\[]*[\d¼½¾⅛⅜⅝⅞–.,]*[\d¼½¾⅛⅜⅝⅞–]+\Z")
_IN_LIST = re.compile(r"\(?[\d–]+,\Z")
_NEXT_IN_LIST = re.compile(r"\(?[\d–]+[,)]+[;,.]?\Z")
_BEFORE_NUMBER = frozenset(
    {"next", "first", "last", "rnd", "rnds", "row", "rows", "round", "rounds", "ch", "make", "rep"}
)
_BEFORE_MARK = frozenset({"from", "at", "to"})
_LENGTH = re.compile(r"[(\[]?[a-z]+-\d+")
_HOLDING = re.compile(r"[\d(\[*–¼½¾⅛⅜⅝⅞]")
"""What a word has that may hold the next one, apart from the few in `_BEFORE_NUMBER` and `_BEFORE_MARK`."""
_SHORT_WORD = re.compile(r"(?!(?:and|or|to)\b)[A-Za-z-]{1,6}[.,;:)\]]*\Z")

_Word = list[Piece]


def flow_of(
    prose: Prose, system: TermSystem, specials: tuple[Special, ...] = (), *, marks: bool = False, sizes: int = 0
) -> Flow:
    """A text as clumps of pieces.

    `marks` tells that asterisks and square brackets are repeats, as in instructions. Lists of `sizes` numbers, such as
    "48 (56, 64)", become one piece for each size (from 2 sizes on).

    >>> ["".join(p.text for p in clump) for clump in flow_of(("Work 3 ", Term("dc"), " in corner."), TermSystem.UK)]
    ['Work', '3 tr', 'in', 'corner.']
    """
    words, tied = _words(prose, system, specials, marks=marks, sizes=sizes)
    for first, last in _groups(words):
        tied[first:last] = [True] * (last - first)
    return tuple(_clumps(words, tied))


def text_flow(text: str, *, sizes: int = 0) -> Flow:
    """A text without terms as clumps."""
    return flow_of((text,), TermSystem.US, sizes=sizes) if text else ()


def label_flow(label: str, *, sizes: int = 0) -> Flow:
    """A row's label: on one line if it fits its column, else broken at any blank, which `flow_of` would not do.

    >>> plain_text(label_flow("Rnds 6–9")), len(label_flow("Rnds 6–9")), len(label_flow("Next 7 (8, 10) rnds"))
    ('Rnds 6–9', 1, 5)
    """
    if len(label) <= LONGEST_LABEL:
        return ((Piece(label),),) if label else ()
    words, _ = _words((label,), TermSystem.US, (), marks=False, sizes=sizes)
    return tuple(tuple(word) for word in words if word)


def plain_text(flow: Flow) -> str:
    """The characters of a flow, for titles and tests."""
    return " ".join("".join(piece.text for piece in clump) for clump in flow)


def _words(
    prose: Prose, system: TermSystem, specials: tuple[Special, ...], *, marks: bool, sizes: int
) -> tuple[list[_Word], list[bool]]:
    """Words between blanks, and for each blank whether the author forbade a break there."""
    words: list[_Word] = [[]]
    tied: list[bool] = []
    for part in prose:
        if isinstance(part, Term):
            words[-1].append(_term(part, system, specials))
            continue
        for text, listed in _lists(_APOSTROPHE.sub("’", part) if "'" in part else part, sizes):
            for index, word in enumerate(_BLANKS.split(text)):
                if index % 2:
                    tied.append(word in "\u00a0\u202f")
                    words.append([])
                elif word:
                    words[-1].extend(_size_pieces(word, index // 2) if listed else _pieces(word, marks=marks))
    return words, tied


@cache
def _size_list(sizes: int) -> re.Pattern[str]:
    """What a list of one number for each size looks like."""
    number = r"(?:\d+(?:\.\d+)?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]|–)"
    return re.compile(rf"(?<![\d.,¼½¾⅛⅜⅝⅞])({number} \({number}(?:, {number}){{{sizes - 2}}}\))")


def _lists(text: str, sizes: int) -> Iterator[tuple[str, bool]]:
    """The text cut where lists of numbers for the sizes begin and end; True for the lists."""
    if sizes < 2 or " (" not in text:
        yield text, False
        return
    for index, part in enumerate(_size_list(sizes).split(text)):
        if part:
            yield part, bool(index % 2)


def _size_pieces(word: str, size: int) -> Iterator[Piece]:
    """One word of a list: "(56," is the number of size 1 with signs around it."""
    opening = "(" if word.startswith("(") else ""
    number = word.strip("(),")
    closing = word[len(opening) + len(number) :]
    for piece in (Piece(opening, Mark.LIST), Piece(number, Mark.SIZE, size=size), Piece(closing, Mark.LIST)):
        if piece.text:
            yield piece


def _term(term: Term, system: TermSystem, specials: tuple[Special, ...]) -> Piece:
    text = written_term(term, system, specials)
    if term.form is not Form.ABBREVIATION:
        return Piece(text)
    name = written_term(Term(term.id, Form.NAME, term.legs), system, specials)
    return Piece(text, Mark.TERM, name if name.casefold() != text.casefold() else "")


def _pieces(text: str, *, marks: bool) -> Iterator[Piece]:
    if not marks or _REPEAT_MARKS.search(text) is None:
        yield Piece(text)
        return
    for index, part in enumerate(_REPEAT_MARKS.split(text)):
        if part:
            yield Piece(part, Mark.REPEAT if index % 2 else Mark.PLAIN)


def _groups(words: list[_Word]) -> Iterator[tuple[int, int]]:
    """The first and the last word of each short group of steps in round brackets: "(2 dc, ch 2, 2 dc)"."""
    first, length = -1, 0
    for index, word in enumerate(words):
        text = word[0].text if len(word) == 1 else "".join(piece.text for piece in word)
        if "(" in text and not _IN_LIST.match(text) and text.lstrip("[*").startswith("("):
            first, length = index, 0
        length += len(text) + 1
        if first < 0:
            continue
        if length > LONGEST_GROUP + 2:
            first = -1
        elif ")" in text:
            yield first, index
            first = -1


def _clumps(words: list[_Word], tied: list[bool]) -> Iterator[Clump]:
    current: _Word = []
    length = 0
    left = ""
    for index, word in enumerate(words):
        right = word[0].text if len(word) == 1 else "".join(piece.text for piece in word)
        if not word:
            pass
        elif current and (
            tied[index - 1]
            or (_goes_on(length, left, right, words[index - 1], word) and not _tells_how_often(left, words, index))
        ):
            current += (_BLANK_OF_LIST if continues_list(word) else _BLANK, *word)
            length += len(right) + 1
        else:
            if current:
                yield _merged(current)
            current, length = list(word), len(right)
        left = right
    if current:
        yield _merged(current)


_BLANK, _BLANK_OF_LIST = Piece(" "), Piece(" ", Mark.LIST)
_ROWS = frozenset({"rnd", "rnds", "row", "rows", "round", "rounds"})


def _tells_how_often(left: str, words: list[_Word], index: int) -> bool:
    """Whether the number behind "last rnd" is none of a round: "rep last rnd 14 (16, 18) times more"."""
    if left.lower() not in _ROWS:
        return False
    behind = ("".join(piece.text for piece in word) for word in words[index:])
    return next((text for text in behind if text and not _FIGURES.fullmatch(text)), "") == "times"


_FIGURES = re.compile(r"[\d(),–]+")


def _goes_on(length: int, left: str, right: str, before: _Word, after: _Word) -> bool:
    return length + len(right) < _room(left, right) and _holds(left, right, before, after)


def _room(left: str, right: str) -> int:
    """How long a clump may become that goes on with the word at the right: a list of the sizes' numbers longest."""
    listed = _IN_LIST.match(left) or _NEXT_IN_LIST.match(left) or right.startswith("(")
    return LONGEST_LIST if listed else LONGEST_CLUMP


def _holds(left: str, right: str, before: _Word, after: _Word) -> bool:
    """Whether the blank between two words must not become a line break."""
    if right[:1] == "*" and after[0].mark is Mark.REPEAT and left in _BEFORE_MARK:
        return True
    if _HOLDING.search(left) is None and left:
        return right[:1].isdigit() and left.lower() in _BEFORE_NUMBER
    if left.strip("*") == "":
        return left == ""  # "rep from * around": the mark holds on to what is before it
    if left.strip("([*") == "" or (left.endswith("*") and before[-1].mark is Mark.REPEAT):
        return True
    if _NUMBER.match(left):
        # A term in full words is a single word here, blanks and all.
        named = after[0].mark is Mark.TERM or " " in right
        return named or right.startswith("(") or bool(_SHORT_WORD.match(right))
    if _IN_LIST.match(left):
        return bool(_NEXT_IN_LIST.match(right))
    if _NEXT_IN_LIST.match(left):
        return after[0].mark is Mark.TERM or bool(_SHORT_WORD.match(right))
    if _LENGTH.fullmatch(left):
        return after[0].mark is Mark.TERM or right.startswith(("sp", "lp"))
    return left.lower().strip("([*") in _BEFORE_NUMBER and right[:1].isdigit()


def _merged(word: _Word) -> Clump:
    """The word with neighbouring pieces made one where they are plain, or the signs of one list."""
    if len(word) == 1:
        return (word[0],)
    merged: _Word = []
    for piece in word:
        if merged and piece.mark in (Mark.PLAIN, Mark.LIST) and merged[-1].mark is piece.mark:
            merged[-1] = Piece(merged[-1].text + piece.text, piece.mark)
        else:
            merged.append(piece)
    return tuple(merged)
