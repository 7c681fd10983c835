"""The tables of the demo patterns against a calculation with pencil and paper, one size of each."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.document.read import ReadOptions
from convert.grader.measuring import PartMeasure, SizeMeasure
from convert.grader.results import SizeGrading
from convert.pipeline import Checked, check_source
from convert.source import Source

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
KINDS = {".yaml": "yaml", ".md": "markdown", ".txt": "text"}


def _checked(name: str) -> Checked:
    (path,) = DEMO.glob(f"{name}*")
    found = check_source(Source(path.name, path.read_text("utf-8")), KINDS[path.suffix], ReadOptions())
    assert () == found.findings
    return found


def _first(name: str) -> tuple[SizeGrading, SizeMeasure, list[int | None]]:
    """Numbers and measurements of the first size, and the stitches of its rows."""
    found = _checked(name)
    assert found.grading is not None
    assert found.measured is not None
    assert found.proof is not None
    counts = [row.sizes[0].total for row in found.proof.rows]
    return found.grading.sizes[0], found.measured.sizes[0], counts


def _numbers(size: SizeGrading, *names: str) -> tuple[int | None, ...]:
    return tuple(size.number(name) for name in names)


def _lengths(part: PartMeasure) -> tuple[int, float, float]:
    return part.rows, round(part.widest or 0, 2), round(part.length or 0, 2)


def test_the_throw() -> None:
    """Play mat, 80 cm; 0.7 rounds a centimetre, 3 cm of edging.

    10 pairs: 2 * 25 rounds / 0.7 + 3 = 74.4; 11 pairs: 2 * 27 / 0.7 + 3 = 80.1; 12 pairs: 85.9. So 11. They make
    24 * 11 + 42 = 306 dc; in 6 ch-2 sps another 6 sc: 312, which are 52 repeats of 6, of a sc and 5 dc each.
    From the centre: 26 rounds of dc are 37.14 cm, one of sc 0.71, one of scallops (five parts dc, one sc) 1.31.
    Between two sides of a hexagon 80.14, so a side is 80.14 / 1.732 = 46.27.
    """
    size, measure, counts = _first("kestrel")
    assert (11,) == _numbers(size, "pairs")
    assert [306, 312, 312] == counts[-3:]
    assert 39.17 == pytest.approx(measure.parts[0].length, abs=0.01)
    assert {"side": pytest.approx(46.27, abs=0.01), "diagonal": pytest.approx(92.54, abs=0.01)} == dict(
        measure.finished
    )


def test_the_shawl() -> None:
    """Shawlette, 40 cm from the neck to the edge, 0.9 rows a centimetre.

    14 pairs: 35 / 0.9 = 38.9, 1.1 less; 15 pairs: 37 / 0.9 = 41.1, 1.1 more. The smaller of two that are equally
    near. 16 * 14 + 30 = 254 dc, 257 sc with 3 in the point, then 129 sc and 128 arches.
    """
    size, _, counts = _first("heron")
    assert (14,) == _numbers(size, "pairs")
    assert -1.1111 == size.chosen[0].off_cm
    assert [254, 257, 129] == counts[-4:-1]


def test_the_hat() -> None:
    """Baby: 56 stitches at 1.5 a centimetre are 37.33 cm around.

    A round of half doubles (US) is 1 / 1.1 = 0.909 cm high; of the others, a single two thirds of it (0.606), a double
    four thirds (1.212). 14 rounds of the first, one of singles, 5 of doubles, one of singles:
    12.73 + 0.61 + 6.06 + 0.61 = 20.0 cm in 21 rounds.
    """
    _, measure, counts = _first("lantern")
    assert (21, 37.33, 20.0) == _lengths(measure.parts[0])
    assert [8, 16, 24, 32, 40, 48, 56] == counts[:7]
    assert {"diameter": pytest.approx(37.33 / 3.1416, abs=0.01)} == dict(measure.parts[0].more)
    assert () == measure.finished, "no number was chosen to make it 40 cm"


def test_the_sweater() -> None:
    """2 years: neck 40 cm are 64, yoke depth 10.5 and 2 cm are 12.5 by 0.9: 11.25 rounds, so 11.

    64 = 2 * 20 + 2 * 10 + 4. After 11 rounds 2 * 20 + 2 * 10 + 8 * 11 = 148. Body 2 * 20 + 4 * 11 + 2 * 6 = 96, which
    are 60 cm for 60.5; arm 10 + 22 + 6 = 38; wrist 16 cm are 25.6: 26. From 38 to 26 are 6 decreases of 2.
    """
    size, _, counts = _first("otter")
    assert (64, 96, 38, 26, 11) == _numbers(size, "neck", "body", "arm", "wrist", "yoke")
    assert (20, 10, 6) == _numbers(size, "panel", "cap", "bridge")
    assert {64, 148, 96, 38, 26} <= set(counts)


def test_the_blanket() -> None:
    """Security, 18 in square: 4 stitches an inch are 72; (6 * 6 + 9) / 2.5 = 18 in, so 6 bands and 45 rows.

    Yarn B: rows 4 to 6 and as many of each of 6 bands are 21 rows of 72. The swatch of 6.2 g has 240 dc and a chain of
    20. A dc takes 1.92, a chain 0.47 (shared/stitch_use.yaml): 470.2 in all, 0.01319 g each. A row is 71 dc and a
    chain of 3: 137.73. 21 * 137.73 * 0.01319 = 38.1 g.
    """
    size, measure, counts = _first("pebble")
    assert (72, 6) == _numbers(size, "wide", "bands")
    assert {72} == set(counts) - {None}
    assert (45, 45.72, 45.72) == _lengths(measure.parts[0])
    assert 38.1 == pytest.approx(measure.yarn[1].grams, abs=0.5)


def test_the_scarf() -> None:
    """Slim, 15 cm: 2 stitches a centimetre are 30. 4 shells take 25 (12.5 cm), 5 take 31 (15.5 cm), 6 take 37.

    Each row has 5 shells of 5 and 6 sc: 31. For 150 cm of one row a centimetre: 3 rows, and 74 times 2 (the 147 that
    are left are 73.5 pairs), and the last one: 152.
    """
    size, measure, counts = _first("tideline")
    assert (5,) == _numbers(size, "shells")
    assert [31, 31, 31] == counts[:3]
    assert (152, 15.5) == _lengths(measure.parts[0])[:2]


def test_the_waistcoat() -> None:
    """S: bust 83.5 and 4 cm are 87.5, two pieces of 70 at 1.6 a centimetre. Cross back 37.5 less 2: 56.8.

    70 - 2 * 5 - 2 * 2 = 56 is as near as an even number comes. Side 30 cm by 1.8 are 54 rows, armhole 17 and 3 cm 36,
    together 90 and 50 cm. Shoulder 9 cm are 14.4: 14. Half of 70 are 35; 35 - 5 - 4 - 14 = 12 go off along the neck,
    one in every second row: 24 of the 36 - 1 - 2 = 33 rows, and 9 are spare.
    """
    size, measure, counts = _first("damson")
    assert (70, 56, 14, 54, 36) == _numbers(size, "back", "cross", "tip", "side", "depth")
    assert (5, 2, 12, 9) == _numbers(size, "notch", "cut", "vee", "spare")
    for part, wide in zip(measure.parts, (43.75, 21.875), strict=True):
        assert (90, wide, 50) == (part.rows, part.widest, pytest.approx(part.length))
    assert {70, 60, 56, 35, 30, 26, 14} <= set(counts)


def test_the_mouse() -> None:
    """36 stitches at 2.4 are 15 cm around, 20 rounds at 2.6 7.69 cm, ears 15 / 2.4 = 6.25, tail 25 / 2.4 = 10.42."""
    _, measure, counts = _first("pomble")
    assert (20, 15.0, 7.69) == _lengths(measure.parts[0])
    assert 6.25 == measure.parts[1].widest
    assert 10.42 == pytest.approx(measure.parts[2].widest, abs=0.005)
    assert [6, 12, 18, 24, 30, 36, 36, 30, 30, 24, 18, 12, 6] == [count for count in counts if count][:13]
