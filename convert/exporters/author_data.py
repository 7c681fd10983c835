"""A document as the data that an author writes: lengths in words, stitches by their names, rows as lines.

The forms that authors write (YAML, and the head of a Markdown text) are made from this one. What has its usual value is
left out, so that the result reads as if typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from msgspec.structs import replace

from convert.document.extra import Extra
from convert.document.json_text import JsonText, Plain, number_text
from convert.document.lengths import Length, parse_length
from convert.document.materials import Hook, Weighed, Yarn
from convert.document.numbers import Formula, Number, PerSize
from convert.document.prose import Prose
from convert.document.records import (
    BeginningChain,
    Brand,
    Document,
    Part,
    Picture,
    Remark,
    Row,
    Section,
    Special,
    TermSystem,
    Worked,
)
from convert.document.shaping import NUMBERS, Block, Shaping
from convert.document.sizing import BodyTarget, Demand, Fit, Gauge, Size
from convert.document.slugs import slug
from convert.document.steps import ChangeColour
from convert.instructions.writing.rows import opening_colour, write_row
from convert.instructions.writing.wording import Wording, wording_for
from convert.instructions.writing.writer import write_definition, write_steps
from convert.terms.naming import term, write_prose

Data = dict[str, Plain]
_PLAIN_TEXTS = ("designer", "copyright", "date", "version", "skill")


def author_data(document: Document, system: TermSystem) -> Data:
    """Every key of the author's form, in the order in which a pattern is read."""
    writing = _Writing(document, system)
    return filled(
        {
            "format": document.format,
            "title": document.title,
            "id": document.id if document.id != slug(document.title) else None,
            "terms": str(system),
            "written": str(document.written) if document.written is not system else None,
            "summary": writing.paragraphs(document.summary),
            **{key: getattr(document, key) for key in _PLAIN_TEXTS},
            "brand": _brand(document.brand),
            "shape": document.shape,
            "sizes": [_size(size) for size in document.sizes],
            "fits": [writing.fit(fit) for fit in document.fits],
            "demands": [demand_data(demand) for demand in document.demands],
            "from-body": [body_target_data(target) for target in document.from_body],
            "gauge": writing.gauge(document.gauge) if document.gauge is not None else None,
            "yarn": [writing.yarn(yarn) for yarn in document.materials.yarns],
            "hooks": [writing.hook(hook) for hook in document.materials.hooks],
            "notions": [writing.prose(notion) for notion in document.materials.notions],
            "beginning-chains": {str(c.chains): writing.counts(c) for c in document.beginning_chains},
            "special-stitches": [writing.special(special) for special in document.specials],
            "notes": writing.paragraphs(document.notes),
            "parts": [writing.part(part) for part in document.parts],
            "finishing": writing.paragraphs(document.finishing),
            "care": writing.paragraphs(document.care),
            "cautions": list(document.cautions),
            "errata": writing.paragraphs(document.errata),
            "credits": writing.paragraphs(document.credits),
            "sections": [writing.section(section) for section in document.sections],
            "pictures": [writing.picture(picture) for picture in document.pictures],
        },
        document.extra,
    )


def filled(data: dict[str, Plain], extra: Iterable[Extra] = ()) -> Data:
    """The entries that say something, and the `x-` keys."""
    found = {key: value for key, value in data.items() if value is not None and value not in ("", [], {})}
    return {**found, **{one.key: JsonText(one.value) for one in extra}}


