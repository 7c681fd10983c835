"""Sees to it that no edition in a PDF ends with a page that has next to nothing on it.

Runs in the child process of the PDF writer. Pages are laid out again only where an edition ends so, and only with what
can help: set closer (`closer.py`) by as much as its other pages have to take in, where they can give that, or else
broken earlier, so that the last rows go over to the last page. Likewise where a picture went over to the next page and
left much of one empty, though it only had to be a little lower.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from convert.exporters.pdf.closer import Closer, gain, legible, length, picture, set_lower

NEARLY_EMPTY = 0.3
"""Share of a page: an edition whose last page holds less is laid out again."""
CARRIED = 0.36
"""Share of a page that the last one holds at least where something is carried over to it."""
LEFT = 0.5
"""Share of a page that the one before it keeps at least."""
MARGIN = 1.5
"""Pages are set closer by this much more than what the last one holds: what stays in one piece wastes some of it."""
LEAST = 0.5
"""Share of what they can give that they are set closer by at least: to be laid out a third time costs more."""

EMPTY = 0.12
"""Share of a page at its foot that is too much to leave empty for a picture that could be a little lower."""
LOWEST = 0.72
"""Share of its height that a picture keeps at least."""
SLACK = 3.0
"""Pixels that are left below a picture that was made to fit."""

Edition = Sequence[Any]
"""The pages of an edition."""


def fitted(lay_out: Callable[[], Any], marks: Sequence[str]) -> Any:
    """The library's document of pages, laid out as they come or, where a page is left nearly empty, again.

    `lay_out` lays the boxes out as their styles are now. `marks` are the anchors that editions begin at; none for a
    single one.
    """
    first = lay_out()
    before = editions(first.pages, marks)
    taken_in = [take_in_pictures(edition) for edition in before]
    needy = [number for number, edition in enumerate(before) if _needs(edition, taken_in[number])]
    closer = {number: found for number in needy if (found := set_closer(before[number], taken_in[number]))}
    for number, found in closer.items():
        taken_in[number] = taken_in[number] or take_in_pictures(before[number], found.share)
    broken = [number for number in needy if number not in closer and break_earlier(before[number])]
    if not closer and not broken and not any(taken_in):
        return first
    again = lay_out()
    after = editions(again.pages, marks)
    failed = [number for number, edition in enumerate(after) if number not in broken and _needs(edition)]
    for number in failed:
        if number in closer:
            closer[number].undo()
            break_earlier(before[number])
        else:  # that it was to take in a picture was foreseen otherwise; to break is surer than to set closer
            break_earlier(after[number])
    return lay_out() if failed else again


def _needs(edition: Edition, taken_in: float = 0.0) -> bool:
    """Whether the last page is nearly empty, once the pages before it have taken in a share of a page."""
    return len(edition) > 1 and 0 < _left(edition, taken_in) < NEARLY_EMPTY


def _left(edition: Edition, taken_in: float) -> float:
    """What the last page then holds: the page before it, where the last one is gone. A full one may seem overfull."""
    left = filled(edition[-1]) - taken_in
    return left if left >= 0 else left % 1


def take_in_pictures(edition: Edition, share: float = 0.0) -> float:
    """Makes pictures lower that did not quite fit where a page is empty for that; the share of a page that they take.

    `share` is how much closer the pages have been set since they were laid out.
    """
    taken = 0.0
    for page, following in pairwise(edition):
        box = page._page_box  # noqa: SLF001
        room = (1 - filled(page)) * box.height + gain(box.children[0]) * share
        figure, shown = _first_figure(following._page_box.children[0])  # noqa: SLF001
        if shown is None or not picture(shown) or room < EMPTY * box.height:
            continue
        # What a page begins with has lost its margin.
        height = shown.height - (figure.height + length(figure.style["margin_top"]) + SLACK - room)
        if max(LOWEST * shown.height, legible(shown)) <= height < shown.height:
            set_lower(shown, height)
            taken += room / box.height
    return taken


def _first_figure(box: Any) -> tuple[Any, Any]:
    """The figure that a page begins with, and the picture in it; the same if it stands alone, None if there is none."""
    figure = None
    while children := getattr(box, "children", ()):
        box = children[0]
        figure = figure or (box if box.element_tag == "figure" else None)
    return (figure or box, box) if hasattr(box, "replacement") else (box, None)


def set_closer(edition: Edition, taken_in: float = 0.0) -> Closer | None:
    """Sets the pages closer by what the last one holds, less what they have taken in; None where they have not that."""
    roots = [page._page_box.children[0] for page in edition]  # noqa: SLF001 - the library tells it in no other way
    wanted = _left(edition, taken_in) * edition[-1]._page_box.height  # noqa: SLF001
    given = sum(gain(root) for root in roots[:-1])
    if wanted > given:
        return None
    seen = {id(box.style): box for root in roots for box in root.descendants() if box.element_tag not in _AROUND}
    return Closer(list(seen.values()), min(1.0, max(LEAST, wanted / given * MARGIN)))


_AROUND = ("html", "body", "main")
"""What holds all editions."""


def break_earlier(edition: Edition) -> bool:
    """Has the page before the last end earlier, so that the last one is no longer nearly empty; whether it can."""
    page, last = edition[-2]._page_box, edition[-1]  # noqa: SLF001
    wanted = (CARRIED - filled(last)) * page.height
    foot = page.content_box_y() + filled(edition[-2]) * page.height
    highest = page.content_box_y() + LEFT * page.height
    places = [box for box in _places(page.children[0]) if highest <= box.position_y <= foot - wanted]
    if not places:
        return False
    # A chapter that begins on the last page is better than rows that go on there, if it is not far.
    lowest = max(box.position_y for box in places)
    chapters = [box for box in places if box.element_tag == "section" and box.position_y > lowest - 0.12 * page.height]
    max(chapters or places, key=lambda box: box.position_y).style["break_before"] = "page"
    return True


def _places(box: Any) -> Iterator[Any]:
    """Every box that a page may begin with, from the outside inwards."""
    blocks = [one for one in box.children if not (one.is_column or type(one).__name__ == "LineBox")]
    for earlier, later in pairwise(blocks):
        if "avoid" not in (*_edge(earlier, "break_after", -1), *_edge(later, "break_before", 0)):
            yield later
    for one in blocks:
        if one.style["break_inside"] == "auto" and not one.is_table_wrapper:
            yield from _places(one)


def _edge(box: Any, key: str, end: int) -> Iterator[str]:
    """What a box and those at one of its ends say about a break there."""
    yield box.style[key]
    if children := getattr(box, "children", ()):
        yield from _edge(children[end], key, end)


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
