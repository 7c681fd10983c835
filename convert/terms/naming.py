"""The names of stitches and words in a term system: the one door through which every writer goes."""

from __future__ import annotations

from convert.document.prose import Form, Prose, Term
from convert.document.records import Special, TermSystem
from convert.trade.stitches import Names, stitches
from convert.trade.words import words


def term(id: str, system: TermSystem, form: Form = Form.ABBREVIATION, legs: int = 0) -> str:
    """A stitch's or word's name in one system.

    Raises KeyError for an id that neither table has: the caller holds a document that was not checked.

    >>> term("dc", TermSystem.UK), term("dc", TermSystem.UK, Form.NAME), term("sc", TermSystem.US, legs=2)
    ('tr', 'treble crochet', 'sc2tog')
    """
    stitch = stitches().get(id)
    if stitch is None:
        return words()[id].written(system)
    return _named(stitch.names(system), form, legs)


def _named(names: Names, form: Form, legs: int) -> str:
    if legs:
        name = f"{names.name} {legs} together"
        return f"{names.abbreviation}{legs}tog" if form is Form.ABBREVIATION else name
    if form is Form.ABBREVIATION:
        return names.abbreviation
    return names.name if form is Form.NAME else names.plural


def kind_name(kind: str, system: TermSystem, specials: tuple[Special, ...] = ()) -> str:
    """The name of a kind of stitch as it is counted, decreases included.

    >>> kind_name("dc3tog", TermSystem.UK), kind_name("sc", TermSystem.UK)
    ('tr3tog', 'dc')
    """
    own = next((special for special in specials if special.id == kind), None)
    if own is not None:
        return own.abbreviation or own.name
    base = kind.removesuffix("tog").rstrip("0123456789") if kind.endswith("tog") else kind
    if base not in stitches():
        return kind
    legs = kind[len(base) : -3] if kind != base else ""
    return term(base, system) + (f"{legs}tog" if legs else "")


def written_term(reference: Term, system: TermSystem, specials: tuple[Special, ...] = ()) -> str:
    """A term reference as this system writes it. The author's own stitches keep the author's names."""
    own = next((s for s in specials if s.id == reference.id), None)
    if own is not None:
        forms = {
            Form.ABBREVIATION: own.abbreviation or own.name,
            Form.NAME: own.name,
            Form.PLURAL: own.plural or own.name,
        }
        text = forms[reference.form]
    else:
        text = term(reference.id, system, reference.form, reference.legs)
    return text[:1].upper() + text[1:] if reference.capital else text


def write_prose(prose: Prose, system: TermSystem, specials: tuple[Special, ...] = ()) -> str:
    """A text with its terms written out for one system.

    >>> write_prose(("Join with ", Term("sl-st"), "."), TermSystem.UK)
    'Join with ss.'
    """
    return "".join(part if isinstance(part, str) else written_term(part, system, specials) for part in prose)
