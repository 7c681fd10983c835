"""Writes stated counts."""

from __future__ import annotations

from convert.document.prose import Prose, Term
from convert.document.records import CountItem, CountKind
from convert.instructions.repeats.repeat import is_one
from convert.instructions.writing.pieces import counted_term, joined, stitch_term, write_number
from convert.instructions.writing.wording import Wording


def write_count(item: CountItem, wording: Wording) -> Prose:
    """One figure of a stated count: "36 dc", "4 ch-3 sps", "48 (56, 64) sts"."""
    number = f"{write_number(item.number, wording)} "
    many = item.number
    if item.kind is CountKind.STITCH and item.of is not None:
        return joined(number, *counted_term(item.of, wording, many))
    if item.kind is CountKind.SPACE:
        sps = f"{f'{item.of} ' if item.of else ''}{'sp' if is_one(many) else 'sps'}"
        return joined(number, Term("ch"), f"-{item.chains} {sps}") if item.chains is not None else joined(number, sps)
    if item.kind is CountKind.CHAIN:
        return joined(number, Term("ch"))
    if item.kind is CountKind.GROUP:
        group = "group" if is_one(many) else "groups"
        return joined(number, stitch_term(item.of, wording), f" {group}") if item.of else joined(number, group)
    if item.kind is CountKind.ROWS:
        noun = "rnd" if item.of == "round" else "row"
        return joined(number, noun if is_one(many) else f"{noun}s")
    if item.kind is CountKind.OTHER and item.of is not None:
        return joined(number, item.of)
    return joined(number, "st" if is_one(many) else "sts")
