"""Reads the label of a row: "Rnd 3:", "Rows 4-6 (WS):", "2nd Row.", "Next 4 (5, 7) rows:", "Foundation row:"."""

from __future__ import annotations

import re
from functools import cache
from itertools import takewhile

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Formula, Number, PerSize
from convert.document.records import Label, RowKind, Side, TermSystem
from convert.instructions.words.cursor import Context, Cursor
from convert.instructions.words.lexicon import lexemes
from convert.instructions.words.numbers import tidy_formula
from convert.instructions.words.size_names import read_sizes
from convert.source import Passage
from convert.trade.patterns import chain, either, number_words, said, signs
from convert.trade.stitches import stitches
from convert.trade.tables import table

_DIGITS = re.compile(r"\d+")
_ROW = r"(?:rows?|rnds?|rounds?|rds?)"
_ONE_ROW = r"(?:row|rnd|round|rd)"
_SIGN = r"(?:\#\s?|no\.\s?)?"
"""In front of the number: "Rnd #3", "Row No. 3"."""
_NUM = r"\d{1,5}(?:st|nd|rd|th|d)?"
_ORDINAL = r"\d{1,5}(?:st|nd|rd|th|d)"
_JOIN = r"\s*(?:[-–—‑‒―→~]|to|till|til|until|through|thru|and|&|,)\s*"
_AGAIN = rf"(?:(?:{_ROW}\.?\s{{0,2}}|r)(?=\d))?"
"""The word once more in front of a further number: "R3-R8", "Row 4 to Row 9"."""
_NUMS = rf"{_NUM}(?:{_JOIN}{_AGAIN}{_NUM}){{0,40}}(?:\s+incl(?:usive)?\.?)?"
_OPEN = r"[\s=*_•·\-–]{0,6}"
_ASIDE = r"(?:\s{0,3}(?:[(\[][^()\[\]]{0,60}[)\]]|[-–—]\s?(?:RS|WS)(?=\s?:))){0,3}"
_MARKS = r"[\s=*_]{0,6}"
_AFTER = r"(?:\*\*(?=\s|\Z))?[\s=_]{0,6}"
_BY_SIZE = r"\d{1,5}(?:\s{0,2}[(\[]\s?\d{1,5}(?:\s?[,:;/]\s?\d{1,5}){0,40}\s?[)\]]){1,4}"
_NO_REPEAT = r"(?!\s*(?:rep\b|repeat\b|[x×*]\s?\d|\d{1,3}\s?(?:x|×|times?)\b|twice\b|around\b|across\b|in\s|to\s))"
_OF_ROWS = rf"rep(?:eat)?\s(?:{_ROW}|r)\s?\d"
"""In front of a label without a stop and a bracket, earlier rows are repeated, and not the label."""
_ARROW = r"[→➡⟶⇒»]\ufe0f?"
"""Behind a label without a stop: a bracket in front of these is worked, and belongs to no label."""
_COLUMN = r"(?=\t|\s{2})"
"""Wide white space behind a label: what follows stands in a column of its own."""
_NO_LABEL = r"(?!\.\s?\d{1,3}\s?[:.)])"
"""Behind the word for a row: in "BASE / Rnd. 1: ..." the label begins with that word."""
_SIZED = r"\(?\d{1,5}(?:(?:[,/-]\s?\d{1,5}){1,12}|\s*[(\[][\d\s,:;/\-–]{1,120}[)\]])?"
_ALSO = rf"\s+and\s[^\d:;.()]{{1,40}}\s{_ROW}"
_ALTERNATIVE = rf"{_NUM}(?:\s?[-–—]\s?{_AGAIN}{_NUM})?"
_ALTERNATIVES = rf"{_ALTERNATIVE}(?:\s?/\s?{_AGAIN}{_ALTERNATIVE}){{1,20}}"
"""The rows of every size, with strokes between them: "R7-R11 / R7-R12"."""
_WORK = "<work>"
"""Stands for a stitch, behind a label that no mark ends: "2nd row sc in each st"."""
_BODIES = (
    rf"(?P<kind>{_ROW}|r)\.?\s{{0,3}}(?P<each>{_ALTERNATIVES})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.)—–]+){_AFTER}",
    rf"(?P<kind>{_ROW})\.?\s{{0,3}}{_SIGN}(?P<nums>{_NUM})(?P<also>{_ALSO})(?P<aside>{_ASIDE}){_MARKS}(?P<end>:+){_AFTER}",
    rf"(?P<kind>{_ROW}|r)\.?\s{{0,3}}(?P<starts>{_BY_SIZE})\s?(?:[-–—]|to|through)\s?(?P<ends>{_BY_SIZE}|{_NUM})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.)—–\-]+){_AFTER}",
    rf"(?P<kind>{_ROW})\.?\s{{0,3}}{_SIGN}(?P<nums>{_NUMS})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.)—–\-]+(?!\d)|:(?=\d{{1,3}}\s?[a-z])|{_ARROW}|,(?=\s)|{_COLUMN}|(?=\s){_NO_REPEAT}|(?<=\d)(?=\s{_OF_ROWS})){_AFTER}",
    rf"(?P<kind>r)\s?(?P<nums>{_NUMS})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.)](?:-+(?=\s))?|[-–—]+(?=\s+[^\d\s=])|{_ARROW}|{_COLUMN}|(?=\s){_NO_REPEAT}(?!\s*[=\-–])|(?<=\d)(?=\s{_OF_ROWS})){_AFTER}",
    rf"(?P<nums>\d{{1,3}})(?:\.\s?|\s{{1,2}})(?P<kind>{_ONE_ROW})(?P<aside>{_ASIDE})(?P<end>\s?:|\s[-–—](?=\s)|(?=\s\((?!\d{{1,4}}\b[^,]{{0,12}}\)))){_AFTER}",
    rf"(?P<nums>\d{{1,3}}\.?\s?[-–—]\s?\d{{1,3}})(?:\.\s?|\s{{1,2}})(?P<kind>{_ROW})(?P<aside>{_ASIDE})(?P<end>\s?:|\s[-–—](?=\s)){_AFTER}",
    rf"(?P<nums>\d{{1,5}}(?:st|nd|rd|th|d)(?:{_JOIN}{_NUM}){{0,40}})\s{{1,3}}(?P<kind>{_ROW})(?P<aside>{_ASIDE})(?:\s+incl(?:usive)?)?{_MARKS}(?P<end>[:.)—–\-]+|;(?=\s+\d)|(?<=S\))(?=\s)|(?=\s+{_WORK})){_AFTER}",
    rf"(?P<nums>{_ORDINAL}{_JOIN}{_ORDINAL})(?P<aside>\s?[(\[]{_ORDINAL}(?:\s?[,:;/]\s?{_ORDINAL}){{0,40}}[)\]])\s{{1,3}}(?P<kind>{_ROW}){_MARKS}(?P<end>[:.)—–\-]+){_AFTER}",
    rf"(?P<nums>\d{{1,5}}(?:st|nd|rd|th|d))\s{{1,3}}(?P<kind>{_ROW})\s(?P<of>of\s[^:;.()]{{1,40}}):{_AFTER}",
    rf"(?P<nums>first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth|[li]st)\s{{1,3}}(?P<kind>{_ROW})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.)—–\-]+){_AFTER}",
    rf"(?P<next>next)\s{{1,3}}(?P<many>{_SIZED}|\{{[^{{}}]{{1,80}}\}})?\s{{0,3}}(?P<kind>{_ROW})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.—–]+(?:-+(?=\s))?|\s-(?=\s)){_AFTER}",
    rf"(?P<next>next)\s?(?P<kind>)(?P<end>:){_AFTER}",
    rf"(?P<set>last|final)\s{{1,3}}(?P<kind>{_ROW})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:—–]+|\.(?=\s)){_AFTER}",
    rf"(?P<set>inc(?:rease)?|dec(?:rease)?)\.?\s{{1,3}}(?P<kind>{_ROW}){_NO_LABEL}(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.—–]+|\s-(?=\s)){_AFTER}",
    rf"(?P<set>foundation|set-?\s?up|base)\s{{1,3}}(?P<kind>{_ROW}){_NO_LABEL}(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.—–]+|\s-(?=\s)){_AFTER}",
)
_SIDES = {"rs": Side.RIGHT, "right side": Side.RIGHT, "ws": Side.WRONG, "wrong side": Side.WRONG}


