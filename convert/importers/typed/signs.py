"""Signs by which a paragraph of plain text tells what it speaks of, from `shared/signs.yaml`."""

from __future__ import annotations

import re
from functools import cache

from convert.terms.evidence import stitch_forms
from convert.terms.lookup import find_forms, first_words, may_end
from convert.trade.patterns import chain, either, number_words, said, signs
from convert.trade.tables import table

_AMOUNT = r"\d\s?(?:g|m)\b"


def speaks_of_stitches(text: str) -> bool:
    """Whether a text names a stitch, or something that is done with stitches.

    >>> speaks_of_stitches("2 doubles in each"), speaks_of_stitches("Wash by hand.")
    (True, False)
    """
    return any(may_end(text, found.end) for found in find_forms(text, *_words_of_work()))


def begins_with_chain(text: str) -> bool:
    """Whether a text begins a piece of work with a chain or a ring, as far as its first words tell.

    >>> begins_with_chain("Starting at the top, ch 12, turn."), begins_with_chain("Sew on the ring.")
    (True, False)
    """
    return bool(_chain().search(text[:90]))


def tells_rows(text: str) -> bool:
    """Whether a text tells a whole piece in running prose: so many stitches are cast on, and so many rows are worked.

    >>> tells_rows("Cast on nine loops with red, crochet six rows."), tells_rows("Cast on and work as you like.")
    (True, False)
    """
    begun = _cast_on().search(text)
    return begun is not None and _rows_in_words().search(text, begun.end()) is not None


@cache
def _number() -> str:
    return rf"(?:\d{{1,3}}|{either(number_words())})"


@cache
def _cast_on() -> re.Pattern[str]:
    return re.compile(rf"(?:\A|[;:.,]\s){said('cast-on')}\s{_number()}\b", re.IGNORECASE)


@cache
def _rows_in_words() -> re.Pattern[str]:
    return re.compile(rf"\b{said('work')}\s{_number()}\s(?:[a-z-]+\s)?{said('row', 'round')}\b", re.IGNORECASE)


def closes_row(text: str) -> bool:
    """Whether a line goes on with the row above even behind its count: what closes the row, or more of its work.

    >>> closes_row("join with sl st"), closes_row("4 times"), closes_row("stuff the head")
    (True, True, False)
    """
    found = _goes_on().match(text)
    return found is not None and may_end(text, found.end())


@cache
def _goes_on() -> re.Pattern[str]:
    ids = [str(id) for id in table("signs")["closes_row"]]
    return re.compile(rf"\W|\d|{said(*ids)}|{either(stitch_forms())}|{chain()}", re.IGNORECASE)


def names_supplies(text: str) -> bool:
    """Whether a text names something that is bought for the work.

    >>> names_supplies("1 ball of green"), names_supplies("Measures 9 cm.")
    (True, False)
    """
    return bool(_supplies().search(text))


@cache
def _words_of_work() -> tuple[frozenset[str], frozenset[str]]:
    words = frozenset(map(str, table("signs")["work"])) | stitch_forms()
    return words, first_words(words)


@cache
def _chain() -> re.Pattern[str]:
    begun = rf"\b{signs('begin')}\b.{{0,60}}\b(?:{chain()}|{said('ring')})\b"
    return re.compile(
        rf"{begun}|\b{said('foundation-chain')}\b|\b{chain()}\s?\d|\b\d{{1,4}}\s?{chain()}\b", re.IGNORECASE | re.DOTALL
    )


@cache
def _supplies() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('supplies')}\b|{_AMOUNT}", re.IGNORECASE)
