"""Random documents for property tests.

`documents()` are any documents that the schema allows: what the neutral form must carry. `authored_documents()` are
those whose texts and rows are in standard form, as a reader leaves them: what the forms that authors write must carry.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from functools import cache
from operator import attrgetter
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin

from hypothesis import strategies as st
from msgspec import NODEFAULT, Struct
from msgspec.structs import fields, replace

from convert.document import materials, records, shaping, sizing, steps
from convert.document.codec import STEP_NAMES
from convert.document.extra import Extra
from convert.document.lengths import CENTIMETRES, Length
from convert.document.numbers import Formula, Number, PerSize
from convert.document.placed import counts
from convert.document.prose import Prose, Term
from convert.document.records import Document
from convert.document.sizing import Measure, NamedNumber
from convert.instructions.reader import Context, read_row
from convert.source import Passage

_LETTERS = st.characters(blacklist_categories=["Cs"], blacklist_characters="\x00")
texts = st.text(_LETTERS, max_size=12)
ids = st.text(st.sampled_from("abcdefghijklmnop-0123456789ÅéXYZ"), min_size=1, max_size=8)
whole = st.integers(0, 1_000_000)
decimals = st.decimals(0, 999_999, allow_nan=False, allow_infinity=False, places=3)
lengths = st.builds(Length, decimals, st.sampled_from(sorted(CENTIMETRES)))
numbers: st.SearchStrategy[Number] = st.one_of(
    whole,
    st.lists(st.none() | whole, min_size=1, max_size=4).map(lambda values: PerSize(tuple(values))),
    st.sampled_from(["shells", "6 * shells + 2", "(a + b) * 2"]).map(Formula),
)
formulas = st.sampled_from(["", "shells", "6 * shells + 2", "(a + b) * 2"])
terms = st.builds(Term, ids, legs=st.integers(0, 9), capital=st.booleans())
prose: st.SearchStrategy[Prose] = st.lists(texts | terms, max_size=3).map(tuple)
extras = st.lists(
    st.tuples(
        ids.map("x-{}".format), st.sampled_from(["1", "1.10", '"no"', "[1, 2.50]", '{"a": null, "b": "é"}', "true"])
    ),
    max_size=2,
    unique_by=lambda entry: entry[0],
).map(lambda entries: tuple(Extra(key, value) for key, value in entries))

files = st.sampled_from(["hat.jpg", "photos/hat 2.PNG", "été.webp"])

_BOUNDED: dict[tuple[type, str], st.SearchStrategy[Any]] = {
    (steps.Place, "every"): st.integers(1, 9),
    (steps.Place, "below"): st.integers(0, 9),
    (steps.Place, "chains"): st.none() | st.integers(0, 9),
    (steps.Place, "nth"): st.none() | st.integers(0, 9),
    (steps.Place, "also"): st.just(()),
    (steps.Place, "of"): st.none() | ids,
    (steps.Decrease, "legs"): st.integers(1, 9),
    (steps.Begin, "multiple"): st.integers(1, 9),
    (steps.Again, "first"): st.integers(-9, 9),
    (steps.Again, "last"): st.integers(-9, 9),
    (sizing.Demand, "multiple"): st.integers(1, 9),
    (sizing.Demand, "count"): formulas,
    (sizing.Demand, "equals"): formulas,
    (sizing.Demand, "divides"): formulas,
    (sizing.Fit, "count"): formulas,
    (sizing.BodyTarget, "body"): ids,
    (sizing.BodyTarget, "fit"): st.sampled_from(["", "close", "classic"]),
    (shaping.Shaping, "each"): st.integers(1, 9),
    (shaping.Shaping, "step"): st.integers(1, 9),
    (shaping.Block, "step"): st.integers(1, 9),
    (shaping.Block, "edge"): st.integers(0, 9),
    (records.Colours, "accent"): st.sampled_from(["", "#1f4d7a"]),
    (records.Logo, "file"): st.just("") | files,
    (records.Picture, "file"): files,
    (records.Colours, "accent_dark"): st.sampled_from(["", "#a9c8eb", "#FFF000"]),
    (steps.Until, "length"): st.none() | lengths,
    (steps.Until, "target"): st.none() | ids,
    (sizing.Fit, "plus"): st.integers(-100, 100),
    (sizing.Fit, "step"): st.integers(1, 9),
    (materials.Yarn, "weight"): st.none() | st.integers(0, 7),
    (materials.Hook, "mm"): st.decimals("0.5", 30, allow_nan=False, places=2),
    (Document, "title"): texts.filter(bool),
    (Document, "date"): st.just("") | st.dates().map(str),
    (Document, "shape"): st.sampled_from(["", "square", "hexagon"]),
    (Document, "skill"): st.sampled_from(["", "basic", "easy", "intermediate", "complex"]),
    (Document, "format"): st.just("1"),
    (Document, "spans"): st.just({}),
}
_TEXT_FIELDS = {
    "name",
    "heading",
    "designer",
    "copyright",
    "version",
    "to_fit",
    "fibre",
    "body",
    "size",
    "colour",
    "key",
    "plural",
    "abbreviation",
    "alt",
    "credit",
    "words",
}


@cache
def of(kind: type, depth: int = 2) -> st.SearchStrategy[Any]:
    """Records of one kind, with every field filled at random; `depth` bounds steps inside steps."""
    given = {}
    for field in fields(kind):
        if not counts(field.name):
            continue
        bounded = _BOUNDED.get((kind, field.name))
        found = bounded if bounded is not None else _value(field.type, field.name, depth)
        has_default = field.default is not NODEFAULT
        given[field.name] = st.just(field.default) | found if has_default and bounded is None else found
    return st.builds(kind, **given)


def _value(hint: Any, name: str, depth: int) -> st.SearchStrategy[Any]:
    if hint == Number:
        return numbers
    if hint == Prose:
        return prose
    if hint == steps.Step:
        return any_step(depth)
    if hint == records.Row | records.Remark:
        return of(records.Row) | of(records.Remark)
    if get_origin(hint) in (Union, UnionType):
        kinds = [kind for kind in get_args(hint) if kind is not NoneType]
        inner = (
            numbers
            if len(kinds) > 1
            else st.none()
            if _too_deep(kinds[0], depth)
            else _value(kinds[0], name, depth - 1)
        )
        return st.none() | inner
    if get_origin(hint) is tuple:
        return _many(get_args(hint)[0], name, depth)
    return _single(hint, name, depth)


def _too_deep(kind: Any, depth: int) -> bool:
    return depth <= 0 and kind in (steps.Place, steps.Ending)


def _single(hint: Any, name: str, depth: int) -> st.SearchStrategy[Any]:
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return st.sampled_from(list(hint))
    if hint is str:
        return texts if name in _TEXT_FIELDS else ids
    if hint is Length:
        return lengths
    if isinstance(hint, type) and issubclass(hint, Struct):
        return of(hint, depth)
    return {int: whole, bool: st.booleans(), Decimal: decimals}[hint]


def _many(hint: Any, name: str, depth: int) -> st.SearchStrategy[Any]:
    if hint is Extra:
        return extras
    unique: Callable[[Any], Any] | None = None
    if hint in (Measure, NamedNumber):
        inner: st.SearchStrategy[Any] = st.builds(hint, ids, lengths if hint is Measure else whole)
        unique = attrgetter("name")
    elif hint == steps.Step:
        inner = any_step(depth - 1)
    else:
        inner = _value(hint, name, depth)
    return st.lists(inner, max_size=2, unique_by=unique).map(tuple)


def _later(kind: type, depth: int) -> st.SearchStrategy[Any]:
    return st.deferred(lambda: of(kind, depth))


@cache
def any_step(depth: int) -> st.SearchStrategy[Any]:
    """A step of any kind; at depth 0 without steps inside it."""
    kinds = [k for k in STEP_NAMES.values() if depth > 0 or k not in (steps.Group, steps.Repeat)]
    return st.one_of(*(_later(k, depth) for k in kinds))


def documents() -> st.SearchStrategy[Document]:
    """Any document."""
    return of(Document)


# ------------------------------------------------------------------------------------------- as a reader leaves them

_WORDS = (
    "Weave in the ends.",
    "# 4 yarn, folded",
    "1. Fold it; 2. sew it",
    "- not a list",
    "+ nor this",
    "> nor a quotation",
    "2 * 3 is *not* six_ty_ `x` <b>bold</b> &amp; &lt;",
    "[a](b) ![c] [d]: e \\ \\* ~~x~~ | y |",
    "key: value",
    "'quoted' \"twice\" # hash",
    "no",
    "1.10",
    "012",
    "--- and ...",
    "Été, 編み, \U0001f9f6",
    "{braces} and %percent @at",
    "***",
    "=====",
    "* star",
    "``` fence",
    "a\u2028b and c\u00a0d",
    "Rosa's wrap",
    "http://example.org/a_b_c",
    "&nbsp; &#42; &unknown;",
)
sentences = st.sampled_from(_WORDS)
prose_sentences = sentences.map(lambda text: (text,))
ROWS = (
    "Rnd 1: 6 sc in adjustable ring. (6 sc)",
    "Rnd 2: Ch 3 (counts as dc), *dc in next st, 2 dc in next st; rep from * around, join with sl st in top of beg ch.",
    "Row 3: [Sc in next st, ch 2, skip 2 sts] 4 times, turn.",
    "Rows 4-6: Sc in each st across.",
    "Rnd 7: (3 dc, ch 1, 3 dc) in corner ch-2 sp, dc2tog.",
    "Row 8: Dc in 4th ch from hook, dc in each ch across. (48 (56) dc)",
    "Ch 102.",
)
"""Rows for documents of two sizes."""


_made: st.SearchStrategy[Number] = st.sampled_from([1, 2, PerSize((1, 2))])


@cache
def _row(text: str) -> records.Row:
    return read_row(Passage(text), Context(sizes=(("S", "S"), ("M", "M")))).row


def _blocks() -> st.SearchStrategy[shaping.Block]:
    """Blocks of several kinds with the numbers that each needs."""

    def of_kind(
        kind: shaping.BlockKind, needs: str, **more: st.SearchStrategy[Any]
    ) -> st.SearchStrategy[shaping.Block]:
        def steps_of(line: str) -> st.SearchStrategy[tuple[steps.Step, ...]]:
            return st.just(()) | st.just(read_row(Passage(line), Context()).row.steps)

        given = dict.fromkeys(needs.split(), numbers) | more
        stitch = st.sampled_from(["sc", "hdc"])
        return st.builds(shaping.Block, st.just(kind), stitch, steps_of("Ch 1"), steps_of("turn"), **given)

    kinds, edges = shaping.BlockKind, {"notch": st.none() | numbers, "edge": st.integers(0, 3)}
    return st.one_of(
        of_kind(kinds.SPREAD, "start end", rounds=st.booleans()),
        of_kind(kinds.ARMHOLE, "start end rows", step=st.integers(1, 2), **edges),
        of_kind(kinds.NECK, "start end rows", **edges),
        of_kind(kinds.YOKE, "start sleeve rows"),
        of_kind(kinds.CROWN, "start end sections", rows=st.none() | numbers),
    )


@st.composite
def authored_documents(draw: st.DrawFn) -> Document:
    """A document whose rows were read, and whose texts look as much like syntax as a text can."""
    sizes = (
        sizing.Size("S", "S"),
        sizing.Size("M", draw(st.sampled_from(["Medium", "no", "1.10", "M, wide: x"])), to_fit=draw(sentences)),
    )

    def row(text: str, before: Prose, extra: tuple[Extra, ...], sized: bool) -> records.Row:
        return replace(_row(text), before=before, extra=extra, sizes=("M",) if sized else ())

    schedules = st.builds(
        shaping.Shaping,
        numbers,
        numbers,
        numbers,
        st.just(read_row(Passage("Ch 1, sc2tog, sc in each st across, turn."), Context()).row.steps),
        st.just(read_row(Passage("Ch 1, sc in each st across, turn."), Context()).row.steps),
        each=st.integers(1, 4),
        step=st.integers(1, 2),
        before=st.integers(0, 2),
        after=st.integers(0, 2),
        rounds=st.booleans(),
    )
    blocks = _blocks()
    shaped = st.builds(
        records.Row, st.just(records.Label()), st.just(()), before=st.just(()) | prose_sentences, shaping=schedules
    )
    blocked = st.builds(
        records.Row, st.just(records.Label()), st.just(()), before=st.just(()) | prose_sentences, block=blocks
    )
    rows = (
        shaped | blocked | st.builds(row, st.sampled_from(ROWS), st.just(()) | prose_sentences, extras, st.booleans())
    )
    remarks = st.builds(records.Remark, prose_sentences, st.just(()) | st.just(("S", "M")))
    names = draw(
        st.lists(sentences.filter(lambda text: "\u2028" not in text), min_size=1, max_size=3, unique_by=str.casefold)
    )
    parts = tuple(
        records.Part(
            f"part{index}",
            name,
            draw(st.lists(rows | remarks, max_size=4).map(tuple)),
            draw(st.sampled_from(list(records.Worked))),
            draw(_made),
            draw(extras),
        )
        for index, name in enumerate(names)
    )
    paragraphs = st.lists(prose_sentences, max_size=3).map(tuple)
    sections = st.builds(records.Section, sentences | st.sampled_from(["Notes", "Sizes", "Instructions"]), paragraphs)
    yarn = st.builds(
        materials.Yarn,
        sentences,
        key=st.sampled_from(["", "A"]),
        fibre=sentences,
        ball_metres=st.none() | decimals,
        weighed=st.none()
        | st.builds(
            materials.Weighed, decimals, whole, whole, st.none() | st.just("dc"), st.none() | lengths, size=ids
        ),
        note=prose_sentences,
    )
    return Document(
        title=draw(sentences),
        id=draw(ids),
        written=draw(st.sampled_from(list(records.TermSystem))),
        summary=draw(paragraphs),
        designer=draw(sentences),
        brand=draw(
            st.builds(
                records.Brand,
                st.just("") | sentences,
                st.just(records.Logo()) | st.builds(records.Logo, files, st.just("") | sentences),
                st.builds(records.Colours, st.sampled_from(["", "#1f4d7a"]), st.sampled_from(["", "#a9c8eb"])),
            )
        ),
        version=draw(sentences),
        sizes=sizes,
        demands=draw(
            st.lists(
                st.builds(
                    sizing.Demand,
                    st.sampled_from(["front", "back"]),
                    count=formulas,
                    multiple=st.integers(1, 6),
                    plus=st.integers(0, 3),
                    equals=formulas,
                    least=st.none() | st.integers(0, 5),
                ),
                max_size=2,
            ).map(tuple)
        ),
        from_body=draw(
            st.lists(
                st.builds(
                    sizing.BodyTarget,
                    st.just("chest"),
                    st.just("chest"),
                    st.none() | lengths,
                    st.none() | lengths,
                    st.sampled_from(["", "loose"]),
                ),
                max_size=2,
            ).map(tuple)
        ),
        gauge=draw(
            st.none()
            | st.builds(sizing.Gauge, st.none() | decimals, stitch=st.none() | st.just("dc"), words=prose_sentences)
        ),
        materials=materials.Materials(
            yarns=draw(st.lists(yarn, max_size=1).map(tuple)),
            hooks=draw(
                st.lists(
                    st.builds(materials.Hook, st.decimals("0.5", 15, places=2), st.just(()) | prose_sentences),
                    max_size=2,
                ).map(tuple)
            ),
            notions=draw(paragraphs),
        ),
        beginning_chains=draw(
            st.sampled_from(
                [(), (records.BeginningChain(3, steps.Counts("dc")), records.BeginningChain(4, steps.Counts(None, 1)))]
            )
        ),
        notes=draw(paragraphs),
        parts=parts,
        finishing=draw(paragraphs),
        care=draw(paragraphs),
        errata=draw(paragraphs),
        credits=draw(paragraphs),
        shape=draw(st.sampled_from(["", "hexagon", "garment"])),
        sections=draw(st.lists(sections, max_size=2).map(tuple)),
        pictures=draw(
            st.lists(
                st.builds(
                    records.Picture,
                    files,
                    prose_sentences,
                    st.just(()) | prose_sentences,
                    st.just("") | sentences,
                    st.just("") | sentences,
                ),
                max_size=2,
            ).map(tuple)
        ),
        extra=draw(extras),
    )
