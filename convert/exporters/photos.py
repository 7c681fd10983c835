"""Pictures of the author's made ready for pages: turned upright, no larger than they are shown, pixels alone.

What a camera or a program wrote beside the pixels (place, owner, comments, previews) stays behind. The image library is
loaded only where a pattern has pictures.
"""

from __future__ import annotations

import warnings
from base64 import b64encode
from collections.abc import Mapping
from hashlib import sha256
from io import BytesIO
from typing import TYPE_CHECKING, Any

from msgspec import Struct, field

from convert.document.records import Document
from convert.exporters.jpeg import without_remarks
from convert.findings import Finding, Severity
from convert.limits import LIMITS
from convert.source import NOWHERE, Span

if TYPE_CHECKING:
    from PIL import Image

FORMATS = ("JPEG", "PNG", "WEBP")
SIDE = 1400
"""Pixels of the longer side on a page: 200 dots per inch over the width of a sheet."""
LOGO = (720, 240)
"""Most pixels of a logo, across and down."""
COPY_SIDE = 2400
"""Pixels of the longer side of a copy beside data, from which a page may be made again."""
_QUALITY, _COPY_QUALITY = 82, 92


class Unusable(ValueError):
    """A file that is no picture, or more of one than is taken; the text says why."""


class Photo(Struct, frozen=True):
    """A picture as it stands in a page."""

    data: bytes
    kind: str
    """Its media type."""
    width: int
    height: int

    @property
    def asset(self) -> str:
        """What a page for the PDF calls it: the same picture has the same name, and another one another."""
        return f"asset:{sha256(self.data).hexdigest()[:32]}"

    @property
    def inside(self) -> str:
        """The whole picture as an address, so that a web page asks nobody for it."""
        return f"data:{self.kind};base64,{b64encode(self.data).decode('ascii')}"


class Album(Struct, frozen=True):
    """The pictures of a pattern, by the names that the document gives their files."""

    logo: Photo | None = None
    photos: Mapping[str, Photo] = field(default_factory=dict)

    @property
    def all(self) -> tuple[Photo, ...]:
        """Every picture."""
        return (*self.photos.values(), *((self.logo,) if self.logo else ()))


EMPTY = Album()
"""The album of a pattern without pictures."""


def album_of(document: Document, files: Mapping[str, bytes]) -> tuple[Album, tuple[Finding, ...]]:
    """The document's pictures out of the content of its `files`, and a finding for every file that is not usable."""
    findings: list[Finding] = []

    def photo(file: str, span: Span, most: tuple[int, int]) -> Photo | None:
        try:
            return page_photo(files[file], most) if file in files else None
        except Unusable as error:
            findings.append(_unusable(file, span, str(error)))
            return None

    logo = photo(document.brand.logo.file, document.spans.get("brand", NOWHERE), LOGO)
    found = {picture.file: photo(picture.file, picture.span, (SIDE, SIDE)) for picture in document.pictures}
    return Album(logo, {file: one for file, one in found.items() if one is not None}), tuple(findings)


def copies_of(document: Document, files: Mapping[str, bytes]) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """Every picture in its own format, by its name; likewise with findings."""
    spans = {document.brand.logo.file: document.spans.get("brand", NOWHERE)}
    spans |= {picture.file: picture.span for picture in document.pictures}
    found: dict[str, bytes] = {}
    findings: list[Finding] = []
    for file, data in files.items():
        try:
            found[file] = copy_of(data)
        except Unusable as error:
            findings.append(_unusable(file, spans.get(file, NOWHERE), str(error)))
    return found, tuple(findings)


def _unusable(file: str, span: Span, reason: str) -> Finding:
    """What is said of a picture that cannot be used."""
    return Finding(
        "picture-unusable",
        Severity.ERROR,
        f"The picture {file!r} cannot be used: {reason}.",
        span=span,
        hint="Save it anew as JPEG or PNG, in the size in which it is to be shown.",
    )


def page_photo(data: bytes, most: tuple[int, int] = (SIDE, SIDE)) -> Photo:
    """A picture for a page, at most so many pixels across and down. Raises `Unusable`.

    What was a JPEG stays one. Anything else becomes a PNG or, if it is opaque, a JPEG where that is smaller.
    """
    image, form = _opened(data, most)
    as_png = _saved(image, "PNG") if form != "JPEG" else b""
    as_jpeg = _saved(image, "JPEG", _QUALITY) if image.mode == "RGB" else b""
    if as_png and (not as_jpeg or len(as_png) <= len(as_jpeg)):
        return Photo(as_png, "image/png", *image.size)
    return Photo(as_jpeg, "image/jpeg", *image.size)


