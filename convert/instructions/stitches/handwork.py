"""Reads sentences of handwork with yarn and filling, from which nothing is crocheted: "Wind yarn 30 times around a
card, cut both ends.", "Cut yarn into 2 yard lengths." (`shared/asides.yaml`).
"""

from __future__ import annotations

from convert.document.steps import Step, Verbatim
from convert.instructions.words.asides import begins_sentence, is_handwork
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import listed

_CROCHETED = ("stitch", "tog", "formula")


def read_handwork(cur: Cursor) -> list[Step] | None:
    """A whole sentence that begins with such handwork, or comes to it behind "when ..."; none that names a stitch."""
    first = cur.peek().text[:1]
    if not first.isupper() or cur.depth or not begins_sentence(cur):
        return None
    start = cur.at
    end = _sentence_end(cur)
    if end is None or end == start or not is_handwork(cur.text(start, end)):
        return None
    cur.at = end
    return [Verbatim((cur.text(start, end),), True, cur.span(start))]


def _sentence_end(cur: Cursor) -> int | None:
    """Behind the last word before the full stop; None where a stitch is named. The stop of a shade ("Dk. Green") ends
    no sentence.
    """
    end = cur.at
    while end < len(cur.words):
        word = cur.words[end]
        if word.kind in _CROCHETED:
            return None
        if word.id == "." and cur.words[end - 1].text.lower() not in listed("shades"):
            break
        end += 1
    return end


def read_closed(cur: Cursor) -> list[Step] | None:
    """A lone "close" that pulls the last hole together, and closes no round: alone, or behind "fasten off and"."""
    if not cur.is_listed("closes") or not (cur.peek(1).kind == "end" or cur.is_mark(".", ",", "!", ahead=1)):
        return None
    ended = any(cur.is_word("fasten-off", ahead=-before) for before in (1, 2) if before <= cur.at)
    if cur.at and not ended:
        return None
    cur.at += 1
    return [Verbatim((cur.text(cur.at - 1, cur.at),), True, cur.span(cur.at - 1))]