_FOUNDATION, _SETUP, _LAST, _INCREASE, _DECREASE = (
    (RowKind.FOUNDATION_ROW, RowKind.FOUNDATION_ROUND),
    (RowKind.SETUP_ROW, RowKind.SETUP_ROUND),
    (RowKind.LAST_ROW, RowKind.LAST_ROUND),
    (RowKind.INCREASE_ROW, RowKind.INCREASE_ROUND),
    (RowKind.DECREASE_ROW, RowKind.DECREASE_ROUND),
)
_KINDS = {
    "foundation": _FOUNDATION,
    "base": _FOUNDATION,
    "last": _LAST,
    "final": _LAST,
    "inc": _INCREASE,
    "increase": _INCREASE,
    "dec": _DECREASE,
    "decrease": _DECREASE,
}
"""What a row and a round without a number are, by what they are called; any other name is one of a set-up row."""


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    """Every form of a label; the first is "Row 4 and up:", the last are "Work four rows thus:", and "Foundation:" in
    front of more than a chain.
    """
    many = rf"\d{{1,3}}|{either(number_words())}"
    leads = either(table("asides")["leads"])
    end = r"(?P<end>[:,—–]+|\s-(?=\s))"
    onwards = rf"(?:\s?\+|\s?[-–—]?\s{signs('onwards')}|\s?[-–—]\s?(?=[?:]))\??"
    number = rf"(?P<kind>{_ROW}|r)\.?\s{{0,3}}(?P<nums>{_NUM})"
    open_ended = rf"{number}(?P<on>{onwards})(?P<aside>{_ASIDE}){_MARKS}(?P<end>[:.—–]+){_AFTER}"
    thus = rf"(?P<next>{said('work')})\s(?P<many>{many})\s(?P<kind>{_ROW}),?\s{leads}\s?{end}{_AFTER}"
    bare_chain = rf"\W{{0,4}}(?:{signs('begin')}\s)?(?:a\s|\d+\s?)?(?:{chain()}|{signs('multiples')})\b"
    founded = rf"(?P<set>foundation|set-?\s?up)(?P<kind>)(?P<aside>{_ASIDE}){_MARKS}(?P<end>:){_AFTER}(?!{bare_chain})"
    names = (stitch.names(system) for stitch in stitches().values() for system in TermSystem)
    worked = either(form for name in names for form in (name.abbreviation, name.name))
    verbs = said("work", "turn", "adjustable-ring")
    begun = rf"(?:(?:[(\[*]\s?)?(?:\d{{1,2}}\s?)?{worked}|{verbs})\b"
    bodies = (body.replace(_WORK, begun) for body in _BODIES)
    return tuple(re.compile(_OPEN + body, re.IGNORECASE) for body in (open_ended, *bodies, thus, founded))