class _Writing:
    """Writes what depends on the term system and on the author's own stitches."""

    def __init__(self, document: Document, system: TermSystem) -> None:
        self.wording = wording_for(document, system, formulas=True)
        self._repeated = {*_repeated(s.name for s in document.specials), *_repeated(p.name for p in document.parts)}

    def prose(self, prose: Prose) -> str:
        return write_prose(prose, self.wording.system, self.wording.specials)

    def paragraphs(self, texts: Sequence[Prose]) -> Plain:
        written: list[Plain] = [self.prose(text) for text in texts]
        return written[0] if len(written) == 1 else written

    def stitch(self, id: str) -> str:
        return stitch_word(id, self.wording)

    def fit(self, fit: Fit) -> Plain:
        stitch = {"stitch": self.stitch(fit.stitch)} if fit.stitch is not None else {}
        return filled({**_fit(fit), **stitch}, fit.extra)

    def gauge(self, gauge: Gauge) -> Plain:
        return filled(
            {
                "stitches": gauge.stitches,
                "repeats": gauge.repeats,
                "repeat": gauge.repeat or None,
                "rounds" if gauge.rounds else "rows": gauge.rows,
                "over": length_data(gauge.over) if gauge.over != Gauge().over else None,
                "stitch": self.stitch(gauge.stitch) if gauge.stitch is not None else None,
                "words": self.prose(gauge.words),
            },
            gauge.extra,
        )

    def yarn(self, yarn: Yarn) -> Plain:
        return filled(
            {
                "key": yarn.key,
                "name": yarn.name,
                "weight": yarn.weight,
                "fibre": yarn.fibre,
                "colour": yarn.colour,
                "ball": filled({"grams": yarn.ball_grams, "metres": yarn.ball_metres}),
                "balls": _amounts(yarn.amount.balls),
                "metres": _amounts(yarn.amount.metres),
                "grams": _amounts(yarn.amount.grams),
                "weighed": self.weighed(yarn.weighed) if yarn.weighed is not None else None,
                "note": self.prose(yarn.note),
            },
            yarn.extra,
        )

    def weighed(self, piece: Weighed) -> Plain:
        return filled(
            {
                "grams": piece.grams,
                "stitches": piece.stitches or None,
                "rows": piece.rows or None,
                "stitch": self.stitch(piece.stitch) if piece.stitch is not None else None,
                "width": length_data(piece.width) if piece.width is not None else None,
                "height": length_data(piece.height) if piece.height is not None else None,
                "size": piece.size,
            }
        )

    def shaping(self, shaping: Shaping) -> Plain:
        """A schedule; what has its usual value is left out."""
        return {
            "start": number_data(shaping.start),
            "end": number_data(shaping.end),
            "rows": number_data(shaping.rows),
            "shaped": write_steps(shaping.shaped, self.wording),
            "even": write_steps(shaping.even, self.wording),
            **({"each": shaping.each} if shaping.each != 2 else {}),
            **({"step": shaping.step} if shaping.step != 1 else {}),
            **({"before": shaping.before} if shaping.before else {}),
            **({"after": shaping.after} if shaping.after else {}),
            **({"rounds": True} if shaping.rounds else {}),
        }

    def block(self, block: Block) -> Plain:
        """A block; what has its usual value is left out."""
        numbers = {name: getattr(block, name) for name in NUMBERS}
        return {
            "kind": str(block.kind),
            "stitch": self.stitch(block.stitch),
            **{name: number_data(number) for name, number in numbers.items() if number is not None},
            **({"begin": write_steps(block.begin, self.wording)} if block.begin else {}),
            **({"close": write_steps(block.close, self.wording)} if block.close else {}),
            **({"step": block.step} if block.step != 1 else {}),
            **({"edge": block.edge} if block.edge != 1 else {}),
            **({"rounds": True} if block.rounds else {}),
        }

    def hook(self, hook: Hook) -> Plain:
        if not hook.use and not hook.extra and hook.mm < 100 and hook.mm == round(hook.mm, 2):
            return f"{number_text(hook.mm)} mm"
        return filled({"mm": hook.mm, "use": self.prose(hook.use)}, hook.extra)

    def counts(self, chain: BeginningChain) -> str:
        stitch = self.stitch(chain.counts.stitch) if chain.counts.stitch is not None else "none"
        return f"{stitch} + {chain.counts.chains}" if chain.counts.chains else stitch

    def special(self, special: Special) -> Plain:
        return filled(
            {
                "name": special.name,
                "abbreviation": special.abbreviation,
                "plural": special.plural,
                "make": write_definition(special.steps, self.wording),
                "words": self.prose(special.words),
                "id": self._id(special.id, special.name),
            },
            special.extra,
        )

    def part(self, part: Part) -> Plain:
        head = filled(
            {
                "name": part.name,
                "id": self._id(part.id, part.name),
                "worked": str(part.worked) if part.worked is not Worked.UNSAID else None,
                "make": number_data(part.make) if part.make != 1 else None,
            },
            part.extra,
        )
        opening = opening_colour(part.rows)
        return {**head, "rows": [self.item(item, opening) for item in part.items]}

    def item(self, item: Row | Remark, opening: ChangeColour | None) -> Plain:
        sizes: Plain = list(item.sizes)
        if isinstance(item, Remark):
            return filled({"remark": self.prose(item.words) or " ", "sizes": sizes})
        if item.shaping is not None or item.block is not None:
            shape: dict[str, Plain] = {}
            if item.shaping is not None:
                shape["shape"] = self.shaping(item.shaping)
            elif item.block is not None:
                shape["block"] = self.block(item.block)
            return {**shape, **filled({"sizes": sizes, "before": self.prose(item.before)}, item.extra)}
        line = write_row(replace(item, sizes=(), before=()), self.wording, opening)
        if not (item.sizes or item.before or item.extra):
            return line
        return {"row": line, **filled({"sizes": sizes, "before": self.prose(item.before)}, item.extra)}

    def section(self, section: Section) -> Plain:
        return {"heading": section.heading, "text": self.paragraphs(section.paragraphs)}

    def picture(self, picture: Picture) -> Plain:
        return filled(
            {
                "file": picture.file,
                "alt": self.prose(picture.alt),
                "caption": self.prose(picture.caption),
                "credit": picture.credit,
                "part": picture.part,
            }
        )

    def _id(self, id: str, name: str) -> str | None:
        """The id, unless readers make the same one from the name."""
        return id if slug(name) != id or slug(name) in self._repeated else None


