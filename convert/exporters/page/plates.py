"""The author's pictures in their places: the logo, one under the title, those of parts, and the rest."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.records import Part, Picture, part_named
from convert.exporters.page.edition import Edition
from convert.exporters.page.records import Chapter, Plate
from convert.terms.naming import write_prose


def logo(edition: Edition) -> Plate | None:
    """The designer's sign; None where there is none to be had, so that the name stands there."""
    brand, photo = edition.document.brand, edition.manner.album.logo
    return Plate(photo, brand.logo.alt or brand.name) if photo is not None else None


def cover(edition: Edition) -> Plate | None:
    """The first picture of the whole piece."""
    return next(_plates(edition, None), None)


def plates_of(edition: Edition, part: Part) -> tuple[Plate, ...]:
    """The pictures of a part."""
    return tuple(_plates(edition, part))


def further(edition: Edition) -> Chapter | None:
    """The other pictures of the whole piece."""
    found = tuple(_plates(edition, None))[1:]
    return Chapter("pictures", edition.say("pictures"), plates=found) if found else None


def _plates(edition: Edition, part: Part | None) -> Iterator[Plate]:
    """Pictures that belong to the part, or to none."""
    for picture in edition.document.pictures:
        photo = edition.manner.album.photos.get(picture.file)
        if photo is not None and _part_of(edition, picture) is part:
            yield Plate(photo, alternative(edition, picture), edition.flow(picture.caption), picture.credit)


def _part_of(edition: Edition, picture: Picture) -> Part | None:
    return part_named(edition.document, picture.part) if picture.part else None


def alternative(edition: Edition, picture: Picture) -> str:
    """What the picture shows, in the terms of the edition."""
    return write_prose(picture.alt, edition.system, edition.document.specials)
