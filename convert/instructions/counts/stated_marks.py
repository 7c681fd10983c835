"""The marks that a stated count stands behind, between or in: "--- 24", "~24~", "[24]", "* 24 *", "... 24 sts"."""

from __future__ import annotations

from convert.instructions.words.cursor import Cursor

CLOSERS = {"(": ")", "[": "]", "{": "}", "<": ">", "|": "|", "~": "~", "«": "»", "【": "】", "\\": "\\"}
"""Brackets of counts, with what closes them."""
_LEADS = ("–", "=", ":", "-", "/", "→", "➡", "➔", ">", "|", "~", "..", "...", "....")
"""Marks that a count may stand behind, one or several of them: "--- 24", "// 24 dc", "=> 24". The same mark may stand
behind it once more: "~24~", "//24//".
"""
_MOST_LEADS = 4
_SIGNS = ("*", "•", "#")
"""Signs of repeats that some put a count between ("*24*"), or in front of it ("• 24"), at the end of a row."""
_STOPS = (",", ".", ";", ":")


def leads(cur: Cursor, ahead: int = 0) -> bool:
    """Whether a mark stands there that a count may stand behind."""
    mark = cur.peek(ahead)
    return mark.kind == "mark" and (mark.id in _LEADS or mark.id.startswith(".."))


def take_leads(cur: Cursor) -> str:
    """Reads the marks in front of a count; which the first one is."""
    lead = cur.peek().id
    for _ in range(_MOST_LEADS):
        if not leads(cur) or (cur.is_mark("–", "-") and cur.is_mark("(", "[", ahead=1) and leads(cur, -1)):
            break  # the dash of "— – (56, 64) sts" stands for the first size
        cur.at += 1
    return lead


def take_trail(cur: Cursor, lead: str) -> None:
    """Reads the same marks behind a count."""
    for _ in range(_MOST_LEADS):
        if not cur.take_mark(lead):
            return


def is_between_signs(cur: Cursor) -> bool:
    """Whether "*24*", or "• 24", is all that is left of the row, and no repeat is open that the sign could close."""
    sign = cur.peek().id
    if not cur.is_mark(*_SIGNS) or cur.peek(1).kind != "num" or closes_open(cur, sign):
        return False
    end = len(cur.words)
    while end > cur.at and cur.ids[end - 1] in _STOPS:
        end -= 1
    closed = cur.ids[end - 1] == sign
    if not closed and sign != _BULLET:
        return False
    inside = cur.words[cur.at + 2 : end - closed]
    return len(inside) <= 1 and all(word.kind == "stitch" or word.id == "stitch" for word in inside)


_BULLET = "•"


def closes_open(cur: Cursor, sign: str) -> bool:
    """Whether a repeat that such a sign began is still open at the position."""
    return cur.ids[: cur.at].count(sign) % 2 == 1


def _more_to_work(cur: Cursor) -> bool:
    """Whether stitches of one kind follow a repeat that is told by its number: "(2 sc, inc) x5, 1 sc" works them."""
    return cur.peek().kind == "num" and cur.peek(1).kind in ("stitch", "tog")


def follows_whole_row(cur: Cursor) -> bool:
    """Whether the work in front goes to the end of the row ("sc around, 24 sts", "(sc, inc) x6 18", "6 sc in ring 6"),
    so that a number behind it is none of work.
    """
    comma = cur.at > 0 and cur.is_mark(",", ";", "_", ahead=-1)
    back = -2 if comma else -1
    if cur.at + back < 0:
        return False
    crossed = cur.peek(back).kind == "num" and cur.at + back > 0 and cur.is_word("times", ahead=back - 1)
    crossed = crossed or (cur.is_word("times", ahead=back) and cur.peek(back - 1).kind == "num")
    crossed = crossed and not (comma and _more_to_work(cur))
    ring = not comma and cur.at + back > 0 and cur.is_word("adjustable-ring", "ring", ahead=back)
    placed = cur.at + back > 0 and cur.is_word("each", ahead=back - 1)
    stitch = placed and (cur.is_word("stitch", ahead=back) or cur.peek(back).kind == "stitch")
    looped = comma and cur.is_word("front-loop", "back-loop", ahead=back) and cur.ids[: cur.at].count(",") == 1
    return crossed or ring or stitch or looped or cur.is_word("around", "across", ahead=back)


def repeats_in_front(cur: Cursor, at: int) -> bool:
    """Whether the work in front of word `at` that goes to the end of the row is a repeat from a sign, which may end
    before its last stitches: "rep from * around, 2 sc".
    """
    return any(id in (*_SIGNS, "repeat") for id in cur.ids[max(0, at - _REPEAT) : at])


_REPEAT = 4
"""How far in front of "around," the words "rep from *" stand."""


def at_end(cur: Cursor) -> bool:
    """Whether nothing but full stops is left of the row."""
    ahead = 0
    while cur.is_mark(".", ahead=ahead):
        ahead += 1
    return cur.at + ahead >= len(cur.words)


def only_ended(cur: Cursor) -> bool:
    """Whether nothing but the end of the row stands behind a sentence: "... 24 sc. Turn.", "... 24 sc. Ch 1, turn."."""
    start = cur.at
    stopped = cur.take_mark(".", ",", ";") and cur.is_mark(".", ahead=-1)
    chained = stopped and _take_chains(cur) and (cur.take_mark(",", ";") or cur.take_words("and", "then"))
    ended = cur.take_words("turn", "fasten-off") > 0
    if ended and stopped and not chained and (cur.take_mark(",", ";") or cur.take_words("and", "then")):
        ended = _take_chains(cur)
    ended = ended and at_end(cur)
    cur.at = start
    return ended


def _take_chains(cur: Cursor) -> bool:
    """Reads "ch 1" or "1 ch", which begin the next row behind a count."""
    numbered, named = (1, 0) if cur.peek().id == "ch" else (0, 1)
    if cur.peek(numbered).kind != "num" or cur.peek(named).id != "ch" or cur.peek(named).kind != "stitch":
        return False
    cur.at += 2
    return True


def is_thing(cur: Cursor) -> bool:
    """Whether a word closes the name of what is counted, in the author's words: "2 handle loops", "2 ch-7 handles"."""
    word = cur.peek()
    named = (word.kind == "unknown" and word.text.isalpha()) or cur.is_word("space", "loop", "piece")
    ends = cur.at + 1 == cur.end or cur.is_mark(")", "]", "}", ",", ";", "+", ahead=1)
    return named and word.text.islower() and word.text.endswith("s") and ends
