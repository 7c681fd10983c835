"""The data that stand in an author's YAML or at the head of a Markdown text, as records of the document.

The data have passed `schema/authored.schema.json` before they come here.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from convert.document.extra import Extra
from convert.document.located import Located
from convert.document.materials import Amount, Hook, Materials, Yarn
from convert.document.prose import Prose
from convert.document.records import BeginningChain, Brand, Colours, Logo, Picture, Section, TermSystem
from convert.document.sizing import Along, Fit, Gauge, Measure, NamedNumber, Size
from convert.document.slugs import free_slug, slug
from convert.document.steps import Counts
from convert.importers.author import Author
from convert.importers.graded import body_target, demand, formula, weighed
from convert.importers.measures import decimal, each_size, length, metres, whole, words
from convert.trade.hooks import hook_named

_NOTHING = Located({})
_COUNTS = re.compile(r"\s*(?P<stitch>[^+]*?)\s*(?:\+\s*(?P<chains>[0-9]{1,3})\s*)?\Z")
_MM = re.compile(r"(?<![0-9.,])([0-9]{1,2}(?:[.,][0-9]{1,2})?)\s*mm(?![A-Za-z])")
_PLAIN_TEXTS = ("designer", "copyright", "date", "version", "skill")
_PARAGRAPHS = ("summary", "notes", "finishing", "care", "errata", "credits")


def extras(data: Located) -> tuple[Extra, ...]:
    """The `x-` keys."""
    return tuple(Extra(key, value) for key, value in data.extras())


def document_fields(data: Located, author: Author, name: str) -> dict[str, Any]:
    """Every field of the document that the data give; `name` serves as id where nothing else does."""
    title = words(data.get("title"))
    written = data.get("written")
    return {
        **{key: words(data.get(key)) for key in _PLAIN_TEXTS},
        "title": title,
        "id": words(data.get("id")) or slug(title) or slug(name, "pattern"),
        "written": TermSystem(written.words) if written is not None else author.system,
        "fits": tuple(_fit(item, author) for item in _list(data, "fits")),
        "demands": tuple(demand(item) for item in _list(data, "demands")),
        "from_body": tuple(body_target(item, author) for item in _list(data, "from-body")),
        "gauge": _gauge(data.mapping["gauge"], author) if data.get("gauge") is not None else None,
        "materials": _materials(data, author),
        "beginning_chains": _beginning_chains(data.get("beginning-chains") or _NOTHING, author),
        "specials": author.specials,
        **{key: author.paragraphs(data.get(key)) for key in _PARAGRAPHS},
        "brand": _brand(data.get("brand") or _NOTHING),
        "shape": words(data.get("shape")),
        "cautions": tuple(words(item) for item in _list(data, "cautions")),
        "sections": tuple(_section(item, author) for item in _list(data, "sections")),
        "pictures": tuple(_picture(item, author) for item in _list(data, "pictures")),
        "extra": extras(data),
        "spans": {key: item.span for key, item in data.mapping.items()},
    }


def _list(data: Located, key: str) -> tuple[Located, ...]:
    found = data.get(key)
    return found.items if found is not None else ()


def _brand(data: Located) -> Brand:
    colours, logo = data.get("colours") or _NOTHING, data.get("logo") or _NOTHING
    return Brand(
        words(data.get("name")),
        Logo(words(logo.get("file")), words(logo.get("alt"))),
        Colours(words(colours.get("accent")), words(colours.get("accent-dark"))),
    )


def _picture(data: Located, author: Author) -> Picture:
    alt, caption = data.get("alt"), data.get("caption")
    return Picture(
        file=words(data.get("file")),
        alt=author.prose(alt.words) if alt is not None else (),
        caption=author.prose(caption.words) if caption is not None else (),
        credit=words(data.get("credit")),
        part=words(data.get("part")),
        span=data.span,
    )


def sizes_of(data: Located, author: Author) -> tuple[Size, ...]:
    """The sizes; one that has only an id is called by it, one that has only a name gets its id from it."""
    taken = {words(item.get("id")) for item in _list(data, "sizes") if item.get("id") is not None}
    return tuple(_size(item, taken, author) for item in _list(data, "sizes"))


def _size(data: Located, taken: set[str], author: Author) -> Size:
    if not data.mapping:
        return Size(words(data), words(data), span=data.span)
    name = words(data.get("name")) or words(data.get("id"))
    targets = (data.get("target") or _NOTHING).mapping.items()
    measured = [(key, length(item, author)) for key, item in targets]
    return Size(
        id=words(data.get("id")) or free_slug(name, "size", taken),
        name=name,
        target=tuple(Measure(key, found) for key, found in measured if found is not None),
        numbers=tuple(NamedNumber(key, whole(item)) for key, item in (data.get("numbers") or _NOTHING).mapping.items()),
        to_fit=words(data.get("to-fit")),
        body=words(data.get("body")),
        extra=extras(data),
        span=data.span,
    )


def _fit(data: Located, author: Author) -> Fit:
    least, most, stitch = whole(data.get("least")), whole(data.get("most"), 10_000), data.get("stitch")
    return Fit(
        number=words(data.get("number")),
        target=words(data.get("target")),
        along=Along(words(data.get("along"))),
        each=whole(data.get("each"), 1),
        plus=whole(data.get("plus")),
        across=whole(data.get("across"), 1),
        edging=length(data.get("edging"), author),
        least=least,
        most=most,
        step=whole(data.get("step"), 1),
        tolerance=length(data.get("tolerance"), author),
        count=formula(data.get("count")),
        stitch=author.stitch(stitch.words, stitch.span) if stitch is not None else None,
        extra=extras(data),
        span=data.span,
    )


def _gauge(data: Located, author: Author) -> Gauge:
    rounds, stitch, said = data.get("rounds"), data.get("stitch"), data.get("words")
    found = author.stitch(stitch.words, stitch.span) if stitch is not None else None
    unknown = (stitch.words,) if stitch is not None and found is None else ()
    return Gauge(
        stitches=decimal(data.get("stitches")),
        rows=decimal(rounds) if rounds is not None else decimal(data.get("rows")),
        over=length(data.get("over"), author) or Gauge().over,
        stitch=found,
        rounds=rounds is not None,
        repeats=decimal(data.get("repeats")),
        repeat=whole(data.get("repeat")),
        words=_joined(unknown, author.prose(said.words) if said is not None else ()),
        extra=extras(data),
        span=data.span,
    )


def _joined(unknown: Prose, said: Prose) -> Prose:
    """Words that nobody knew stay in front of the author's own."""
    if not (unknown and said):
        return unknown or said
    first = said[0] if isinstance(said[0], str) else ""
    return (f"{unknown[0]}, {first}", *(said[1:] if first else said))