def copy_of(data: bytes) -> bytes:
    """A picture in its own format, to lie beside a document that names it. Raises `Unusable`.

    A JPEG that is upright, in plain colours and no larger than that keeps its pixels as they are.
    """
    image, form = _opened(data, (COPY_SIDE, COPY_SIDE))
    return (_kept(data, image) if form == "JPEG" else b"") or _saved(image, form, _COPY_QUALITY)


def _kept(data: bytes, plain: Image.Image) -> bytes:
    """A JPEG with its own pixels; empty where they had to be changed. `plain` is what it was made."""
    from PIL import Image  # noqa: PLC0415 - likewise

    with Image.open(BytesIO(data), formats=["JPEG"]) as image:
        if image.size != plain.size or image.mode != "RGB" or image.tobytes() != plain.tobytes():
            return b""
    return without_remarks(data)


def _opened(data: bytes, most: tuple[int, int]) -> tuple[Image.Image, str]:
    """The picture upright, in plain colours, with nothing beside its pixels; and the format that it had."""
    from PIL import Image, UnidentifiedImageError  # noqa: PLC0415 - slow to import, and few patterns need it

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what is wrong beside the pixels is left behind with it
        try:
            with Image.open(BytesIO(data), formats=FORMATS) as image:
                _bound(*image.size)
                form = str(image.format)
                if form == "JPEG":
                    image.draft("RGB", (max(most), max(most)))  # decodes no more of it than is needed
                return _plain(image, most), form
        except Unusable:
            raise
        except UnidentifiedImageError as error:
            raise Unusable("it is no JPEG, PNG or WebP picture") from error
        except Image.DecompressionBombError as error:
            raise Unusable(f"it has far more pixels than {LIMITS.picture_pixels:,}") from error
        except MemoryError as error:
            raise Unusable("it needs more memory than there is") from error
        except Exception as error:  # whatever the library meets in a stranger's file
            raise Unusable("it is damaged") from error


def _bound(width: int, height: int) -> None:
    """Refuses what would unpack to more than any photo, before it is unpacked."""
    if width * height > LIMITS.picture_pixels:
        raise Unusable(f"it has {width:,} × {height:,} pixels, more than {LIMITS.picture_pixels:,} in all")


def _plain(image: Image.Image, most: tuple[int, int]) -> Image.Image:
    from PIL import Image, ImageOps  # noqa: PLC0415 - likewise

    upright = ImageOps.exif_transpose(image)
    plain = _in_srgb(upright)
    plain.thumbnail(most, Image.Resampling.LANCZOS, reducing_gap=3.0)
    plain.info = {}
    return plain


def _in_srgb(image: Image.Image) -> Image.Image:
    """The picture in the colours that pages have, by the profile that it brings; RGBA only where it is seen through."""
    profile = image.info.get("icc_profile")
    seen_through = image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info
    if seen_through:
        image = image.convert("RGBA")
        alpha = image.getchannel("A")
        seen_through = alpha.getextrema() != (255, 255)
    colours = _by_profile(image.convert("RGB") if image.mode not in ("RGB", "CMYK") else image, profile)
    if seen_through:
        colours.putalpha(alpha)
    return colours


def _by_profile(image: Image.Image, profile: bytes | None) -> Image.Image:
    from PIL import ImageCms  # noqa: PLC0415 - likewise

    if profile:
        try:
            own, shown = ImageCms.ImageCmsProfile(BytesIO(profile)), ImageCms.createProfile("sRGB")
            found = ImageCms.profileToProfile(image, own, shown, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
            found = None  # a profile for another kind of picture, or a damaged one
        if found is not None:
            return found
    return image.convert("RGB")


def _saved(image: Image.Image, form: str, quality: int = 0) -> bytes:
    ways: dict[str, dict[str, Any]] = {
        "JPEG": {"quality": quality, "optimize": True, "subsampling": "4:2:0"},
        "PNG": {"optimize": True},
        "WEBP": {"quality": quality, "method": 4},
    }
    room = BytesIO()
    image.save(room, form, **ways[form])
    return room.getvalue()
