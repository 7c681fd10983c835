"""Reads which sizes words mean: "sizes M and L only", "for the 2 largest sizes", "all sizes"."""

from __future__ import annotations

import re
from functools import cache

from convert.instructions.words.cursor import Context
from convert.trade.patterns import either, number_words, said, signs


def read_sizes(words: str, context: Context) -> tuple[str, ...]:
    """The ids of the sizes named in "sizes M and L only"; empty if the words name no sizes of the pattern."""
    text = _bare(words)
    named = _named(text, context)
    if named or not speaks_of_sizes(words):
        return named
    bracketed = _BRACKETED.search(words)  # "the larger sizes (M and L)": named again, and so without doubt
    inside = read_sizes(bracketed[1], context) if bracketed else ()
    return inside or _placed(text, context) or _numbered(text, context) or _named(text, context, parts=True)


_BRACKETED = re.compile(r"[(\[]([^()\[\]]+)[)\]]\s*\Z")


def speaks_of_sizes(words: str) -> bool:
    """Whether words say themselves that they name sizes: "Size M", "M only", and not "M"."""
    return bool(_about_sizes().search(words))


def names_sizes(words: str) -> bool:
    """Whether a line that speaks of sizes says no more than which: "All sizes:", "Sizes M and L only:"."""
    bare = words.strip(" \t:.–—-()[]")
    return means_all(bare) or bool(speaks_of_sizes(bare) and len(bare.split()) <= _SIZE_WORDS)


_SIZE_WORDS = 9
"""Words of the longest line that only names sizes."""


def means_all(words: str) -> bool:
    """Whether the words are "all sizes"."""
    return bool(_all().fullmatch(words.strip()))


def _bare(words: str) -> str:
    """The names without "for", "sizes" and "only" around them."""
    found = _around().fullmatch(words.strip())
    return found["ids"] if found else words.strip()


def _named(text: str, context: Context, *, parts: bool = False) -> tuple[str, ...]:
    """The sizes that a list names. With `parts`, a word may name all sizes that begin with it ("Adult" two of them)."""
    known = {key.casefold(): id for id, name in context.sizes for key in (id, name, *_own_words(name, context))}
    named = [name for words in _listed().split(text.casefold()) for name in _single(words.strip(), known) if name]
    found: list[str] = []
    for name in named:
        alike = [id for key, id in known.items() if parts and key.startswith(f"{name} ")]
        ids = [known[name]] if name in known else alike
        if not ids:
            return ()
        found += [id for id in ids if id not in found]
    return tuple(id for id, _ in context.sizes if id in found) if parts else tuple(found)


def _single(words: str, known: dict[str, str]) -> list[str]:
    """A name with its slash ("S/M"), or the names that a slash stands between."""
    return [words] if words in known else [name.strip() for name in words.split("/")]


def _own_words(name: str, context: Context) -> list[str]:
    """The words of a name that no other size has: "2" and "4" of sizes "2 yrs" and "4 yrs"."""
    others = {word for _, other in context.sizes if other != name for word in other.casefold().split()}
    return [word for word in name.casefold().split() if word not in others]


def _placed(text: str, context: Context) -> tuple[str, ...]:
    """ "2 largest", "smallest": so many sizes from one end. "Larger" without a number is one of two sizes."""
    found = _at_end().fullmatch(text)
    if found is None:
        return ()
    number = (found["n"] or found["m"] or "1").lower()
    many = int(number) if number.isdigit() else number_words()[number]
    ids = tuple(id for id, _ in context.sizes)
    counted = found["n"] or found["m"]
    sure = counted or found["sure"] or len(ids) == 2
    if not sure or many >= len(ids):
        return ()
    return ids[-many:] if found["high"] or found["sure_high"] else ids[:many]


def _numbered(text: str, context: Context) -> tuple[str, ...]:
    """ "2nd and 3rd", "second to fourth": sizes by their place in the list of sizes."""
    ids = tuple(id for id, _ in context.sizes)
    found: list[int] = []
    for words in _listed().split(text.casefold()):
        ends = [_place(end.strip()) for end in _span_of().split(words)]
        if not 1 <= len(ends) <= 2 or not all(0 < end <= len(ids) for end in ends):
            return ()
        found += range(ends[0], ends[-1] + 1)
    return tuple(id for place, id in enumerate(ids, start=1) if place in found)


def _place(word: str) -> int:
    """The number that an ordinal tells; 0 where the word is none."""
    told = re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th)", word)
    return int(told[1]) if told else number_words("ordinals").get(word, 0)


@cache
def _span_of() -> re.Pattern[str]:
    return re.compile(rf"\s?[-–—]\s?|\s(?:{said('to')})\s", re.IGNORECASE)


_FEW = 20
"""More sizes than this are not counted in words."""


def sizes_in_front() -> str:
    """The pattern of words in front of instructions that name sizes ("For sizes M and L:", "XS only -"), as a group."""
    name = r"(?-i:[A-Z0-9])[\w-]*"
    which = rf"(?:{signs('largest')}|{signs('smallest')}|{signs('larger')}|{signs('smaller')})\s"
    few = rf"(?:\d+|{either([word for word, number in number_words().items() if number <= _FEW])})"
    placed = rf"(?:{few}\s)?(?:{which})?(?:{few}\s)?"
    sized = rf"(?:{said('for')}\s)?(?:{said('the')}\s)?{placed}{signs('sizes')}\b[^:.;]{{0,80}}?"
    only = rf"(?:{said('for')}\s)?{name}(?:(?:,\s?|\s{said('and')}\s){name}){{0,4}}\s{said('only')}"
    return rf"({sized}(?=\s?:)|{only})\s?(?::\s?|[-–—]\s)"


@cache
def _listed() -> re.Pattern[str]:
    return re.compile(rf",|\b{said('and')}(?!\w)", re.IGNORECASE)


@cache
def _around() -> re.Pattern[str]:
    front = rf"(?:{said('for')}\s)?(?:{said('the')}\s)?(?:{signs('sizes')}\s)?"
    return re.compile(rf"{front}(?P<ids>.+?)(?:\s{signs('sizes')})?(?:\s{said('only')})?", re.IGNORECASE)


@cache
def _about_sizes() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('sizes')}\b|\s{said('only')}\s*\Z", re.IGNORECASE)


@cache
def all_sizes() -> re.Pattern[str]:
    """The pattern of "All sizes:" in front of what every size works again."""
    return re.compile(rf"(?:{said('for')}\s)?{said('each')}\s{signs('sizes')}\s?:\s*(?=\S)", re.IGNORECASE)


@cache
def _all() -> re.Pattern[str]:
    return re.compile(rf"(?:{said('for')}\s)?{said('each')}\s{signs('sizes')}", re.IGNORECASE)


@cache
def _at_end() -> re.Pattern[str]:
    number = rf"(?:\d+|{either(number_words())})"
    return re.compile(
        rf"(?:(?P<n>{number})\s)?(?:(?P<sure>(?P<sure_high>{signs('largest')})|{signs('smallest')})"
        rf"|(?P<high>{signs('larger')})|{signs('smaller')})(?:\s(?P<m>{number}))?",
        re.IGNORECASE,
    )
