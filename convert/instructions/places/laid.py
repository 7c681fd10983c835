"""Reads how pieces lie on one another while they are crocheted together: "place 2 motifs wrong sides together",
"through back loops of both squares". It changes no count.
"""

from __future__ import annotations

from convert.document.steps import Step, Verbatim
from convert.instructions.words.asides import begins_sentence
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign

_MOST = 6
"""How many words may name what lies there: "hold the first two squares with ..."."""
_FURTHER = ("attach", "join", "work", "and", "begin")


def read_laid(cur: Cursor) -> list[Step] | None:
    """ "Hold two squares with right sides together", at the beginning of a sentence, in front of a mark or of what is
    done then.
    """
    start = cur.at
    if "laid_together" not in cur.begun or not begins_sentence(cur) or not cur.take_listed("laying"):
        return None
    while not takes_sign(cur, "laid_together"):
        if cur.peek().kind not in ("word", "unknown", "num", "ord") or cur.at - start > _MOST or cur.done:
            cur.at = start
            return None
        cur.at += 1
    takes_sign(cur, "laid_how")
    if not (cur.done or cur.peek().kind == "mark" or cur.is_word(*_FURTHER)):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def takes_both(cur: Cursor) -> bool:
    """Whether "of both squares" or "and through both layers" is read, behind the loops of a row that joins them."""
    start = cur.at
    cur.take_words("and")
    if cur.take_words("layers"):
        return True
    cur.take_words("in", "of")
    both = cur.take_words("both") > 0
    if both and (cur.take_words("piece") or cur.take_kind("unknown") is not None):
        return True
    cur.at = start
    return False
