"""Tells what in a text as typed is a heading: of a section of the table, or of a part."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from convert.importers.making import says_make
from convert.importers.typed.order import first_number, is_sentence
from convert.importers.typed.sizes import read_sizes
from convert.importers.typed.units import (
    Kind,
    Unit,
    heading_prefix,
    in_capitals,
    kind_of,
    label_length,
    numbered_length,
)
from convert.instructions.rows.foundations import name_length
from convert.instructions.words.size_names import means_all, names_sizes
from convert.source import Passage
from convert.terms.statement import stated_system
from convert.trade.headings import forms_of, section_of
from convert.trade.patterns import either, listed, said, signs
from convert.trade.words import words as word_table

PART = "part"
_OTHER = "other"
_TABLE = re.compile(r"\|?\s*([^|\t]{1,40}?)\s*[|\t]\s*(?=\S)")
"""The first cell of the row of a table."""
_PARTS = frozenset({PART, "instructions"})
_AFTER_PARTS = frozenset({PART, "instructions", "finishing", "care", "notes", _OTHER})
_LISTS = frozenset(
    {"materials", "yarn", "hook", "notions", "abbreviations", "gauge", "sizes", "to-fit", "measurements"}
)
_WORDS = 9
_NAMED = 5
"""The most words of a part's name in front of its first row that is not set in capitals."""
Reads = Callable[[Passage], bool]


class Heading(Struct, frozen=True):
    """A heading at the start of a unit.

    `name_length` is how much of the unit the words take, `length` with the stop behind them. `within` tells that it
    stands inside a part without beginning a new one.
    """

    id: str
    name_length: int
    length: int
    within: bool = False


@cache
def _for_sizes() -> re.Pattern[str]:
    return re.compile(rf"(?:{said('for')}\s)?{signs('sizes')}\b", re.IGNORECASE)


@cache
def _copyright() -> re.Pattern[str]:
    """A notice that begins with the sign, or with the word and a sign, a year or a name behind it."""
    words = either(form for form in forms_of("copyright") if form.isalpha())
    return re.compile(rf"\A(?:©|\(c\)\s|{words}\s(?:©|\(c\)|\d|{said('with')}\b))", re.IGNORECASE)


@cache
def _by() -> re.Pattern[str]:
    """Who made the design, in front of a name."""
    last = word_table()["with"].forms
    forms = (form for form in forms_of("designer") if form.split()[-1] in last)
    return re.compile(rf"(?i:{either(forms)})\s(?=[A-Z])")


def names_designer(text: str) -> bool:
    """Whether a line is the designer's name: "Designed by Ada Thornfell"."""
    return _by().match(text) is not None and len(text.split()) <= _WORDS


def heading_at(
    unit: Unit, following: Sequence[Unit], section: str, reads_as_steps: Reads, opens: Reads, *, titled: bool = True
) -> Heading | None:
    """The heading that a unit is or begins with; None if there is none.

    `section` is the section it stands in, `titled` tells that the title of the pattern stands above.
    """
    if unit.bullet and _heads_rows(unit, following):
        unit = replace(unit, bullet=False, strong=True)
    if unit.kind is Kind.ROW or (unit.bullet and not _is_worked(unit, section)):
        return None
    return (
        _known(unit, section)
        or (_whole_line(unit, following, section, reads_as_steps, opens) if titled or not unit.fresh else None)
        or _in_front(unit, following, section, reads_as_steps, opens)
    )


def means_every_size(unit: Unit) -> bool:
    """Whether a line says no more than that all sizes go on from there: "All sizes:"."""
    return unit.alone and not unit.bullet and means_all(unit.passage.text.strip(_AROUND))


_AROUND = " \t:.–—-()[]*_="


def _heads_rows(unit: Unit, following: Sequence[Unit]) -> bool:
    """Whether a bullet adorns the name of a part, and begins no item: its first row, without one, stands below."""
    below = following[0] if following else None
    return unit.alone and below is not None and not below.bullet and first_number(below) == 1


