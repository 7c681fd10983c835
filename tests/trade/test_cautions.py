"""Cautions: complete, and deferring to the rules of the place."""

from __future__ import annotations

import pytest

from convert.trade.cautions import cautions


def test_the_dangers_that_the_trade_knows_are_there() -> None:
    """Infants' sleep, small parts, cords, hot dishes and nightclothes."""
    assert list(cautions()) == ["infant-sleep", "small-parts", "cords", "hot-surface", "sleepwear"]


@pytest.mark.parametrize("id", ["infant-sleep", "small-parts", "cords", "sleepwear"])
def test_a_caution_about_children_defers_to_local_rules(id: str) -> None:
    """Rules differ by country; the text sends the reader on to those that hold."""
    assert any(word in cautions()[id].lower() for word in ("rules", "health service"))


def test_texts_are_running_text() -> None:
    """One paragraph of whole sentences each, without line ends left over from the table."""
    for text in cautions().values():
        assert text == " ".join(text.split())
        assert text.endswith(".")
