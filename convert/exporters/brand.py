"""The designer's own accent colour, used where it can be read on the grounds that it stands on."""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct

from convert.document.records import Document
from convert.findings import Finding, Severity
from convert.source import NOWHERE
from convert.trade.tables import read_data

READABLE = 4.5
"""The least contrast of text with its ground (WCAG 2.2, 1.4.3)."""

_COLOUR = re.compile(r"#([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})([0-9A-Fa-f]{2})\Z")
_GROUND = re.compile(r"--(?:paper|tint): (#[0-9A-Fa-f]{6});")
_ADVICE = "Choose a {} one; about 4.5:1 is the least that weak eyes can read."


class Accents(Struct, frozen=True):
    """The accent colours that may be used, as `#rrggbb`; empty for the house's own."""

    light: str = ""
    dark: str = ""


HOUSE = Accents()
"""A pattern without colours of its own."""


def accents_of(document: Document, *, screen: bool) -> tuple[Accents, tuple[Finding, ...]]:
    """The document's colours that can be read, and a finding for every other. Sheets of paper have no dark ground."""
    colours = document.brand.colours
    light, told = _tested(colours.accent, "theme", "light", document)
    dark, more = _tested(colours.accent_dark, "screen", "dark", document) if screen else ("", ())
    return Accents(light, dark), told + more


def _tested(colour: str, sheet: str, ground: str, document: Document) -> tuple[str, tuple[Finding, ...]]:
    if not colour:
        return "", ()
    least = min(contrast(colour, other) for other in grounds(sheet)) if _COLOUR.match(colour) else 0.0
    if least >= READABLE:
        return colour.lower(), ()
    finding = Finding(
        "low-contrast",
        Severity.WARNING,
        f"The colour {colour} is hard to read on the {ground} page, so the page keeps its own.",
        span=document.spans.get("brand", NOWHERE),
        expected="a contrast of 4.5:1 or more",
        found=f"{int(least * 100) / 100:.2f}:1",
        hint=_ADVICE.format("darker" if ground == "light" else "lighter"),
    )
    return "", (finding,)


@cache
def grounds(sheet: str) -> tuple[str, ...]:
    """The colours of the page and of its panels, as a style sheet of ours gives them."""
    return tuple(_GROUND.findall(read_data(f"styles/{sheet}.css")))


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21 (WCAG 2.2, "contrast ratio").

    >>> round(contrast("#000000", "#ffffff"), 2), contrast("#74273f", "#74273f")
    (21.0, 1.0)
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    parts = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in _shares(colour))
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), parts, strict=True))


def _shares(colour: str) -> tuple[float, ...]:
    found = _COLOUR.match(colour)
    if found is None:
        raise ValueError(f"{colour!r} is no colour")
    return tuple(int(part, 16) / 255 for part in found.groups())


def light_rule(accents: Accents) -> str:
    """The rule that stands behind the theme. Nothing but a colour reaches it."""
    return _rule(accents.light, ".075")


def dark_rule(accents: Accents) -> str:
    """The rule for dark screens, which stands behind the screen's own."""
    rule = _rule(accents.dark, ".13")
    return f"@media screen and (prefers-color-scheme: dark) {{ {rule}}}\n" if rule else ""


def _rule(colour: str, strength: str) -> str:
    if not colour:
        return ""
    red, green, blue = (round(share * 255) for share in _shares(colour))
    return f":root {{ --accent: {colour}; --again: rgba({red}, {green}, {blue}, {strength}); }}\n"
