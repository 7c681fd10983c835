"""Places at stitch markers."""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.steps import Place, Repeat, Step, What


def is_up_to_marker(place: Place) -> bool:
    """Whether a place is the marked stitch, or so many stitches before it."""
    return place.what is What.MARKER or (place.within is not None and place.within.what is What.MARKER)


def goes_up_to_marker(steps: Sequence[Step]) -> bool:
    """Whether one of the steps goes up to a marker: "sc to end" behind it is a stretch too, and repeats none."""
    places = [step.place for step in steps if isinstance(step, Repeat)]
    return any(place is not None and is_up_to_marker(place) for place in places)
