"""Cuts a text as typed into units: rows by their labels, headings in front of text, items of lists, and paragraphs."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from enum import Enum
from functools import cache
from itertools import pairwise

from msgspec import Struct

from convert.importers.typed.lines import Block, Line
from convert.importers.typed.signs import begins_with_chain, closes_row
from convert.instructions.reader import row_label_length
from convert.instructions.words.size_names import all_sizes, sizes_in_front
from convert.source import Passage
from convert.trade.headings import section_of
from convert.trade.patterns import said

_HEADING_WORDS = 9
_HEADING = 80
"""Characters of the longest heading."""
_LOOK = 240
"""How many characters around a place tell whether a unit begins there."""
_SENTENCE_END = re.compile(r"[.!?)\]}>:;,*”\"']\Z")
_COMPLETE = re.compile(r"(?:[.!?)\]}][”\"']?|=\s?\d{1,4}|\s\*{2,3})\Z")
_COUNTED = re.compile(r"[(\[{<]\s?\d+[^()\[\]{}<>]{0,40}[)\]}>]\.?\Z")
"""A count at the end of a line: the row is told, whatever the next line begins with."""
_PLACED = r"\b(?:in|into|next|each|around|across|to|from|of|ch(?=\s?\d))\b"
_TOLD = re.compile(
    rf"(?:\s(?:[:=—–→>-]+|\.{{3}})|:)\s?\d(?:(?!{_PLACED})[\w\s,+()&-]){{0,70}}\Z|\d\s?[>}}]\Z", re.IGNORECASE
)
"""A count behind a sign at the end of a line, which needs no full stop."""
_COUNTS = re.compile(r"=\s?\d[\w\s,.()+-]{0,60}\Z")
"""A count behind "=", which defines no stitch: "... join with / sl st in first sc = 6 sc"."""
_UNFINISHED = re.compile(
    r"(?:[,;:&+(\[–—-]|(?<!\*)\*|\b(?:and|then|in|of|the|to|from|with|or|(?-i:an?)|next|each|into|on|at))\Z",
    re.IGNORECASE,
)
_FOR_SIZES = re.compile(rf"{sizes_in_front()}(?=\S)", re.IGNORECASE)
_ROW_WORD = re.compile(r"r(?:ow|nd|ound|d)s?\b", re.IGNORECASE)
_ENDED = re.compile(r"\W{0,6}r(?:ows?|nds?|ounds?)\.\s+\d{1,5}(?:st|nd|rd|th)\b", re.IGNORECASE)
"""The end of a sentence before a label: "... to turn all rows. 2nd row:"."""
_TERMINATED = re.compile(r"[:.)—–-][\s=_*]*\Z")
_SENTENCE = re.compile(
    r"\s?(?:is|are|was|were|will|may|can|forms?|has|have|should|of|as(?!\s(?:rows?|rnds?|rounds?|rds?|r\s?\d)))\b",
    re.IGNORECASE,
)
_NUMBERED = re.compile(
    r"\A\d{1,3}(?:[.)]?\s?(?:,|-|–|to|and|&)\s?\d{1,3}){0,9}\s?(?:\((?:RS|WS|[^\W\d][^\d()]{1,24})\)\s?)?(?:\.--|\.\)|\.|\)|:)(?=\s|\Z)"
    r"|\A\(\d{1,3}\)?(?:\s?[-–]\s?\(?\d{1,3}){0,1}\)[:.]?(?=\s+\S)"
    r"|\A\d{1,3}(?:st|nd|rd|th)\s?[:)](?=\s)"
)
_NAME = r"\A(?P<name>[^\s:].{0,78}?)\s?"
_PREFIX = re.compile(_NAME + r"(?::|\.{3,}|…)\s*(?=\S|\Z)", re.DOTALL)
_DASHED = re.compile(_NAME + r"(?:—|--|\s[-–]\s)\s*(?=\S|\Z)", re.DOTALL)
_CAPITALS = re.compile(
    r"\A(?:\d{1,3}(?:st|nd|rd|th)\s)?(?:[A-Z0-9&/'’.,-]+\s?)+(?:\([^()]{1,60}\)\s?)?(?:[—–-]+\s?[^:]{1,40})?\Z"
)


class Kind(Enum):
    """What a unit is by its form alone."""

    ROW = "row"
    """It begins with the label of a row or round."""
    NUMBERED = "numbered"
    """It begins with a number that may be a row's label or count the items of a list."""
    TEXT = "text"