@cache
def _counted() -> re.Pattern[str]:
    """The name of one of several pieces: "2nd flower"."""
    return re.compile(r"\d{1,3}(?:st|nd|rd|th)(?:\s[^\W\d_]+){1,4}")


@cache
def _sizes() -> re.Pattern[str]:
    """The word for sizes in front of a list without a colon: "Sizes S (M, L)", "Size S / M / L"."""
    return re.compile(rf"{either(forms_of('sizes'))}\s(?=[^:]{{1,80}}(?:[(\[{{]|\s/\s))", re.IGNORECASE)


def _is_worked(unit: Unit, section: str) -> bool:
    prefix = heading_prefix(unit.passage.text)
    return prefix is not None and section_of(prefix[0]) is not None and section not in _AFTER_PARTS


def _known(unit: Unit, section: str) -> Heading | None:
    """A heading of the table, on a line by itself or in front of text."""
    text = unit.passage.text
    if _copyright().match(text) and section != "copyright":
        return Heading("copyright", 0, 0)
    if (
        unit.alone
        and len(text) < 80
        and (text[0].isupper() or text.endswith(":") or unit.strong or not text[0].isalpha())
    ):
        id = section_of(text)
        if id is not None:
            return Heading(id, len(text), len(text))
    by = _by().match(text)
    if by and section in ("title", "front") and len(text.split()) <= _WORDS:
        return Heading("designer", by.end() - 1, by.end())
    table = _TABLE.match(text)
    if table and section_of(table[1]) == "sizes":
        return Heading("sizes", table.end(1), table.end())
    listed = _sizes().match(text) if unit.at_line and section not in _PARTS else None
    if listed and read_sizes(Passage(text[listed.end() :])):
        return Heading("sizes", listed.end() - 1, listed.end())
    prefix = heading_prefix(text)
    if prefix is None or not (text[0].isupper() or unit.strong or not text[0].isalpha()):
        return None
    id = section_of(prefix[0])
    if id is None or (id in ("notes", "cautions") and section in _PARTS):
        return None
    return Heading(id, len(prefix[0]), prefix[1])


def _whole_line(
    unit: Unit, following: Sequence[Unit], section: str, reads_as_steps: Reads, opens: Reads
) -> Heading | None:
    """A line by itself that names a part, or a section that the table does not know."""
    text = unit.passage.text
    if not unit.alone or unit.bullet or not _is_shaped(unit) or label_length(text) or name_length(text):
        return None
    if unit.kind is Kind.NUMBERED and reads_as_steps(unit.passage.cut(numbered_length(text))):
        return None  # "5: sc, dec x 6" says nothing of pieces that are made
    prefix = heading_prefix(text)
    if prefix is not None and opens(unit.passage.cut(prefix[1])):
        return None
    after = following[0] if following else None
    named_below = after is not None and after.kind is Kind.TEXT and after.alone and not reads_as_steps(after.passage)
    if named_below and section in _PARTS and means_every_size(unit):
        return None
    named = in_capitals(text) and not re.search(r"\d", text) and after is not None and after.kind is Kind.ROW
    piece = unit.fresh and len(text.split()) == 1 and after is not None and first_number(after) == 1  # "Shell"
    if not (says_make(text) or named or piece) and reads_as_steps(unit.passage):
        return None
    listed = section in _LISTS and not (after is not None and _ends_list(unit, after, section))
    if after is not None and _is_work(after, () if listed else following[1:], reads_as_steps, opens):
        sized = first_number(after) is None and names_sizes(text)
        goes_on = sized or first_number(after) not in (None, 1)
        within = section in _PARTS and goes_on and not says_make(text)
        return Heading(PART, len(text), len(text), within)
    marked = unit.fresh and (in_capitals(text) or unit.strong or text.endswith(":"))
    if marked and after is not None and section in _AFTER_PARTS:
        return Heading(_OTHER, len(text), len(text))
    return None


