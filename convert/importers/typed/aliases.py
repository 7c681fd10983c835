"""Names that a text gives to stitches of the trade: "X = single crochet", "double = 2 sc in one stitch"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from convert.document.records import Special, TermSystem
from convert.document.steps import Decrease, Step, What, Which, Work
from convert.instructions.reader import Context, read_steps
from convert.source import Passage
from convert.terms.evidence import readings
from convert.terms.lookup import key
from convert.trade.words import words

OTHER_NAMES = re.compile(r"[/,]|\sor\s")
_LETTERS = 3
"""The most capital letters that stand for a stitch."""
_WORD = re.compile(r"[A-Za-z]{2,12}")
_ONE_PLACE = ((What.STITCH, Which.NEXT), (What.STITCH, Which.SAME), (What.SPACE, Which.NEXT))


def alias(name: str, definition: Passage, context: Context) -> Special | None:
    """The stitch of the trade that an entry of a list calls by a letter, or by a word for its increase or decrease.

    It is read as that stitch, and not kept among the author's own (see `own_stitches`).
    """
    name = name.strip()
    if name in context.colours:
        return None
    stitch = _named(name, definition, context) or _shaping(name, definition, context)
    return Special(stitch, name, name, name, span=definition.whole) if stitch else None


def _named(name: str, definition: Passage, context: Context) -> str:
    """The stitch that the words behind a letter name: "V = increase, 2 sc in same stitch"."""
    called = re.match(r"[^,;:(]+", definition.text)
    stitch = readings(context.system).get(key(called.group())) if called else None
    if stitch is None or stitch.id == "ch" or not _may_be_letter(name, context.system):
        return ""
    return stitch.id


def _may_be_letter(text: str, system: TermSystem) -> bool:
    """Whether a capital letter, or two or three that mean nothing by themselves, may stand for a stitch."""
    return text.isupper() and (len(text) == 1 or (len(text) <= _LETTERS and not meanings(text, system)))


def _shaping(name: str, definition: Passage, context: Context) -> str:
    """An increase or decrease by what is worked for it, where its name means no stitch: "double = 2 sc in one st"."""
    if not _WORD.fullmatch(name) or readings(context.system).get(key(name)) is not None:
        return ""
    read = read_steps(definition, context)
    return "" if read.verbatim_clauses else _shapes(read.row.steps)


def _shapes(steps: Sequence[Step]) -> str:
    only = steps[0] if len(steps) == 1 else None
    if isinstance(only, Decrease):
        return "dec" if only.stitch == _PLAIN and only.legs == 2 else ""
    if not isinstance(only, Work) or only.stitch != _PLAIN or only.each != 2 or only.place is None:
        return ""
    return "inc" if (only.place.what, only.place.which) in _ONE_PLACE and only.place.number == 1 else ""


_PLAIN = "sc"
"""The stitch that toys are worked in, and that their increases and decreases are made of."""


def meanings(form: str, system: TermSystem) -> frozenset[str]:
    """The stitches and words of the tables that a form, or several with strokes between, may mean."""
    ids = set()
    for text in (key(re.sub(r"\AOR\s", "", form)), *map(key, OTHER_NAMES.split(form))):
        stitch = readings(system).get(text)
        ids |= {stitch.id} if stitch else set()
        ids |= _word_meanings().get(text, frozenset())
    return frozenset(ids)


@cache
def _word_meanings() -> dict[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for word in words().values():
        for form in (*word.forms, word.us, word.uk, word.plural, word.meaning_us, word.meaning_uk):
            bare = key(bare_form(form))
            found[bare] = found.get(bare, frozenset()) | {word.id}
    return found


def bare_form(text: str) -> str:
    """A form without the ending of its plural in brackets."""
    return re.sub(r"\((?:es|s|ing)\)", "", text).strip(" .,;")
