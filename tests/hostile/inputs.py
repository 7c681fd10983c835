"""Patterns that mean harm, or come from a broken disk: the name of the file, its bytes, and how the check must end."""

from __future__ import annotations

import json

from msgspec import Struct


class Hostile(Struct, frozen=True):
    """One hostile file: what the finding is called that its check ends with."""

    name: str
    data: bytes
    code: str


def _yaml(rows: str = "      - Ch 5.\n", more: str = "") -> bytes:
    return f'format: "1"\ntitle: T\nterms: us\n{more}parts:\n  - name: P\n    rows:\n{rows}'.encode()


def _row(text: str) -> bytes:
    return _yaml(f"      - {json.dumps(text)}\n")


def _typed(text: str) -> bytes:
    return f"Test Square\n\nUS terms.\n\n{text}\n".encode()


_BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{here}: &{here} [{', '.join([f'*{before}'] * 9)}]\n" for before, here in zip("abcdefgh", "bcdefghi", strict=True)
)
_JSON_START = '{"format": "1", "title": "T", "id": "t", "written": "us", "parts": '

UNREADABLE = (
    Hostile("deep.pattern.yaml", b"a: " + b"[" * 3000, "yaml-syntax"),
    Hostile("deep-block.pattern.yaml", b"\n".join(b" " * n + b"a:" for n in range(900)), "limit-exceeded"),
    Hostile("many.pattern.yaml", b"- x\n" * 200_000, "limit-exceeded"),
    Hostile("one-line.pattern.yaml", b"[" + b"x," * 20_000 + b"]", "limit-exceeded"),
    Hostile("object.pattern.yaml", b"!!python/object/apply:os.system ['touch harm']\n", "yaml-tag"),
    Hostile("brackets.pattern.yaml", _row("Row 1: " + "(" * 5000 + "sc" + ")" * 5000), "limit-exceeded"),
    Hostile("large.txt", b"sc " * 400_000, "limit-exceeded"),
    Hostile("long-line.txt", b"Rnd 1: " + b"sc " * 10_000, "limit-exceeded"),
    Hostile("binary.txt", bytes(range(256)) * 4, "unreadable-input"),
    Hostile("nul.txt", b"Rnd 1: 6 sc\x00in ring.", "unreadable-input"),
    Hostile("escape.md", b"---\ntitle: T\n---\n\nRnd 1: \x1b[2J6 sc.", "unreadable-input"),
    Hostile("picture.md", b"\x89PNG\r\n\x1a\n" + bytes(200), "unreadable-input"),
    Hostile("wide-cut.txt", b"\xff\xfeR\x00n", "unreadable-input"),
    Hostile("empty.pattern.yaml", b"", "missing-key"),
    Hostile("empty.json", b"", "json-syntax"),
    Hostile("deep.json", b"[" * 100_000, "limit-exceeded"),
    Hostile("nan.json", (_JSON_START + "NaN}").encode(), "json-syntax"),
    Hostile("huge-number.json", (_JSON_START + "1e999}").encode(), "json-syntax"),
    Hostile("digits.json", (_JSON_START + "9" * 6000 + "}").encode(), "json-syntax"),
    Hostile("surrogate.json", b'{"format": "1", "title": "\\ud800"}', "json-syntax"),
    Hostile("latin.json", b'{"format": "1", "title": "caf\xe9"}', "unreadable-input"),
)
"""Files of which no pattern can be made: exit status 2."""

_TWICE = b'format: "1"\ntitle: One\ntitle: Two\nterms: us\nparts: []\n'
_EGG = 'special-stitches:\n  - {name: egg, make: "2 egg in st indicated"}\n'
_HEN = """special-stitches:
  - {name: egg, make: "hen in st indicated"}
  - {name: hen, make: "2 egg in st indicated"}
"""
_SIZES = "sizes:\n" + "".join(f"  - {{id: s{n}, name: S{n}}}\n" for n in range(200))
_FOUNDATION = (
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across; turn.\nRow 2: Ch 1, sc in each st across; turn.\n"
)
_GROWING = "Rnd 1: 6 sc in adjustable ring.\n" + "".join(f"Rnd {n}: 1000 sc in each st around.\n" for n in range(2, 8))

WRONG = (
    Hostile("bomb.pattern.yaml", _BOMB.encode(), "yaml-alias"),
    Hostile("itself.pattern.yaml", b"a: &a [*a]\n", "yaml-alias"),
    Hostile("twice.pattern.yaml", _TWICE, "duplicate-key"),
    Hostile("open-brackets.pattern.yaml", _row("Row 1: " + "[" * 9000), "unclosed-bracket"),
    Hostile("itself-defined.pattern.yaml", _yaml('      - "Row 1: Egg."\n', _EGG), "stitch-defines-itself"),
    Hostile("in-a-circle.pattern.yaml", _yaml('      - "Row 1: Egg in next st."\n', _HEN), "stitch-defines-itself"),
    Hostile("many-sizes.pattern.yaml", _yaml(more=_SIZES), "value-not-allowed"),
    Hostile("growing.txt", _typed(_GROWING), "too-much-work"),
    Hostile("nested.txt", _typed(_FOUNDATION + "Row 3: " + "[" * 9 + "ch 3" + "] 1000000 times" * 9), "too-much-work"),
    Hostile("rows-for-ever.txt", _typed(_FOUNDATION + "Rep last row 900000000 times more."), "too-much-work"),
)
"""Patterns with something that must not be carried out: exit status 1."""

ODD = (
    Hostile("chain.pattern.yaml", _row("Ch 1000000000000000000000."), "not-executed"),
    Hostile(
        "huge-repeat.txt", _typed(_FOUNDATION + "Row 3: Ch 1, [sc in next st] 999999999999 times."), "not-executed"
    ),
    Hostile("marks.txt", _typed("Rnd 1: " + "*" * 9000), "not-understood"),
    Hostile(
        "many-rows.txt", _typed(_FOUNDATION + "Rows 3-999999999: Ch 1, sc in each st across; turn."), "not-understood"
    ),
)
"""Patterns with something that cannot be meant. It is kept as it stands and warned of, never worked: exit status 0."""
