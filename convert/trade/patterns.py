"""Patterns for running text that are built from the words of the tables, so that no wording stands in program code."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache

from convert.document.records import TermSystem
from convert.trade.stitches import stitches
from convert.trade.tables import table
from convert.trade.words import words


def either(forms: Iterable[object]) -> str:
    """One pattern for any of these forms, the longest first; a blank in a form is any white space.

    >>> either(["st", "sts", "all round"])
    '(?:all\\\\sround|sts|st)'
    """
    found = sorted(set(map(str, forms)), key=lambda form: (-len(form), form))
    return "(?:" + "|".join(map(re.escape, found)).replace("\\ ", r"\s") + ")"


@cache
def said(*ids: str) -> str:
    """A pattern for every form of these words of `shared/words.yaml`.

    >>> said("twice")
    '(?:two\\\\stimes|twice)'
    """
    return either(form for id in ids for form in words()[id].forms)


@cache
def signs(name: str) -> str:
    """A pattern for every form in one list of `shared/signs.yaml`."""
    return either(table("signs")[name])


@cache
def listed(name: str) -> frozenset[str]:
    """Every form in one list of `shared/signs.yaml`, to look up a word as the text has it.

    >>> "straight" in listed("even")
    True
    """
    return frozenset(map(str, table("signs")[name]))


@lru_cache(maxsize=8192)
def lists_of(form: str) -> frozenset[str]:
    """The names of the lists of `shared/signs.yaml` that hold a word, capitals or not.

    >>> lists_of("Straight")
    frozenset({'even'})
    """
    word = form.lower()
    return frozenset(name for name in table("signs") if word in listed(name))


@lru_cache(maxsize=8192)
def lists_begun_by(words: str) -> frozenset[str]:
    """The names of the lists of `shared/signs.yaml` of which a phrase begins with the first of these words.

    >>> "at_end_of" in lists_begun_by("After the"), "at_end_of" in lists_begun_by("Before the")
    (True, False)
    """
    return frozenset(name for name in table("signs") if _head(words) in _heads(name))


@cache
def _heads(name: str) -> frozenset[str]:
    return frozenset(map(_head, listed(name)))


def _head(words: str) -> str:
    first = _FIRST.match(words)
    return first.group().lower() if first else words[:1]


_FIRST = re.compile(r"[^\W_]+")


@cache
def number_words(which: str = "numbers") -> dict[str, int]:
    """The value of each number (`ordinals`: each ordinal) in words, up to ninety-nine, and of the hundreds.

    >>> number_words()["twenty-four"], number_words("ordinals")["third"]
    (24, 3)
    """
    found = {str(form): int(value) for value, forms in table("numbers")[which].items() for form in forms}
    tens = {form: value for form, value in found.items() if value in range(20, 100, 10)}
    units = {form: value for form, value in found.items() if value < 10}
    put_together = (
        (f"{ten}{sign}{unit}", tens[ten] + units[unit]) for ten in tens for unit in units for sign in ("-", " ")
    )
    return {**found, **(dict(put_together) if which == "numbers" else {})}


@cache
def chain() -> str:
    """A pattern for every name of a chain, in either system."""
    names = [stitches()["ch"].names(system) for system in TermSystem]
    return either(form for n in names for form in (n.abbreviation, n.name, n.plural, *n.variants))


@cache
def chain_length(first: str = "", second: str = "") -> str:
    """A chain with its length, the number behind it (group `first`) or in front ("ch 3", "chain of 3", "3-ch")."""
    one, two = (f"?P<{name}>" if name else "" for name in (first, second))
    name = chain()
    return rf"(?:{name}[\s-]?(?:{said('of')}\s)?({one}\d{{1,2}})|({two}\d{{1,2}})[\s-]?{name})"


@cache
def articles() -> str:
    """Any number of articles and words for the first or one, as in front of the stitch that a chain stands for."""
    first = [form for form, value in number_words("ordinals").items() if value == 1]
    one = [form for form, value in number_words().items() if value == 1]
    return rf"(?:(?:{said('the')}|{either([*first, *one, '1st', '1'])})(?:\s|(?<=1)(?=[a-z])))*"
