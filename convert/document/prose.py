"""Running text in which stitch terms are kept as references, so that each edition writes them in its own terms."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct


class Form(StrEnum):
    """The form in which a term stands in a text."""

    ABBREVIATION = "abbreviation"
    NAME = "name"
    PLURAL = "plural"
    """The plural of the name."""


class Term(Struct, frozen=True):
    """A reference to a stitch or a word of the trade, by its id in `shared/`.

    `legs` is set for a decrease (`dc3tog` is the dc with 3 legs). `capital` tells that the text had a capital letter.
    """

    id: str
    form: Form = Form.ABBREVIATION
    legs: int = 0
    capital: bool = False


Prose = tuple[str | Term, ...]
"""A text: strings and term references in turn. Two strings never stand side by side."""


def plain(text: str) -> Prose:
    """A text without terms.

    >>> plain("Weave in the ends.")
    ('Weave in the ends.',)
    """
    return (text,) if text else ()