class Unit(Struct, frozen=True):
    """A row, an item or a paragraph."""

    kind: Kind
    passage: Passage
    fresh: bool = False
    """A blank line stands before it."""
    at_line: bool = True
    """It begins a line."""
    alone: bool = False
    """It is one line by itself, as a heading would be."""
    bullet: bool = False
    strong: bool = False
    """It begins with emphasis."""
    breaks: tuple[int, ...] = ()
    """Offsets in it where lines begin that the author set apart, and not the width of the page."""


def units(block: Block) -> Iterator[Unit]:
    """The units of a block, in order; together they hold all of its text."""
    text = block.passage.text
    lines = {line.offset: line for line in block.lines}
    offsets = [line.offset for line in block.lines]
    cuts = [*_cuts(block), len(text)]
    for index, start in enumerate(cuts[:-1]):
        end = cuts[index + 1]
        passage = block.passage.cut(start, end)
        if passage.text:
            line = lines.get(start)
            inside = block.lines[bisect_right(offsets, start) : bisect_left(offsets, end)]
            yield Unit(
                kind_of(passage.text),
                passage,
                fresh=index == 0,
                at_line=line is not None,
                alone=line is not None and not inside and (end == len(text) or end in lines),
                bullet=line is not None and line.bullet,
                strong=start in block.strong,
                breaks=tuple(other.offset - start for other in inside if not other.wrapped),
            )


def kind_of(text: str) -> Kind:
    """What the beginning of a text makes it.

    >>> kind_of("Rnd 2: Inc around."), kind_of("3. Sew on."), kind_of("Rows 2 and 3 form the pattern.")
    (<Kind.ROW: 'row'>, <Kind.NUMBERED: 'numbered'>, <Kind.TEXT: 'text'>)
    """
    if label_length(text):
        return Kind.ROW
    return Kind.NUMBERED if numbered_length(text) else Kind.TEXT


def label_length(text: str) -> int:
    """The length of a row label at the start; one that runs on into a sentence ("Row 3 is ...") does not count."""
    sizes = _FOR_SIZES.match(text)
    if sizes:
        behind = label_length(text[sizes.end() :])
        return behind and sizes.end() + behind
    length = 0 if _ENDED.match(text) else row_label_length(text)
    if not length or _TERMINATED.search(text[:length]):
        return length
    return 0 if _SENTENCE.match(text[length:]) else length


def ends_counted(text: str) -> bool:
    """Whether a text ends with a count in brackets, as a row does.

    >>> ends_counted("sc around (18)"), ends_counted("sew on (see page 2) the eyes")
    (True, False)
    """
    return bool(_COUNTED.search(text.rstrip()))


def numbered_length(text: str) -> int:
    """The length of a number that stands in front as a label does ("3.", "46, 47.", "(3)")."""
    match = _NUMBERED.match(text)
    return match.end() if match else 0


def heading_prefix(text: str) -> tuple[str, int] | None:
    """A heading in front of text: its words, and the length it takes with its stop.

    A dash ends a heading of the table, or one that no colon ends.

    >>> heading_prefix("BACK—First Square: Ch 4"), heading_prefix("Make 21 [25: 29] ch")
    (('BACK—First Square', 19), None)
    """
    if label_length(text):
        return None
    found = [match for pattern in (_DASHED, _PREFIX) if (match := pattern.match(text)) and _is_name(match["name"])]
    match = next((m for m in found if section_of(m["name"]) is not None), found[-1] if found else None)
    return (match["name"], match.end()) if match else None


_NUMBERED_ROWS = re.compile(rf"{_ROW_WORD.pattern}\.?\s?\d+\s?[-–—]\s?\d+\s*\Z", re.IGNORECASE)
"""Rows by their numbers, even where those are none that a label may have."""


def _is_name(text: str) -> bool:
    if _NUMBERED_ROWS.match(text) or any(text.count(a) != text.count(b) for a, b in ("()", "[]")):
        return False  # the colon stands inside a bracket
    return section_of(text) is not None or (len(text.split()) <= _HEADING_WORDS and not re.search(r"[.!?]\s", text))


def in_capitals(text: str) -> bool:
    """Whether a heading is set in capitals: "LEFT EAR (make 2)", "BACK—First Square"."""
    return bool(_CAPITALS.match(text)) and sum(char.isupper() for char in text) >= 3


