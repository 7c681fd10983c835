"""Style sheets of the page and of the PDF, put together from `shared/styles`."""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache

from convert.exporters.brand import HOUSE, Accents, dark_rule, light_rule
from convert.trade.tables import folder, read_data

FACES = (
    ("Literata", "literata-regular", 400, "normal"),
    ("Literata", "literata-italic", 400, "italic"),
    ("Literata", "literata-semibold", 600, "normal"),
    ("Atkinson Hyperlegible Next", "atkinson-regular", 400, "normal"),
    ("Atkinson Hyperlegible Next", "atkinson-bold", 700, "normal"),
)
"""Family, file, weight and style of the type faces that travel inside the page."""

_ONE_SIZE = """\
:root:has(#size-NR:checked) .n:not(.nNR), :root:has(#size-NR:checked) .list,
:root:has(#size-NR:checked) .several, :root:has(#size-NR:checked) .only,
:root:has(#size-NR:checked) .some:not(.sNR) { display: none; }
:root:has(#size-NR:checked) .gap.sNR { display: block; }
"""
"""What the choice of one size does, NR being its index: its numbers stand alone, and lines for other sizes go."""

_ONE_SYSTEM = ":root:has(#terms-LANG:checked) .edition:not(.in-LANG) { display: none; }\n"

_COMMENT = re.compile(r"/\*.*?\*/\s*", re.DOTALL)


@cache
def screen_style(*, sizes: int = 0, terms: tuple[str, ...] = (), accents: Accents = HOUSE) -> str:
    """The style sheet of the web page, with rules for a reader's choice of size and, of several terms, of these."""
    chosen = "".join(_ONE_SIZE.replace("NR", str(size)) for size in range(sizes))
    chosen += "".join(_ONE_SYSTEM.replace("LANG", lang) for lang in terms if len(terms) > 1)
    base = style_of("theme") + light_rule(accents) + style_of("page", "screen") + dark_rule(accents)
    return base + chosen


@cache
def style_of(*names: str) -> str:
    """Style sheets of ours one after the other, without their comments."""
    return "".join(_COMMENT.sub("", read_data(f"styles/{name}.css")) for name in names)


@cache
def faces_of() -> str:
    """The type faces as rules of a style sheet, with the faces inside."""
    rule = (
        "@font-face{{font-family:'{}';font-weight:{};font-style:{};font-display:swap;"
        "src:url(data:font/woff2;base64,{}) format('woff2')}}\n"
    )
    fonts = folder("shared").joinpath("fonts")
    return "".join(
        rule.format(family, weight, style, b64encode(fonts.joinpath(f"{file}.woff2").read_bytes()).decode("ascii"))
        for family, file, weight, style in FACES
    )
