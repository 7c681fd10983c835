"""Writes stated counts."""

from __future__ import annotations

from convert.document.numbers import Number
from convert.document.prose import Form, Prose, Term
from convert.document.records import CountItem, CountKind
from convert.instructions.repeats import is_one
from convert.instructions.wording import Wording
from convert.instructions.writing import joined, stitch_term, write_number
from convert.trade.stitches import stitches


def write_count(item: CountItem, wording: Wording) -> Prose:
    """One figure of a stated count: "36 dc", "4 ch-3 sps", "48 (56, 64) sts"."""
    number = f"{write_number(item.number, wording)} "
    many = item.number
    if item.kind is CountKind.STITCH and item.of is not None:
        return joined(number, *_counted(item.of, wording, many))
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


def _counted(of: str, wording: Wording, many: Number) -> Prose:
    """A counted stitch; a group that is called by its full name stands in the plural, "sl st" in that of its own."""
    for legs in range(2, 10):
        if of.endswith(f"{legs}tog"):
            return (Term(of.removesuffix(f"{legs}tog"), legs=legs),)
    if is_one(many):
        return (stitch_term(of, wording),)
    if _named_in_full(of, wording):
        return (Term(of, Form.PLURAL),)
    entry = None if any(s.id == of for s in wording.specials) else stitches().get(of)
    return joined(stitch_term(of, wording), entry.names(wording.system).ending if entry is not None else "")


def _named_in_full(id: str, wording: Wording) -> bool:
    own = next((s for s in wording.specials if s.id == id), None)
    if own is not None:
        return bool(own.plural) and own.abbreviation.casefold() in ("", own.name.casefold())
    entry = stitches().get(id)
    names = entry.names(wording.system) if entry is not None else None
    return names is not None and names.abbreviation == names.name