def _cuts(block: Block) -> list[int]:
    """The offsets at which units begin, in order."""
    text = block.passage.text
    lines = {line.offset: line for line in block.lines}
    ends = {a.offset: b.offset for a, b in pairwise(block.lines)}
    inside = {match.end() for match in re.finditer(r"\s(?=[\dRrNnFfSsBbLl])", text)}
    cuts = [0]
    label_end = label_length(text[:_LOOK])
    sized = {offset: all_sizes().match(text[offset : offset + _LOOK]) for offset in lines}
    behind_sizes = {offset + match.end() for offset, match in sized.items() if match is not None}
    for offset in sorted({*lines, *block.strong, *inside, *behind_sizes} - {0}):
        if offset < label_end:
            continue
        if offset in behind_sizes or sized.get(offset):
            cuts.append(offset)
            continue
        line = lines.get(offset)
        begins = (
            _begins_at_line(text, cuts[-1], line, ends.get(offset, len(text)))
            if line is not None
            else _begins_inside(text, offset, offset in block.strong)
        )
        if begins or (line is not None and offset in block.strong and _begins_inside(text, offset, strong=True)):
            cuts.append(offset)
            label_end = offset + label_length(text[offset : offset + _LOOK])
    return cuts


def _begins_at_line(text: str, begun: int, line: Line, end: int) -> bool:
    """Whether a unit begins with the line that ends at `end`, where the unit before it began at `begun`."""
    rest, earlier = (
        text[line.offset : line.offset + _LOOK],
        text[max(begun, line.offset - _LOOK) : line.offset].rstrip(),
    )
    length = label_length(rest)
    if _in_bracket(earlier, rest):
        return False
    if line.bullet or (length and _set_off(rest[:length], earlier)):
        return True
    counts = kind_of(text[begun : begun + _LOOK]) is Kind.ROW and _COUNTS.search(text[line.offset : end].rstrip())
    if (DEFINES.match(rest) and not counts) or (DEFINES.match(text[begun:]) and not line.wrapped):
        return True
    if rest[0].isupper() and (
        _is_known(text[line.offset : min(end, line.offset + _LOOK)]) or _has_again(rest, earlier)
    ):
        return True
    begin = text[begun : min(line.offset, begun + _LOOK)].rstrip()
    if _is_known(begin) or (len(begin.split()) <= _HEADING_WORDS and in_capitals(begin)):
        return True
    below = _begins_below(text[begun : line.offset], rest, line) and not _UNFINISHED.search(earlier)
    if below or _goes_on_anew(begin, earlier, rest):
        return True
    if line.wrapped:
        return bool(_SENTENCE_END.search(earlier)) and _is_heading(rest, capitals=False)
    shouted = kind_of(begin) is Kind.ROW and begin.isupper()  # capitals tell nothing where all is typed in them
    numbered = bool(numbered_length(rest) and _SENTENCE_END.search(earlier))
    if numbered or _is_heading(rest, capitals=not shouted) or _remarks_below(begin, earlier, rest):
        return True
    if label_length(begin) == len(begin):
        return False
    prefix = heading_prefix(begin)
    if not rest[0].isalpha() and begins_with_chain(begin):
        return False
    if kind_of(begin) is Kind.TEXT and (prefix is None or section_of(prefix[0]) is not None):
        counted = ends_counted(earlier)
        opens = rest[0] not in "([*" or counted or numbered_length(rest) > 0
        told = counted and ends_counted(text[line.offset : min(end, line.offset + _LOOK)])
        return not _UNFINISHED.search(earlier) and (not rest[0].islower() or told) and opens
    ended = _COMPLETE.search(earlier) or (_TOLD.search(earlier) and rest[1:2].islower())
    return bool(ended) and rest[0].isupper()


def _begins_below(begun: str, rest: str, line: Line) -> bool:
    """Whether a line goes on with the numbers of the one above, or begins the work below a few words that name it."""
    if numbered_length(rest):
        return _follows_on(begun, rest) or (re.match(r"\(?1(?!\d)", rest) is not None and _would_head(begun))
    return begins_with_chain(rest) and not line.wrapped and _would_head(begun) and kind_of(begun) is Kind.TEXT


def _goes_on_anew(begun: str, earlier: str, rest: str) -> bool:
    """Whether a line, however wide the one above, tells rows of its own: the first behind a chain, or repeated ones."""
    first = numbered_length(rest) > 0 and _is_first_behind_chain(begun, rest)
    return first or bool(_COMPLETE.search(earlier) and _repeats_rows().match(rest))


def _is_first_behind_chain(begun: str, rest: str) -> bool:
    """Whether a line with nothing but a foundation chain stands above the first numbered row: "ch 4", "1) 6 dc in 4th
    ch from hook".
    """
    first = re.search(r"\d+", rest)
    short = len(begun.split()) <= _HEADING_WORDS and begins_with_chain(begun)
    return short and first is not None and int(first.group()) == 1


_BRACKET = 70
"""The most characters between a break of the line and either end of the bracket that it stands in."""


