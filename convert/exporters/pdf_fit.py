"""Sees to it that no edition in a PDF ends with a page that has next to nothing on it.

Runs in the child process of the PDF writer. A page is laid out again only where an edition ends so, and only with what
can help: a style that is closer by as much as its other pages would have to take in, or else one that lets the last
rows go over to the last page.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

NEARLY_EMPTY = 0.33
"""Share of a page: an edition whose last page holds less is laid out again."""
SAVED = (0.11, 0.22)
"""Share of each page that a closer style saves at most: measured on the demo collection, with a margin."""

LaidOut = Callable[[str], Any]


def fitted(request: dict[str, Any], laid_out: LaidOut) -> Any:
    """The pages of a request, laid out as they come or, where an edition ends in a nearly empty page, once more."""
    html = request["html"]
    marks = tuple(request.get("languages", {}))
    best = laid_out(html)
    over = _carried(best.pages, marks)
    if not over:
        return best
    styles = [style for style, saved in zip(request.get("closer", ()), SAVED, strict=False) if over <= saved]
    for style in styles:
        closer = _with(request["html"], style)
        again = laid_out(closer)
        if len(again.pages) < len(best.pages):
            best, html = again, closer
            if not _carried(best.pages, marks):
                return best
    if request.get("fuller"):
        again = laid_out(_with(html, request["fuller"]))
        if len(again.pages) == len(best.pages) and emptiest(again.pages, marks) > emptiest(best.pages, marks):
            return again
    return best


def _with(html: str, style: str) -> str:
    """The page with one more style sheet behind its own."""
    return html.replace("</style>", style + "</style>", 1)


def _carried(pages: Sequence[Any], marks: Sequence[str]) -> float:
    """What each page but the last would have to take in, as a share of it, to save the last; 0 if there is no need."""
    needs = [0.0]
    for edition in editions(pages, marks):
        held = filled(edition[-1]) if len(edition) > 1 else 1.0
        needs.append(held / (len(edition) - 1) if held < NEARLY_EMPTY else 0.0)
    return max(needs)


def emptiest(pages: Sequence[Any], marks: Sequence[str]) -> float:
    """The share that is filled of the emptiest page that an edition ends with."""
    return min(filled(edition[-1]) for edition in editions(pages, marks))


def editions(pages: Sequence[Any], marks: Sequence[str]) -> list[list[Any]]:
    """The pages of each edition. `marks` are the anchors that editions begin at; none for a single one."""
    found: list[list[Any]] = []
    for page in pages:
        if not found or any(mark in page.anchors for mark in marks):
            found.append([])
        found[-1].append(page)
    return found


def filled(page: Any) -> float:
    """The share of a page that has something on it, its margins left out, from its top down."""
    box = page._page_box  # noqa: SLF001 - the library tells it in no other way
    # What holds others is drawn out to the foot of the page where it goes on behind it.
    single = (one for one in box.children[0].descendants() if not getattr(one, "children", ()))
    lower = max((one.position_y + one.height for one in single if isinstance(one.height, int | float)), default=0)
    return float(max(0, lower - box.content_box_y()) / box.height)
