"""Keeps what follows from a row's steps alone: a row that is worked again and again is looked over once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")
_MOST = 512


def remembered(work: Callable[[Asked], Answer]) -> Callable[[Asked], Answer]:
    """The function, with each answer kept for the very object that was asked about.

    Not for equal ones: to compare two trees takes as long as most of the work. The objects are kept too, so that none
    can be taken for another one; when there are many, all are forgotten.
    """
    known: dict[int, tuple[Asked, Answer]] = {}

    @wraps(work)
    def ask(asked: Asked) -> Answer:
        found = known.get(id(asked))
        if found is None:
            if len(known) >= _MOST:
                known.clear()
            found = known[id(asked)] = (asked, work(asked))
        return found[1]

    return ask