def _in_bracket(earlier: str, rest: str) -> bool:
    """Whether the line breaks within a bracket: "... turn. (20 dc, / 4 ch-2 sps)"."""
    before, behind = earlier[-_BRACKET:], rest[:_BRACKET].split("(", maxsplit=1)[0]
    return before.count("(") > before.count(")") and ")" in behind and ":" not in behind


@cache
def _repeats_rows() -> re.Pattern[str]:
    """ "Rep rows 2 and 3 until ...", "Repeat last row 5 times" at the start of a line: no part of the row above it."""
    return re.compile(rf"{said('repeat')}\s(?:{said('the')}\s)?{said('last', 'row', 'round')}\b", re.IGNORECASE)


def _follows_on(begun: str, rest: str) -> bool:
    """Whether both begin with a number in front, and the numbers follow on: "3. Sc = 12", "4.-6. ..."."""
    above = [int(number) for number in re.findall(r"\d+", begun[: numbered_length(begun)])]
    number = re.search(r"\d+", rest)
    return bool(above) and number is not None and int(number.group()) == above[-1] + 1


def _would_head(begun: str) -> bool:
    """Whether words above a line are few and begin with a capital, as a heading would."""
    return len(begun.split()) <= _NAMED and begun[:1].isupper() and not re.search(r"[.,;]\s*\Z", begun)


_NAMED = 6
"""The most words of such a heading."""


def _is_known(text: str) -> bool:
    """Whether a text is a heading of the table and nothing else."""
    return len(text) <= _HEADING and section_of(text) is not None


def _remarks_below(begun: str, earlier: str, rest: str) -> bool:
    """Whether a line in small letters, below a row that ends with its count, is no more of that row's work."""
    row = rest[0].islower() and kind_of(begun) is Kind.ROW
    return row and bool(_bare_count().search(earlier)) and not closes_row(rest)


@cache
def _bare_count() -> re.Pattern[str]:
    """A count of nothing but stitches at the end of a line, which ends its row: "(18)", "= 18 sts"."""
    number = rf"\s?\d{{1,4}}(?:\s?{said('stitch')})?"
    return re.compile(rf"(?:[(\[{{<]{number}\s?[)\]}}>]|={number})\.?\Z", re.IGNORECASE)


DEFINES = re.compile(r"(?![Rr]\d)[A-Za-z](?:[A-Za-z -]|(?<=[A-Za-z])\d){1,24}\s?=\s?[\d\w(*\[]")
"""A stitch or an abbreviation and what it is: "picot = ch 3, sl st in 3rd ch from hook"."""


def _set_off(label: str, earlier: str) -> bool:
    """A label at the start of a line stands there by intent if something sets it off from the sentence before."""
    return ":" in label or bool(_SENTENCE_END.search(earlier)) or not _UNFINISHED.search(earlier)


def _is_heading(rest: str, *, capitals: bool) -> bool:
    prefix = heading_prefix(rest[:120])
    if prefix is None:
        return False
    return (section_of(prefix[0]) is not None and rest[0].isupper()) or (capitals and in_capitals(prefix[0]))


def _has_again(rest: str, earlier: str) -> bool:
    """Whether a line begins that has earlier rows worked again."""
    return bool(_again().match(rest)) and not _UNFINISHED.search(earlier)


@cache
def _again() -> re.Pattern[str]:
    """Earlier rows worked again, told in a line of their own: "Rep Rows 2 and 3 ..."."""
    last = rf"(?:{said('the')}\s)?{said('last')}\s(?:\d+\s)?"
    return re.compile(rf"{said('repeat')}\s(?:{last}{_ROW_WORD.pattern}|{_ROW_WORD.pattern}\.?\s?\d)", re.IGNORECASE)


@cache
def _leads() -> re.Pattern[str]:
    """ "... and work the", in front of a label in the middle of a sentence."""
    return re.compile(rf"\b{said('work')}\s{said('the')}\Z", re.IGNORECASE)


def _begins_inside(text: str, offset: int, strong: bool) -> bool:
    """Whether a row or heading begins within a line: set off by emphasis, or a label behind the end of a sentence."""
    rest, earlier = text[offset : offset + _LOOK], text[max(0, offset - _LOOK) : offset].rstrip()
    length = label_length(rest)
    label = rest[:length].rstrip()
    if strong:
        prefix = heading_prefix(rest)
        named = prefix is not None and (in_capitals(prefix[0]) or section_of(prefix[0]) is not None)
        return named or bool(_TERMINATED.search(label))
    if not length or not _ROW_WORD.search(label):
        return False
    if _leads().search(earlier):
        return ":" in label or label.endswith(";")
    if not _SENTENCE_END.search(earlier):
        return False
    return ":" in label or (label.endswith(("--", "—", ".")) and label[0].isupper() and bool(_COMPLETE.search(earlier)))
