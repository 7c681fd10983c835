"""The pattern as one web page that needs nothing else: no network, its styles and type faces inside.

It works without scripts: the choice of a size and of the terms too. One small script remembers ticks and choices.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Sequence
from functools import cache
from hashlib import sha256

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template
from markupsafe import Markup
from msgspec import Struct

from convert.document.records import Document, TermSystem
from convert.exporters.brand import accents_of
from convert.exporters.page.build import page_editions, page_of, unknown_cautions
from convert.exporters.page.drawing import Drawing, drawing
from convert.exporters.page.edition import Edition, Manner
from convert.exporters.page.legend import language
from convert.exporters.page.records import Page
from convert.exporters.page.typeset import text_flow
from convert.exporters.page.web import NOWHERE, Address, links, meta_properties, web_facts
from convert.exporters.photos import EMPTY, Album, Photo
from convert.exporters.setting import set_cell, set_count, set_ending, set_fact, set_figures, set_flow
from convert.exporters.styles import faces_of, screen_style
from convert.exporters.written import Written
from convert.fabric.results import Proof
from convert.grader.results import Grading
from convert.trade.tables import read_data


class HtmlOptions(Struct, frozen=True):
    """How the page is written."""

    system: TermSystem | None = None
    """The term system of the edition; None: the author's own."""
    size: str | None = None
    """Id of the one size shown; None: all sizes, among which the reader can choose."""
    faces: bool = True
    """Type faces travel inside the page (about 150 kB); without them the reader's own are used."""
    both: bool = False
    """Both term systems on one page, the one in `system` first, among which the reader can choose."""
    full_words: bool = False
    """Every abbreviation in full, for reading aloud."""
    address: Address = NOWHERE
    """Where the page will stand."""
    album: Album = EMPTY
    """The author's pictures, as far as they are to be had."""


class Shown(Struct, frozen=True):
    """One edition as the template takes it."""

    page: Page
    say: Callable[..., str]
    contents: tuple[tuple[str, str], ...]
    drawing: Drawing | None


def write_html(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    options: HtmlOptions = HtmlOptions(),
) -> Written:
    """The page. Raises OutputRefused where the size asked for is not in the pattern."""
    manner = Manner(choose=True, full_words=options.full_words, album=options.album)
    editions = page_editions(document, grading, proof, options.system, options.size, manner, both=options.both)
    accents, told = accents_of(document, screen=True)
    terms = tuple(language(edition.system) for edition in editions)
    style = screen_style(sizes=editions[0].listed, terms=terms, accents=accents)
    text = render_screen(editions, faces_of() + style if options.faces else style, options.address)
    return Written(text, unknown_cautions(document) + told)


def render_screen(editions: Sequence[Edition], style: str, address: Address = NOWHERE) -> str:
    """The page for a browser, with the policy that seals it."""
    policy = _policy(style, pictures=any(edition.manner.album.all for edition in editions))
    return _render(editions, style, address, policy=policy, script=keep_script(), screen=True)


def render_sheet(editions: Sequence[Edition], style: str) -> str:
    """The page for the PDF: without what only a browser can use."""
    return _render(editions, style, NOWHERE, policy="", script="", screen=False)


def _render(
    editions: Sequence[Edition], style: str, address: Address, *, policy: str, script: str, screen: bool
) -> str:
    strokes = tally().replace(' xmlns="http://www.w3.org/2000/svg"', "")
    shown = [_shown(edition) for edition in editions]
    first = shown[0].page
    return _template().render(
        editions=shown,
        facts=web_facts(editions[0], first, address),
        properties=meta_properties(first, address),
        links=links(editions[0], first, address),
        style=Markup(style),  # noqa: S704 - our own style sheet; no text of a pattern reaches it
        script=Markup(script),  # noqa: S704 - our own script; likewise
        tally=Markup(strokes),  # noqa: S704 - likewise
        policy=policy,
        screen=screen,
        large=editions[0].manner.large,
        shared=_shared(shown) if screen and len(shown) > 1 else (),
    )


def _shared(shown: Sequence[Shown]) -> tuple[Photo, ...]:
    """The photos of a page with several editions, which all of them show: the page holds each once."""
    page = shown[0].page
    plates = [*((page.cover,) if page.cover else ()), *(plate for part in page.chapters for plate in part.plates)]
    return tuple({plate.photo.asset: plate.photo for plate in plates}.values())


def _shown(edition: Edition) -> Shown:
    page = page_of(edition)
    return Shown(page, edition.say, tuple(_contents(page, edition.say)), drawing(edition))


@cache
def tally() -> str:
    """The strokes under the title, as a drawing."""
    return read_data("styles/tally.svg").strip()


@cache
def keep_script() -> str:
    """The script that remembers ticks and choices."""
    return read_data("scripts/keep.js").strip()


def _contents(page: Page, say: Callable[..., str]) -> list[tuple[str, str]]:
    """Anchor and heading of every chapter that the page has."""
    fixed = (
        ("materials", page.materials),
        ("gauge", page.gauge),
        ("abbreviations", page.abbreviations),
        ("specials", page.definitions),
    )
    first = [("sizes", say("sizes"))] if page.sizes else []
    first += [(chapter.anchor, chapter.heading) for chapter in page.measured]
    chapters = [(name, say(name)) for name, content in fixed if content]
    return first + chapters + [(chapter.anchor, chapter.heading) for chapter in page.chapters]


@cache
def _policy(style: str, *, pictures: bool) -> str:
    """Lets the page use its own style sheet, script, type faces and pictures, and nothing else at all."""
    return (
        f"default-src 'none'; style-src {_digest(style)}; script-src {_digest(keep_script())}; "
        f"font-src data:; {'img-src data:; ' if pictures else ''}base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return f"'sha256-{b64encode(sha256(text.encode('utf-8')).digest()).decode('ascii')}'"


@cache
def _template() -> Template:
    environment = Environment(
        autoescape=True,
        undefined=StrictUndefined,
        loader=FunctionLoader(lambda name: read_data(f"templates/{name}")),
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["set"] = set_flow
    environment.filters["ending"] = set_ending
    environment.filters["count"] = set_count
    environment.filters["tied"] = lambda text: set_flow(text_flow(text))
    environment.filters["fact"] = set_fact
    environment.filters["cell"] = set_cell
    environment.filters["held"] = lambda photo: f"photo-{photo.asset[-12:]}"
    environment.filters["figures"] = set_figures
    environment.filters["source"] = lambda photo, screen: photo.inside if screen else photo.asset
    return environment.get_template("pattern.html")