def _repeated(names: Iterable[str]) -> set[str]:
    slugs = [slug(name) for name in names]
    return {one for one in slugs if slugs.count(one) > 1}


def stitch_word(id: str, wording: Wording) -> str:
    """A stitch as the system abbreviates it; the author's own as the author does."""
    own = next((s for s in wording.specials if s.id == id), None)
    if own is not None:
        return own.abbreviation or own.name
    try:
        return term(id, wording.system)
    except KeyError:
        return id


def _brand(brand: Brand) -> Plain:
    colours = filled({"accent": brand.colours.accent, "accent-dark": brand.colours.accent_dark})
    logo = filled({"file": brand.logo.file, "alt": brand.logo.alt})
    return filled({"name": brand.name, "logo": logo, "colours": colours})


def _size(size: Size) -> Plain:
    data = filled(
        {
            "id": size.id,
            "name": size.name if size.name != size.id else None,
            "target": {measure.name: length_data(measure.length) for measure in size.target},
            "numbers": {number.name: number.value for number in size.numbers},
            "to-fit": size.to_fit,
            "body": size.body,
        },
        size.extra,
    )
    return size.id if len(data) == 1 else data


def _fit(fit: Fit) -> Data:
    usual = Fit(fit.number, fit.target, fit.along)
    counted = {
        key: getattr(fit, key) if getattr(fit, key) != getattr(usual, key) else None
        for key in ("each", "plus", "across", "least", "most", "step")
    }
    edging = length_data(fit.edging) if fit.edging is not None else None
    tolerance = length_data(fit.tolerance) if fit.tolerance is not None else None
    named: dict[str, Plain] = {"number": fit.number, "target": fit.target, "along": str(fit.along)}
    return filled({**named, "count": fit.count, **counted, "edging": edging, "tolerance": tolerance})


def demand_data(demand: Demand) -> Plain:
    """A demand; what it does not ask for is left out."""
    usual = Demand(demand.number)
    names = ("count", "multiple", "plus", "equals", "divides", "least", "most")
    asked = {name: getattr(demand, name) for name in names if getattr(demand, name) != getattr(usual, name)}
    return {"number": demand.number, **asked}


def body_target_data(target: BodyTarget) -> Plain:
    """A target from a body."""
    lengths = {"ease": target.ease, "less": target.less}
    said = {key: length_data(value) for key, value in lengths.items() if value is not None}
    return filled({"target": target.target, "body": target.body, **said, "fit": target.fit})


def length_data(length: Length) -> Plain:
    """A length in words, or exactly where its words are rounded."""
    if parse_length(length.said) == length:
        return length.said
    return {"cm": length.cm, "unit": length.unit}


def _amounts(values: tuple[Decimal, ...]) -> Plain:
    return values[0] if len(values) == 1 else list(values)


def number_data(number: Number) -> Plain:
    """A number as authors write it."""
    if isinstance(number, PerSize):
        return list(number.values)
    return f"{{{number.text}}}" if isinstance(number, Formula) else number