def _materials(data: Located, author: Author) -> Materials:
    return Materials(
        yarns=tuple(_yarn(item, author) for item in _list(data, "yarn")),
        hooks=tuple(_hook(item, author) for item in _list(data, "hooks")),
        notions=author.paragraphs(data.get("notions")),
    )


def _yarn(data: Located, author: Author) -> Yarn:
    if not data.mapping:
        return Yarn(words(data), span=data.span)
    ball = data.get("ball") or _NOTHING
    weight, note = data.get("weight"), data.get("note")
    return Yarn(
        name=words(data.get("name")),
        key=words(data.get("key")),
        weight=whole(weight) if weight is not None else None,
        fibre=words(data.get("fibre")),
        colour=words(data.get("colour")),
        ball_grams=decimal(ball.get("grams")),
        ball_metres=metres(ball.get("metres"), author),
        amount=Amount(
            balls=each_size(data.get("balls"), author),
            metres=each_size(data.get("metres"), author, metres),
            grams=each_size(data.get("grams"), author),
        ),
        weighed=weighed(data.get("weighed"), author),
        note=author.prose(note.words) if note is not None else (),
        extra=extras(data),
        span=data.span,
    )


def _hook(data: Located, author: Author) -> Hook:
    if data.mapping:
        use = data.get("use")
        size = decimal(data.get("mm")) or Decimal(0)
        return Hook(size, author.prose(use.words) if use is not None else (), extras(data), data.span)
    found = _MM.search(data.words)
    if found is None:  # the schema has seen the millimetres
        return Hook(Decimal(0), span=data.span)
    mm = Decimal(found[1].replace(",", "."))
    rest = f"{data.words[: found.start()]} {data.words[found.end() :]}".strip(" \t\n,;:()[]/-–—")
    named = hook_named(re.sub(r"(?i)\b(us|hook|size)\b", "", rest))
    return Hook(mm, () if named is not None and named.mm == mm else author.prose(rest), span=data.span)


def _beginning_chains(data: Located, author: Author) -> tuple[BeginningChain, ...]:
    found = [(int(key), _counts(item, author)) for key, item in data.mapping.items() if key.isdecimal()]
    return tuple(BeginningChain(chains, counts) for chains, counts in found if counts is not None)


def _counts(data: Located, author: Author) -> Counts | None:
    """ "dc", "dc + 1" (a stitch and a chain), or "none"."""
    match = _COUNTS.match(data.words)
    if match is None:
        author.error(
            "value-not-allowed",
            f'"{data.words}" does not say what the chain counts as.',
            data.span,
            "Say `dc`, `dc + 1` or `none`.",
        )
        return None
    chains = int(match["chains"] or 0)
    if match["stitch"].casefold() in ("", "none"):
        return Counts(None, chains)
    stitch = author.stitch(match["stitch"], data.span)
    return Counts(stitch, chains) if stitch is not None else None


def _section(data: Located, author: Author) -> Section:
    return Section(words(data.get("heading")), author.paragraphs(data.get("text")), data.span)
