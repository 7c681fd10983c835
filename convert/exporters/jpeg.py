"""A JPEG without what stands in it beside the picture, its pixels untouched.

The form is that of ITU-T T.81, annex B: segments that begin with a marker and tell their length, with scans between.
"""

from __future__ import annotations

import re

_END, _JFIF, _ADOBE, _COMMENT = 0xD9, 0xE0, 0xEE, 0xFE
_APPLICATIONS = range(0xE0, 0xF0)
_HEAD = b"\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"
"""Says no more than that it is a JPEG of the usual colours; the file's own may hold a small picture."""
_MARKER = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")


def without_remarks(data: bytes) -> bytes:
    """The same picture without places, owners, comments, profiles and previews, and without what follows its end.

    Empty where the file is not built as it should be.
    """
    kept = [b"\xff\xd8"]
    at = 2
    while (found := _MARKER.search(data, at)) is not None:
        kept.append(data[at : found.start()].rstrip(b"\xff"))  # a scan, or nothing
        marker, at = data[found.end() - 1], found.end()
        if marker == _END:
            return b"".join((*kept, b"\xff\xd9"))
        length = int.from_bytes(data[at : at + 2], "big")
        if length < 2 or at + length > len(data):
            return b""
        kept.append(_segment(marker, data[at : at + length]))
        at += length
    return b""


def _segment(marker: int, body: bytes) -> bytes:
    if marker == _JFIF:
        return _HEAD if body[2:7] == b"JFIF\x00" else b""
    if marker == _COMMENT or (marker in _APPLICATIONS and not (marker == _ADOBE and len(body) == 14)):
        return b""
    return bytes((0xFF, marker)) + body
