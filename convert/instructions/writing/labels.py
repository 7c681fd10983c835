"""Writes the labels of rows."""

from __future__ import annotations

from convert.document.records import Label, RowKind
from convert.instructions.repeats.repeat import is_one
from convert.instructions.writing.pieces import ordinal, write_number
from convert.instructions.writing.wording import Wording


def write_label(label: Label, wording: Wording) -> str:
    """ "Rnd 5", "Rnds 6-9", "Next 4 rows"; empty for an unlabelled line."""
    plural = len(label.numbers) > 1
    noun = ("Rnd" if label.kind.is_round else "Row") + ("s" if plural else "")
    if label.kind in (RowKind.ROW, RowKind.ROUND):
        spans = _span(label, wording)
        if label.rest:
            spans = ", ".join(str(n) for n in label.numbers[:-1]) + f" and {label.numbers[-1]}"
        return f"{noun} {spans}{_every(label, noun.lower())}" + (" (cont'd)" if label.continued else "")
    if label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND):
        small = noun.lower()
        number = write_number(label.repeat, wording)
        one = is_one(label.repeat) or (wording.size is not None and number == "1")
        return f"Next {small}" if one else f"Next {number} {small}s"
    if label.kind is RowKind.UNLABELLED:
        return ""
    return label.kind.value.split("-")[0].capitalize().replace("Setup", "Set-up") + f" {noun.lower()}"


def _span(label: Label, wording: Wording) -> str:
    """ "5", "6-9", "3-48 (54, 60)"."""
    first = write_number(label.starts if label.starts is not None else label.first or 0, wording)
    ends = label.ends if label.ends is not None else label.last
    last = write_number(ends, wording) if ends is not None else first
    return first if first == last else f"{first}-{last}"


def _every(label: Label, noun: str) -> str:
    """ "and every even row" behind the number of the first of them."""
    if not label.every:
        return ""
    which = ("even", "odd")[(label.first or 0) % 2] if label.every == 2 else f"following {ordinal(label.every)}"
    return f" and every {which} {noun}"
