"""The names in a list of sizes: "S (M, L)", "XS (S, M) (L, XL)", "8/10/12", "S | M | L", with a heading or without."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from convert.importers.typed.words import spaced
from convert.trade.headings import forms_of, section_of
from convert.trade.patterns import either, listed, number_words, said, signs

_GROUPS = r"(?:[(\[{][^()\[\]{}]+[)\]}]\s*)+"
_BRACKETED = re.compile(
    rf"\A(?P<first>[^()\[\]{{}}]+?)\s?(?P<others>{_GROUPS})(?P<rest>\.?\Z|[.;,–—-]?\s*\S.*\Z)", re.DOTALL
)
_GROUP = re.compile(r"[(\[{]([^()\[\]{}]+)[)\]}]")
_UNIT = re.compile(r"(?:cms?|mm|in(?:s|ches|ch)?|[\"″”])\.?", re.IGNORECASE)
_LENGTH = r"\d{1,3}(?:\.\d+)?[½¼¾]?"
_AGE = re.compile(r"\d{1,2}(?:\s?[-–/]\s?\d{1,2})?")
_VALUE = r"(?:\d{1,5}|[-–—])"
_VALUES = re.compile(
    rf"\d{{1,5}}\s?(?:[(\[{{]\s?{_VALUE}(?:\s?[,:;/]\s?{_VALUE}){{0,40}}\s?[)\]}}]\s?)+|\d{{1,5}}(?:/\d{{1,5}})+"
)
_NUMBER = re.compile(r"\d{1,5}|[-–—](?=\s?[,:;/)\]}])")
_AND = rf"(?:{said('and')}|or)"


def names_in(text: str) -> tuple[list[str], str]:
    """The names that a line lists, and what stands behind the list; no names where the line is no list.

    >>> names_in("XS (S, M) (L, XL)")
    (['XS', 'S', 'M', 'L', 'XL'], '')
    >>> names_in("4/6/8"), names_in("S [M, L]. Shown in size M.")[1]
    ((['4', '6', '8'], ''), 'Shown in size M.')
    """
    text = text.strip()
    found = _BRACKETED.match(text)
    if found is None:
        return _without_brackets(text.rstrip(". ")), ""
    groups = [_split(group) for group in _GROUP.findall(found["others"])]
    names = [spaced(name) for name in (found["first"], *(name for group in groups for name in group))]
    rest = found["rest"].lstrip(".;,–—- ").strip()
    if _UNIT.fullmatch(rest) and all(map(str.isdigit, names)):
        return [f"{name} {rest.rstrip('.')}" for name in names], ""
    age = _age().match(rest)
    if age is not None and all(map(_AGE.fullmatch, names)):
        return [f"{name} {age[1].rstrip('.')}" for name in names], rest[age.end() :].strip()
    return ([], "") if rest and not all(map(is_size, names)) else (names, rest)


def _split(inside: str) -> list[str]:
    """The names in a bracket. Slashes part them only where nothing else does and they cannot be one name ("L/XL")."""
    if re.search(r"[,:;]", inside):
        return re.split(r"[,:;]", inside)
    slashed = inside.split("/")
    return slashed if len(slashed) > 2 or all(name.strip().isdigit() for name in slashed) else [inside]


def _without_brackets(text: str) -> list[str]:
    """The names of a list without brackets; the word for sizes in front of a row of a table is none."""
    cells = cells_of(text)
    if len(cells) > 1:
        if is_size(cells[0]) and not all(map(is_size, cells)):
            return []  # a row of a table that has what one size measures in it
        return cells[1:] if section_of(cells[0]) == "sizes" else cells
    slashed = text.split("/")
    if len(slashed) > 2 and all(re.fullmatch(r"\s?[\w.]{1,8}\s?", name) for name in slashed):
        return [name.strip() for name in slashed]
    if len(slashed) == 2 and all(name != name.strip() for name in slashed) and all(map(is_size, slashed)):
        return [name.strip() for name in slashed]  # "S / M" are two sizes, "S/M" is one
    return [spaced(name) for name in re.split(rf",\s?(?:{_AND}\s)?|;|\s{_AND}\s", text, flags=re.IGNORECASE)]


def cells_of(text: str) -> list[str]:
    """The cells of a row of a table, with bars or tabs between them; the whole text where there are none."""
    return [spaced(cell) for cell in re.split(r"[|\t]", text.strip().strip("|"))]


def first_cells(lines: Sequence[str]) -> list[str]:
    """The sizes of a table that has a row for each of them, below its headings; none if it is no such table."""
    rows = [cells_of(line) for line in lines]
    names = [cells[0] for cells in rows if len(cells) > 1 and is_size(cells[0]) and not all(map(is_size, cells))]
    return names if len(names) > 1 else []


def is_size(name: str) -> bool:
    """Whether a name is one that the trade gives to sizes: "2X", "L/XL", "Child 6", "12-18 months".

    >>> is_size("S/M"), is_size("3 yrs"), is_size("Aran")
    (True, True, False)
    """
    return bool(_size().fullmatch(spaced(name)))


def told_sizes(lines: Iterable[str], texts: Iterable[str]) -> tuple[list[str], str]:
    """Sizes that stand under no heading, in a title, a sentence or over the columns of a table, with their line.

    They are taken where the names are those that sizes have, and a text gives a number for each of them.
    """
    found = next(((names, line) for line in lines if (names := _told_in(line))), ([], ""))
    return found if found[0] and len(found[0]) in _numbers_given(texts) else ([], "")


def labelled_sizes(lines: Iterable[str], texts: Iterable[str]) -> tuple[list[str], str]:
    """Sizes behind the word for sizes within a line ("US terms. Sizes: 2 (4, 6) years."), with that line, where a text
    gives a number for each of them.
    """
    given = _numbers_given(texts)
    for line in lines:
        found = _labelled().search(line)
        names = _labelled_names(found) if found is not None else []
        if len(names) > 1 and len(names) in given and len(set(names)) == len(names):
            return names, line
    return [], ""


def _labelled_names(found: re.Match[str]) -> list[str]:
    """The names of a list behind the word for sizes; where no mark stands between, only names that sizes have."""
    if found["named"]:
        names = names_in(found["named"])[0]
        return names if all(map(is_size, names)) else []
    return names_in(found["slashed"] or _in_brackets().sub("", found["listed"]))[0]


def measured_sizes(lines: Iterable[str], texts: Iterable[str]) -> tuple[list[str], str]:
    """Sizes that are named by nothing but what they measure ("To fit bust: 32 (34, 36) in"), with their line, where a
    text gives a number for each of them.
    """
    given = _numbers_given(texts)
    for line in lines:
        found = _measured().search(line)
        values = re.findall(r"\d+(?:\.\d+)?[½¼¾]?", found["values"] or found["shoes"]) if found is not None else []
        if found is not None and len(values) > 1 and len(values) in given and len(set(values)) == len(values):
            unit = (found["unit"] or "").rstrip(".")
            return [f"{value} {unit}".strip() for value in values], line
    return [], ""


@cache
def _measured() -> re.Pattern[str]:
    """A length, an age or a shoe size for each size: "32 (34, 36) in", "age 2 [4, 6] years", "shoe size 4 (6, 8)"."""
    values = rf"{_LENGTH}\s?[(\[][^()\[\]]{{1,80}}[)\]]|{_LENGTH}(?:/{_LENGTH}){{1,40}}"
    unit = rf"(?P<unit>cms?|in(?:s|ches|ch)?\b\.?|[\"″”]|{either(listed('size_ages'))}(?![\w.]))"
    shoes = rf"{signs('shoe_sizes')}:?\s(?P<shoes>{values})"
    return re.compile(rf"(?<![\d/])(?P<values>{values})[\s-]?{unit}|\b{shoes}", re.IGNORECASE)


def _told_in(line: str) -> list[str]:
    found = _unheaded().search(line)
    if found:
        return [
            spaced(name) for name in (found["first"], *(n for g in _GROUP.findall(found["others"]) for n in _split(g)))
        ]
    cells = [cell for cell in re.split(r"\s*[|\t]\s*|\s{2,}", line.strip().strip("|").strip()) if cell]
    cells = cells[1:] if cells and section_of(cells[0]) == "sizes" else cells
    return cells if len(cells) > 1 and all(map(is_size, cells)) else []


def _numbers_given(texts: Iterable[str]) -> frozenset[int]:
    """How many numbers the texts give at once, as "12 (14, 16)" gives three."""
    return frozenset(len(_NUMBER.findall(found)) for text in texts for found in _VALUES.findall(text))


@cache
def _name() -> str:
    """The pattern of a size's name."""
    letters, words, ages = (either(listed(name)) for name in ("size_letters", "size_words", "size_ages"))
    known = rf"(?:{letters}|(?i:{words}))"
    age = rf"\d{{1,2}}(?:\s?[-–/]\s?\d{{1,2}})?\s?(?i:{ages})"
    some = rf"(?<![\w/])(?:{known}(?:\s?[-–/]\s?{known})?|{age})(?![\w/])"
    return rf"(?:{some}(?:\s{some})?(?:\s\d{{1,2}}(?:[-–/]\d{{1,2}})?(?!\w))?)"


