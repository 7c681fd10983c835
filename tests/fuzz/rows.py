"""Real rows of the fixtures, edits of them, and soup of the words that rows are made of."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from convert.document.read import ReadOptions
from convert.importers import ENDINGS
from convert.pipeline import read_source
from convert.source import Source
from convert.trade.stitches import stitches
from convert.trade.tables import table
from tests.instructions.notations import cases

FIXTURES = Path(__file__).parents[2] / "fixtures"
MARKS = "*()[]{}.,;:—–-+#†|=_×&/\"'’“½ \t\u00a0"
_JOINTS = (" ", " ", " ", ", ", "; ", ". ", "", " *", "; rep from * ", " (", ") ", "[", "] ", " x ", ": ", " — ")


@cache
def real_rows() -> tuple[str, ...]:
    """Every row of the patterns and of the cases in the fixtures, as typed."""
    found: list[str] = []
    for folder in ("demo", "correct", "broken"):
        for path in sorted((FIXTURES / folder).iterdir()):
            if path.suffix in ENDINGS and path.name != "expected.yaml":
                source = Source(path.name, path.read_text("utf-8"))
                document = read_source(source, ENDINGS[path.suffix], ReadOptions()).document
                found += [row.said for part in document.parts for row in part.rows] if document else []
    for name in ("identity.us.txt", "identity.uk.txt"):
        found += (FIXTURES / "instructions" / name).read_text("utf-8").splitlines()
    found += [case["line"] for case in _notations()]
    return tuple(dict.fromkeys(row for row in found if row))


def _notations() -> list[dict[str, Any]]:
    """The cases of notations that are single lines."""
    return [case for case in cases() if "line" in case]


OPEN = frozenset(case["line"] for case in _notations() if case.get("state") == "open")
"""Lines that are known not to be read as they should."""


@cache
def _vocabulary() -> tuple[str, ...]:
    words: list[str] = [str(form) for entry in table("words") for form in entry["forms"]]
    words += [*stitches(), "tr", "dc", "htr", "dtr", "sc3", "2dc", "ch-3 sp", "3ch sp", "beg ch-3", "4th ch from hook"]
    words += [
        "Rnd 3:",
        "Rows 4-6:",
        "24 (28, 32)",
        "{4 * pairs}",
        "(24 sc)",
        "12",
        "0",
        "1",
        "3",
        "99999999",
        "half",
        "½",
    ]
    return tuple(words)


def _edited(row: str, edits: list[tuple[str, float, float, str]]) -> str:
    for kind, at, length, mark in edits:
        start = int(at * len(row))
        end = min(len(row), start + int(length * 20))
        if kind == "drop":
            row = row[:start] + row[end:]
        elif kind == "double":
            row = row[:end] + row[start:end] + row[end:]
        elif kind == "mark":
            row = row[:start] + mark + row[start:]
        elif kind == "move":
            row = row[:start] + row[end:] + row[start:end]
        elif kind == "case":
            row = row[:start] + row[start:end].swapcase() + row[end:]
    return row


_PLACES = st.floats(0, 1, exclude_max=True)
_EDITS = st.lists(
    st.tuples(
        st.sampled_from(("drop", "double", "mark", "move", "case")),
        _PLACES,
        _PLACES,
        st.one_of(st.sampled_from(MARKS), st.characters(exclude_categories=("Cs",), exclude_characters="\n\r")),
    ),
    min_size=1,
    max_size=6,
)


def edited_rows() -> st.SearchStrategy[str]:
    """A real row with a few stretches dropped, doubled, moved, or marks put in."""
    return st.builds(_edited, st.sampled_from(real_rows()), _EDITS)


def soup() -> st.SearchStrategy[str]:
    """Words of pattern language in no order."""
    pieces = st.tuples(st.sampled_from(_vocabulary()), st.sampled_from(_JOINTS))
    return st.lists(pieces, min_size=1, max_size=40).map(lambda found: "".join(word + joint for word, joint in found))
