"""The pattern as one web page that needs nothing else: no scripts, no network, its styles and type faces inside."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from hashlib import sha256

from jinja2 import Environment, FunctionLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from convert.document.records import Document, TermSystem
from convert.exporters.page.build import page_edition, page_of, unknown_cautions
from convert.exporters.page.edition import Edition
from convert.exporters.page.records import Clump, Flow, Mark, Page, Piece
from convert.exporters.page.typeset import LONGEST_CLUMP
from convert.exporters.written import Written
from convert.fabric.results import Proof
from convert.grader.results import Grading
from convert.trade.tables import folder, read_data

FACES = (
    ("Literata", "literata-regular", 400, "normal"),
    ("Literata", "literata-italic", 400, "italic"),
    ("Literata", "literata-semibold", 600, "normal"),
    ("Atkinson Hyperlegible Next", "atkinson-regular", 400, "normal"),
    ("Atkinson Hyperlegible Next", "atkinson-bold", 700, "normal"),
)
"""Family, file, weight and style of the type faces that travel inside the page."""

_CHOSEN = """\
:root:has(#size-NR:checked) .nNR { padding: 0 .22em; background: var(--accent); color: var(--paper); }
:root:has(#size-NR:checked) .some:not(.sNR) { display: none; }
"""
"""What the choice of one size does, NR being its index: its numbers are marked, lines for other sizes are not shown."""

_COMMENT = re.compile(r"/\*.*?\*/\s*", re.DOTALL)


@dataclass(frozen=True, slots=True)
class HtmlOptions:
    """How the page is written."""

    system: TermSystem | None = None
    """The term system of the edition; None: the author's own."""
    size: str | None = None
    """Id of the one size shown; None: all sizes."""
    faces: bool = True
    """Type faces travel inside the page (about 150 kB); without them the reader's own are used."""


def write_html(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    options: HtmlOptions = HtmlOptions(),
) -> Written:
    """The page. Raises OutputRefused where the size asked for is not in the pattern."""
    edition = page_edition(document, grading, proof, options.system, options.size, choose=True)
    style = screen_style(faces=options.faces, sizes=edition.listed)
    return Written(render(edition, style, policy=_policy(style), ticks=True), unknown_cautions(document))


def render(edition: Edition, style: str, *, policy: str, ticks: bool) -> str:
    """The filled template. `ticks` asks for what only a screen can use: boxes to tick, links to the chapters."""
    page = page_of(edition)
    ours = Markup(style)  # noqa: S704 - our own style sheet; no text of a pattern reaches it
    strokes = Markup(tally().replace(' xmlns="http://www.w3.org/2000/svg"', ""))  # noqa: S704 - likewise
    return _template().render(
        page=page,
        style=ours,
        tally=strokes,
        policy=policy,
        ticks=ticks,
        contents=_contents(page, edition.say),
        say=edition.say,
    )


@cache
def tally() -> str:
    """The strokes under the title, as a drawing."""
    return read_data("styles/tally.svg").strip()


def _contents(page: Page, say: Callable[..., str]) -> list[tuple[str, str]]:
    """Anchor and heading of every chapter that the page has."""
    fixed = (
        ("sizes", page.sizes),
        ("materials", page.materials),
        ("gauge", page.gauge),
        ("abbreviations", page.abbreviations),
        ("specials", page.definitions),
    )
    chapters = [(name, say(name)) for name, content in fixed if content]
    chapters += [(c.anchor, c.heading) for c in (page.notes, page.cautions) if c]
    return chapters + [(c.anchor, c.heading) for c in (*page.parts, *page.after)]


@cache
def screen_style(*, faces: bool, sizes: int = 0) -> str:
    """The style sheet of the page, with its type faces if asked for, and with rules for a reader's choice of size."""
    chosen = "".join(_CHOSEN.replace("NR", str(size)) for size in range(sizes))
    return (_faces() if faces else "") + style_of("theme", "page", "screen") + chosen


@cache
def style_of(*names: str) -> str:
    """Style sheets of ours one after the other, without their comments."""
    return "".join(_COMMENT.sub("", read_data(f"styles/{name}.css")) for name in names)


@cache
def _faces() -> str:
    rule = (
        "@font-face{{font-family:'{}';font-weight:{};font-style:{};font-display:swap;"
        "src:url(data:font/woff2;base64,{}) format('woff2')}}\n"
    )
    fonts = folder("shared").joinpath("fonts")
    return "".join(
        rule.format(family, weight, style, b64encode(fonts.joinpath(f"{file}.woff2").read_bytes()).decode("ascii"))
        for family, file, weight, style in FACES
    )


@cache
def _policy(style: str) -> str:
    """Lets the page use its own style sheet and type faces, and nothing else at all."""
    digest = b64encode(sha256(style.encode("utf-8")).digest()).decode("ascii")
    return f"default-src 'none'; style-src 'sha256-{digest}'; font-src data:; base-uri 'none'; form-action 'none'"


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
    return environment.get_template("pattern.html")


def set_flow(flow: Flow) -> Markup:
    """A flow as markup: clumps that must not break are held together, terms explain themselves.

    Every text goes through `escape`; what is put around it is ours.

    >>> set_flow((((Piece("3 "), Piece("dc", Mark.TERM, "double crochet"))), (Piece("<in>"),)))
    Markup('<span class="t">3 <abbr title="double crochet">dc</abbr></span> &lt;in&gt;')
    """
    return Markup(" ".join(map(_clump, flow)))  # noqa: S704 - put together below from escaped texts


def _clump(clump: Clump) -> str:
    inner = "".join(map(_piece, clump))
    text = "".join(piece.text for piece in clump)
    breakable = len(clump) > 1 or " " in text or "-" in text
    return f'<span class="t">{inner}</span>' if breakable and len(text) <= LONGEST_CLUMP else inner


def _piece(piece: Piece) -> str:
    text = str(escape(piece.text))
    if piece.mark is Mark.REPEAT:
        return f'<b class="repeat">{text}</b>'
    if piece.mark is Mark.SIZE:
        return f'<span class="n n{piece.size}">{text}</span>'
    if piece.mark is Mark.TERM and piece.title:
        return f'<abbr title="{escape(piece.title)}">{text}</abbr>'
    return text