def label_match(text: str) -> re.Match[str] | None:
    """The label at the start of a text, if one stands there."""
    for pattern in _patterns():
        match = pattern.match(text)
        if match is not None:
            dash = _dash_that_ends(match)
            return pattern.match(f"{text[:dash]}:{text[dash + 1 :]}") if dash else match
    return None


_SPACED_DASH = re.compile(r"\d+\s+([-–—])\s+\d+")


def _dash_that_ends(match: re.Match[str]) -> int:
    """Where the dash of "Row 1 - 1 dc in next st" stands, which ends the label and joins no numbers; 0 without one.

    One row is spoken of, and nothing else ends its label; or the numbers would run backwards.
    """
    groups = match.groupdict()
    dashed = _SPACED_DASH.search(match.string, *match.span("nums")) if groups.get("nums") else None
    if dashed is None:
        return 0
    first, last = (int(number) for number in _DIGITS.findall(dashed.group()))
    one = not groups["kind"].lower().endswith("s") and not groups["end"]
    return dashed.start(1) if one or last <= first else 0


def read_label(passage: Passage, context: Context) -> tuple[Label, int, tuple[str, ...], tuple[str, ...]]:
    """The label at the start of a row, its length, the sizes it is for, and asides in it that were not understood."""
    match = label_match(passage.text)
    if match is None:
        return Label(), 0, (), ()
    label, length, sizes, unread = _as_label(match, passage, context)
    facing = _FACING.match(passage.text, length) if label.side is None else None
    if facing is None:
        return label, length, sizes, unread
    span = label.span.to(passage.span(length, facing.end() - 1))
    return replace(label, side=_SIDES[facing[1].lower()], span=span), facing.end(), sizes, unread


_FACING = re.compile(rf"\s?[(\[]({'|'.join(_SIDES)})[)\]][:.,]?\s", re.IGNORECASE)
"""The side that faces the maker, in brackets behind the label: "1st row: (RS) Dc in ..."."""