@cache
def _labelled() -> re.Pattern[str]:
    """The word for sizes within a line, and their list to the end of the sentence."""
    many = rf"(?:(?:\d{{1,2}}|{either(number_words())})\s)?"
    word = rf"(?:(?<=\A)|(?<=[.;|–—-]\s)){many}{either(forms_of('sizes'))}"
    return re.compile(
        rf"{word}\s?(?::\s?(?!\d+/)(?P<listed>[^.;|]{{1,120}})|:?\s?(?P<slashed>\d+(?:/\d+)+)(?![\d/])"
        r"|\s(?P<named>[^.;|:]{2,80}?)\.?\Z)",
        re.IGNORECASE,
    )


@cache
def _in_brackets() -> re.Pattern[str]:
    """Behind the larger sizes, that their numbers stand in brackets: "child, adult in parentheses"."""
    return re.compile(rf"\s{signs('in_brackets')}\s*\Z", re.IGNORECASE)


@cache
def _age() -> re.Pattern[str]:
    """What the numbers of a list are ages in, said once behind all of them: "2 (4, 6) yrs"."""
    return re.compile(rf"({either(listed('size_ages'))})(?![\w(\[])[.;,–—-]?", re.IGNORECASE)


@cache
def _size() -> re.Pattern[str]:
    return re.compile(_name())


@cache
def _unheaded() -> re.Pattern[str]:
    name = _name()
    group = rf"[(\[{{]\s?{name}(?:\s?[,:;/]\s?{name}){{0,40}}\s?[)\]}}]"
    return re.compile(rf"(?P<first>{name})\s?(?P<others>(?:{group}\s?)+)")
