"""Reads which yarn and which tool the work goes on with: "A", "CC2" and "shade C"; "with 4 mm hook"."""

from __future__ import annotations

from convert.document.steps import ChangeColour, Step, Verbatim
from convert.instructions.chains.chain import read_colour_name
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import listed

_WORDS = 7
"""The most words that tell a tool and its size: "with US size H / 5 mm hook"."""


def take_yarn(cur: Cursor) -> str | None:
    """What a yarn is called by, a letter of the trade or a name of the pattern's list, read if it stands next.

    A letter and the number that is typed close to it are one name: "CC1".
    """
    word, behind = cur.peek(), cur.peek(1)
    if not word.text:
        return None
    joined = word.text + behind.text if behind.kind == "num" and behind.glued else ""
    for name, many in ((joined, 2), (word.text, 1)):
        if name and (name in cur.context.colours or name in listed("yarns")):
            cur.at += many
            return name
    return None


def take_yarn_left(cur: Cursor) -> bool:
    """Whether the yarn that is cut or laid aside is named: "fasten off A", "cut White"; read if so."""
    start = cur.at
    comma = cur.take_mark(",")  # "fasten off, A" as well
    cur.take_listed("yarn_called")
    ends = ("mark", "end") if not comma else ("end",)
    if take_yarn(cur) is not None and (cur.peek().kind in ends or cur.is_word("and") or cur.is_mark(",", ".")):
        return True
    if comma:
        cur.at = start
        return False
    cur.at = start
    cur.take_words("the")
    if read_colour_name(cur) is not None:
        return True
    cur.at = start
    return False


def read_tool(cur: Cursor) -> list[Step] | None:
    """ "With 4 mm hook", "using the larger hook": what the work is done with, which changes nothing about it."""
    start = cur.at
    if not cur.take_words("with"):
        return None
    first = cur.at
    while not cur.done and cur.at - first < _WORDS:
        lexeme = cur.peek()
        if lexeme.text.lower() in listed("tools"):
            cur.at += 1
            told = Verbatim((cur.text(start, cur.at),), True, cur.span(start))
            return [told, *_and_yarn(cur)]
        marked = lexeme.kind == "mark" and lexeme.id not in ("/", "-", ".", "'")
        another = cur.is_word("and") and not cur.is_word("the", ahead=1)  # "cotton and a 4 mm hook"
        if marked or another or lexeme.kind in ("stitch", "tog"):
            break
        cur.at += 1
    cur.at = start
    return None


def _and_yarn(cur: Cursor) -> list[Step]:
    """The yarn that is named with the tool: "with 5 mm hook and A"."""
    start = cur.at
    cur.take_words("and")
    first = cur.at
    cur.take_listed("yarn_called")
    named = take_yarn(cur) if first > start else None
    if named and (cur.done or cur.peek().kind == "mark"):
        return [ChangeColour(named, cur.span(first))]
    cur.at = start
    return []


def read_facing(cur: Cursor) -> list[Step] | None:
    """ "With RS facing" in front of what is done then, without a comma between."""
    start = cur.at
    if not cur.take_words("with"):
        return None
    cur.take_words("the")
    sided = cur.take_words("right-side", "wrong-side") > 0
    held = sided and cur.peek(-1).text.lower().split()[-1] in listed("facing")
    cur.at += sided and not held and cur.is_listed("facing")
    if not sided or not cur.is_word("skip", "attach", "join", "work"):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]