def _ends_list(unit: Unit, after: Unit, section: str) -> bool:
    """Whether a line in capitals, set apart, with a sentence below it stands behind a list and is no item of it."""
    apart = unit.fresh and after.fresh and after.kind is Kind.TEXT and in_capitals(unit.passage.text)
    return apart and is_sentence(after.passage.text, section)


def _is_shaped(unit: Unit) -> bool:
    """Whether a line has the form of a heading: short, no sentence, with capitals, emphasis or a colon."""
    statement = stated_system(unit.passage)
    if statement is not None and statement.whole:
        return False
    text = unit.passage.text
    body = re.sub(r"\([^()]*\)", "", text).strip()
    words = body.rstrip(":.… ").split()
    if re.search(r"[|\t]", text) or not words or len(words) > _WORDS or not any(char.isalpha() for char in body):
        return False
    if re.search(r"[,;!?]\Z|(?<!\.)\.\Z", body) or not (text[0].isupper() or text[0].isdigit()):
        return False
    named = all(word[0].isupper() or not word[0].isalpha() or len(word) <= 3 for word in words)
    return (
        in_capitals(text)
        or unit.strong
        or body.endswith(":")
        or says_make(text)
        or (unit.fresh and (named or len(words) <= 2 or names_piece(words)))
    )


def names_piece(words: Sequence[str]) -> bool:
    """Whether a few words name a part of a toy or garment: "Body and head", "Sole of the foot"."""
    pieces = listed("limbs") | set(word_table()["piece"].forms)
    return len(words) <= _NAMED and any(word.casefold().strip(",") in pieces for word in words)


def _is_work(unit: Unit, following: Sequence[Unit], reads_as_steps: Reads, opens: Reads) -> bool:
    """Whether instructions stand here, perhaps below one more heading or remark."""
    if unit.kind is Kind.ROW or (unit.kind is Kind.NUMBERED and unit.passage.text.lstrip("(").startswith("1")):
        return True
    if section_of(unit.passage.text) is not None:
        return section_of(unit.passage.text) == "instructions"
    prefix = heading_prefix(unit.passage.text)
    if prefix is not None and section_of(prefix[0]) is not None:
        return False
    if opens(unit.passage) or (prefix is not None and opens(unit.passage.cut(prefix[1]))):
        return True
    nearby = following[:2] if len(unit.passage.text.split()) <= 30 else ()
    row = next((index for index, other in enumerate(nearby) if other.kind is Kind.ROW), None)
    return row is not None and not any(_is_shaped(other) and other.alone for other in nearby[:row])


def _in_front(
    unit: Unit, following: Sequence[Unit], section: str, reads_as_steps: Reads, opens: Reads
) -> Heading | None:
    """The name of a part in front of its first row: "BODY: Ch 4 ...", "For the handle: Ch 30 ..."."""
    prefix = heading_prefix(unit.passage.text)
    if (
        prefix is None
        or section_of(prefix[0]) is not None
        or _for_sizes().match(prefix[0])
        or name_length(unit.passage.text)
    ):
        return None
    name, length = prefix
    rest = unit.passage.cut(length)
    works = not rest.text or kind_of(rest.text) is Kind.ROW or reads_as_steps(rest) or opens(rest)
    capitals = in_capitals(name)
    if not unit.at_line and unit.strong and section in _PARTS and capitals:
        return Heading(PART, len(name), length, within=not opens(rest))
    if (
        capitals
        and (works or (unit.fresh and section in _AFTER_PARTS))
        and (section not in _LISTS or (unit.fresh and works))
    ):
        return Heading(PART if works or section in _PARTS else _OTHER, len(name), length)
    begins = name[0].isupper() or _counted().fullmatch(name)
    spoken = len(name.split()) <= _NAMED and begins and not reads_as_steps(unit.passage.cut(0, len(name)))
    below = first_number(following[0]) == 1 if following else False  # "Tab: Ch 9.", and on the next line "Row 1: ..."
    placed = section in _AFTER_PARTS or section == "front" or ((unit.fresh or below) and opens(rest))
    if spoken and works and rest.text and placed:
        return Heading(PART, len(name), length)
    return None
