"""A word in front of a foundation that says no more than that a piece is begun: "Setup: Ch 4.", "Start: ch 9"."""

from __future__ import annotations

import re
from functools import cache

from convert.trade.patterns import chain, said, signs


def name_length(text: str) -> int:
    """The length of such a word with its colon, where a foundation chain or a ring stands behind it; else 0.

    >>> name_length("Setup: Ch 4."), name_length("Setup: sc in each st."), name_length("Fan: ch 3, dc in same st")
    (7, 0, 0)
    """
    found = _named().match(text) if ":" in text[:_LONGEST] else None
    return found.end() if found is not None else 0


_LONGEST = 24
"""Characters of the longest of these words."""


@cache
def _named() -> re.Pattern[str]:
    begun = rf"(?:{signs('begin')}\s)?(?:{said('the')}\s|an?\s)?"
    ring = rf"{said('adjustable-ring')}\b"
    founded = rf"{begun}(?:{chain()}\s?(?:{said('of')}\s)?\d|\d{{1,4}}\s?{chain()}\b|{ring})"
    return re.compile(rf"\s*{signs('foundations')}\s?:\s+(?={founded})", re.IGNORECASE)