def _as_label(
    match: re.Match[str], passage: Passage, context: Context
) -> tuple[Label, int, tuple[str, ...], tuple[str, ...]]:
    groups = match.groupdict()
    rounds = groups["kind"].lower().startswith(("rnd", "round", "rd")) or (not groups["kind"] and context.around)
    asides = _asides(groups.get("aside") or "", context)
    side, sizes, unread = asides.side, asides.sizes, asides.unread
    span = passage.span(len(match.group()) - len(match.group().lstrip()), match.end())
    if groups.get("next"):
        kind = RowKind.NEXT_ROUND if rounds else RowKind.NEXT_ROW
        return Label(kind, repeat=_many(groups.get("many")), side=side, span=span), match.end(), sizes, unread
    if groups.get("set"):
        return (
            Label(_KINDS.get(groups["set"].lower(), _SETUP)[rounds], side=side, span=span),
            match.end(),
            sizes,
            unread,
        )
    by_size = _numbers_by_size(groups, asides, context)
    if groups.get("each") and not by_size:
        unread = (groups["each"], *unread)
    unread = asides.unread[by_size.asides :] if by_size else unread
    if groups.get("starts") and not by_size:
        unread = (f"{groups['starts']} – {groups['ends']}", *unread)
    first, last, rest = (
        by_size.plain
        if by_size
        else numbers_in(groups.get("nums") or re.split(r"\s?[(\[/]", groups.get("starts") or groups["each"])[0])
    )
    kind = RowKind.ROUND if rounds else RowKind.ROW
    also = (groups.get("also") or "").strip()
    every = _every(also, context) if also else asides.every
    unread = (also, *unread) if also and not every else unread
    if groups.get("of") or groups.get("on"):
        unread = ((groups.get("of") or groups["on"] or "").strip(" -–—"), *unread)
    label = Label(
        kind,
        first,
        None if last == first else last,
        rest,
        side=side,
        continued=asides.continued,
        every=every,
        starts=by_size.starts if by_size else None,
        ends=by_size.ends if by_size else None,
        span=span,
    )
    return label, match.end(), sizes, unread


class _BySize(Struct, frozen=True):
    """The numbers of a label that differ by size. `asides` tells how many brackets behind them belong to them."""

    starts: PerSize | None
    ends: PerSize | None
    plain: tuple[int, int, tuple[int, ...]]
    asides: int = 0


