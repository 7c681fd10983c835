"""Finds phrases of a table in running text, the longest first, without one huge pattern to be compiled."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator
from typing import NamedTuple

_WORD = re.compile(r"[^\W\d_]+")
_MOST_WORDS = 6
_LETTER_OR_FIGURE = re.compile(r"[^\W_]")
_NAME_GOES_ON = re.compile(r"\.[^\W\d_]")
_APOSTROPHES = ("'", "’", "‘")


class Found(NamedTuple):
    """A phrase in a text: where it stands, as the table has it, and whether an "s" was left off its end."""

    start: int
    end: int
    form: str
    plural: bool


def key(form: str) -> str:
    """A form as the tables are searched by: without capitals, single spaces.

    >>> key("Double  Crochet")
    'double crochet'
    """
    return " ".join(form.lower().split())


def form_at(text: str, start: int, forms: Container[str]) -> Found | None:
    """The longest form that stands at an offset. What follows it is not looked at, except that no word is cut in two.

    >>> form_at("half double crochet edge", 0, {"half double", "half double crochet"})
    Found(start=0, end=19, form='half double crochet', plural=False)
    """
    ends: list[int] = []
    at = start
    while len(ends) < _MOST_WORDS and (word := _WORD.search(text, at)) is not None:
        if word.start() - at > 2 or (not ends and word.start() != start):
            break
        ends.append(word.end())
        at = word.end()
    for end in reversed(ends):
        form = key(text[start:end])
        if form in forms:
            return Found(start, end, form, plural=False)
        if form.endswith("s") and form[:-1] in forms:
            return Found(start, end, form[:-1], plural=True)
    return None


def first_words(forms: Iterable[str]) -> frozenset[str]:
    """The first word of each form.

    >>> sorted(first_words(["sl st", "half double", "half tr"]))
    ['half', 'sl']
    """
    return frozenset(word.group() for form in forms if (word := _WORD.match(form)) is not None)


def find_forms(text: str, forms: Container[str], firsts: Container[str]) -> Iterator[Found]:
    """Every form in a text, from left to right, none inside a longer word or another form.

    `firsts` are the `first_words` of the forms.
    """
    done = 0
    for word in _WORD.finditer(text):
        first = word.group().lower()
        if first not in firsts and first.removesuffix("s") not in firsts:
            continue
        if word.start() < done or not may_begin(text, word.start()):
            continue
        found = form_at(text, word.start(), forms)
        if found is not None:
            done = found.end
            yield found


def may_begin(text: str, start: int) -> bool:
    """Whether a phrase may begin here: not after an apostrophe or a dot inside a word ("Ada's c", "a.dc")."""
    before, further = text[start - 1 : start], text[max(0, start - 2) : max(0, start - 1)]
    return not (further.isalpha() and (before in _APOSTROPHES or before == "."))


def may_end(text: str, end: int) -> bool:
    """Whether a phrase may end here: no letter or figure follows, and no dot inside a name ("dc.com")."""
    return not (_LETTER_OR_FIGURE.match(text, end) or _NAME_GOES_ON.match(text, end))
