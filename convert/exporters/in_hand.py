"""How far yarn in hand reaches, for the table of a grading: lines, notes, and data."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.records import Document
from convert.grader.yarn_in_hand import Enough, InHand, Reach, Reached, Stop

_WORDS = {Enough.SURELY: "yes", Enough.PERHAPS: "perhaps", Enough.NO: "no", Enough.UNKNOWN: "not known"}


def reach_lines(document: Document, found: Reached) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What each line tells, and its value for every size."""
    yield "enough for all of it", tuple(_WORDS[reach.enough] for reach in found.sizes)
    if not any(reach.stops for reach in found.sizes):
        return
    several = len(document.parts) > 1 or any(stop.make > 1 for reach in found.sizes for stop in reach.stops)
    for name, stops in (
        ("surely", [reach.surely for reach in found.sizes]),
        ("at best", [reach.at_best for reach in found.sizes]),
    ):
        ends = [_ends(reach, stop) for reach, stop in zip(found.sizes, stops, strict=True)]
        if several and any(stops):
            yield f"reaches {name}, part", tuple(part for part, _ in ends)
        yield f"reaches {name}, row", tuple(row for _, row in ends)


def _ends(reach: Reach, stop: Stop | None) -> tuple[str, str]:
    """The part in which the yarn ends, and the rows of it that are done: "Sleeve 2", "14 of 24"."""
    if stop is None:
        return ("", "") if reach.enough is Enough.UNKNOWN else ("", "all")
    return f"{stop.name} {stop.copy}" if stop.make > 1 else stop.name, f"{stop.rows} of {stop.of}"


def reach_notes(document: Document, found: Reached) -> Iterator[str]:
    """What is in hand, the largest sizes it is enough for, and what is taken for granted."""
    for amount in found.amounts:
        yarn = document.materials.yarns[amount.yarn]
        yield f"In hand of yarn {yarn.key or yarn.name}: {_held(amount)}."
    if any(reach.enough is Enough.UNKNOWN for reach in found.sizes):
        yield "How far it reaches is not known where rows could not be executed or nothing tells what the yarn takes."
    surely, perhaps = found.largest(Enough.SURELY), found.largest(Enough.SURELY, Enough.PERHAPS)
    if document.sizes:
        yield f"Largest size it is surely enough for: {_named(document, surely)}; at best: {_named(document, perhaps)}."
    ends = {stop.yarn for reach in found.sizes for stop in reach.stops}
    if ends and len(document.materials.yarns) > 1:
        yield f"Yarn that ends first: {', '.join(_called(document, at) for at in sorted(ends))}."
    told = {amount.yarn for amount in found.amounts}
    untold = [_called(document, at) for at in range(len(document.materials.yarns)) if at not in told]
    if untold:
        yield f"Taken as enough, since nothing was said of it: yarn {', '.join(untold)}."


def _held(amount: InHand) -> str:
    both = [f"{amount.metres:.0f} m"] if amount.metres is not None else []
    both += [f"{amount.grams:.0f} g"] if amount.grams is not None else []
    return f"{amount.said}, {' or '.join(both)}"


def _called(document: Document, yarn: int) -> str:
    found = document.materials.yarns[yarn]
    return found.key or found.name


def _named(document: Document, id: str | None) -> str:
    index = document.size_index(id) if id is not None else None
    return "none" if index is None else document.sizes[index].name or document.sizes[index].id


def reach_data(document: Document, found: Reached) -> dict[str, object]:
    """The same for programs (schema: `grading.schema.json`)."""
    return {
        "yarn": [
            {
                "key": document.materials.yarns[amount.yarn].key,
                "name": document.materials.yarns[amount.yarn].name,
                "said": amount.said,
                "metres": None if amount.metres is None else round(amount.metres, 2),
                "grams": None if amount.grams is None else round(amount.grams, 2),
            }
            for amount in found.amounts
        ],
        "largest_surely": found.largest(Enough.SURELY),
        "largest_at_best": found.largest(Enough.SURELY, Enough.PERHAPS),
        "sizes": [
            {
                "id": reach.size,
                "enough": reach.enough.value,
                "surely": _stop_data(document, reach.surely),
                "at_best": _stop_data(document, reach.at_best),
            }
            for reach in found.sizes
        ],
    }


def _stop_data(document: Document, stop: Stop | None) -> dict[str, object] | None:
    if stop is None:
        return None
    return {
        "part": stop.part,
        "copy": stop.copy,
        "rows": stop.rows,
        "of": stop.of,
        "yarn": document.materials.yarns[stop.yarn].key or document.materials.yarns[stop.yarn].name,
    }