def _numbers_by_size(groups: dict[str, str | None], asides: _Asides, context: Context) -> _BySize | None:
    """ "Rows 3-48 (54, 60)" and "Rows 13 (15, 17)-20 (24, 28)" where there are as many sizes as numbers."""
    sizes = len(context.sizes)
    if groups.get("each"):
        ranges = [numbers_in(one)[:2] for one in (groups["each"] or "").split("/")]
        firsts, lasts = (PerSize(tuple(numbers)) for numbers in zip(*ranges, strict=True))
        return _BySize(firsts, lasts, (*ranges[0], ())) if sizes == len(ranges) else None
    if groups.get("starts"):
        starts, ends = (tuple(map(int, _DIGITS.findall(groups[name] or ""))) for name in ("starts", "ends"))
        if sizes > 1 and len(starts) == sizes and len(ends) in (1, sizes):
            return _BySize(PerSize(starts), PerSize(ends * (sizes // len(ends))), (starts[0], ends[0], ()))
        return None
    first_aside = asides.unread[0] if asides.unread else ""
    if _RANGES.fullmatch(first_aside):
        return _ranges_by_size(groups["nums"] or "", tuple(map(int, _DIGITS.findall(first_aside))), sizes)
    behind = list(takewhile(_FIGURES.fullmatch, asides.unread))
    more = tuple(map(int, _DIGITS.findall(" ".join(behind))))
    if sizes < 2 or len(more) != sizes - 1:
        return None
    first, last, rest = numbers_in(groups["nums"] or "")
    if rest or min(more) < first:
        return None
    values, plain = PerSize((last, *more)), (first, last, ())
    return _BySize(values if last == first else None, None if last == first else values, plain, asides=len(behind))


def _ranges_by_size(nums: str, others: tuple[int, ...], sizes: int) -> _BySize | None:
    """ "Rows 9-44 (9-47, 9-50)": the first and last row of every size."""
    first, last, rest = numbers_in(nums)
    if rest or sizes < 2 or len(others) != 2 * (sizes - 1):
        return None
    return _BySize(PerSize((first, *others[::2])), PerSize((last, *others[1::2])), (first, last, ()), asides=1)


_RANGE = rf"{_AGAIN}\d+\s?[-–—]\s?{_AGAIN}\d+"
_RANGES = re.compile(rf"{_RANGE}(?:\s?[,:;/]\s?{_RANGE})*", re.IGNORECASE)
_FIGURES = re.compile(rf"(?:{_AGAIN}{_NUM}[\s,:;/]*)+", re.IGNORECASE)


def _many(text: str | None) -> Number:
    if not text:
        return 1
    if text.startswith("{"):
        return Formula(tidy_formula(text.strip("{}= ")))
    if text.casefold() in number_words():
        return number_words()[text.casefold()]
    values = [int(v) for v in _DIGITS.findall(text)]
    return values[0] if len(values) == 1 else PerSize(tuple(values))


_IN_WORDS = (
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
)


def slips() -> dict[str, str]:
    """How scanners misread ordinals, with what stood on the page."""
    found: dict[str, str] = table("numbers")["slips"]
    return found


def _in_figures(text: str) -> str:
    """ "Third", "lst" as figures."""
    word = text.strip().lower()
    if word in slips():
        return slips()[word]
    return str(_IN_WORDS.index(word) + 1) if word in _IN_WORDS else text


_DASHED = re.compile(
    rf"\d\w{{0,2}}\s*(?:[-–—‑‒―→~]|to\b|till?\b|until\b|through\b|thru\b)\s*(?:{_ROW}\.?\s*|r)?\d", re.IGNORECASE
)


_DASHED_NUMBERS = re.compile(
    rf"\d\w{{0,2}}\.?\s*(?:[-–—‑‒―→~]|to\b|till?\b|until\b|through\b|thru\b)\s*(?:(?:{_ROW}|r)\.?\s?)?\d", re.IGNORECASE
)


def numbers_in(text: str) -> tuple[int, int, tuple[int, ...]]:
    """First and last of the numbers that follow on, and those that do not."""
    numbers = [int(n) for n in _DIGITS.findall(_in_figures(text))]
    dashed = _DASHED_NUMBERS.search(text)
    first = numbers[0]
    if len(numbers) == 1:
        return first, first, ()
    if dashed and len(numbers) == 2 and numbers[1] > first:
        return first, numbers[1], ()
    last = first
    index = 1
    while index < len(numbers) and numbers[index] == last + 1:
        last = numbers[index]
        index += 1
    return first, last, tuple(numbers[index:])


class _Asides(Struct):
    """What the brackets of a label say."""

    side: Side | None = None
    sizes: tuple[str, ...] = ()
    continued: bool = False
    every: int = 0
    unread: tuple[str, ...] = ()


def _asides(text: str, context: Context) -> _Asides:
    found = _Asides()
    for match in re.finditer(r"[(\[]([^()\[\]]*)[)\]]|[-–—]\s?(RS|WS)", text, re.IGNORECASE):
        inside = match.group(1) or match.group(2) or ""
        for piece in re.split(r"[;]", inside):
            words = piece.strip()
            if words.lower() in _SIDES:
                found.side = _SIDES[words.lower()]
            elif words.lower().rstrip(".") in ("cont'd", "cont’d", "continued", "cont"):
                found.continued = True
            elif read_sizes(words, context):
                found.sizes = read_sizes(words, context)
            elif _every(words, context):
                found.every = _every(words, context)
            elif words:
                found.unread = (*found.unread, words)
    return found


_OTHER_ONES = ("other", "right-side", "wrong-side")
"""Words for every second row."""


def _every(words: str, context: Context) -> int:
    """2 for "and every even row", "and all WS rows"; 4 for "and every following 4th row"; 0 for other words."""
    passage = Passage.at(words, 0, 0)
    cur = Cursor(passage, lexemes(words, context.system), context)
    if not cur.take_words("and") or not cur.take_words("each"):
        return 0
    cur.take_words("next")
    ordinal = cur.take_kind("ord")
    second = not ordinal and cur.take_words(*_OTHER_ONES) > 0
    cur.take_words("next")
    numbered = cur.take_words("even-rows", "odd-rows") > 0
    every = ordinal.value if ordinal else 2 * (second or numbered)
    named = numbered or cur.take_words("row", "round") > 0
    cur.take_words("next", "throughout")
    return every if named and cur.done else 0
