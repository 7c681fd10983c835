"""A hand: the choices by which one invented person writes, drawn at random."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from random import Random
from typing import Any

import yaml

DATA: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "hands.yaml").read_text("utf-8"))
FORMS: Mapping[str, list[str]] = DATA["notations"]
STITCHES: Mapping[str, Mapping[str, list[str]]] = DATA["stitches"]
OWN = 0.35
"""How likely a hand departs from the plain form of a notation."""


class Hand:
    """`chosen` holds the number of a form by notation, where it is not the plain one; `used` is what a text needed."""

    def __init__(self, chosen: Mapping[str, int]) -> None:
        self.chosen = dict(chosen)
        self.used: dict[str, int] = {}

    def form(self, notation: str) -> str:
        """The hand's own form of a notation."""
        number = self.chosen.get(notation, 0)
        self.used[notation] = number
        return FORMS[notation][number]

    def __repr__(self) -> str:
        return f"Hand({self.chosen})"


def draw_hand(random: Random) -> Hand:
    """A hand with some ways of its own."""
    return Hand({name: random.randrange(len(forms)) for name, forms in FORMS.items() if random.random() < OWN})


def without(hand: Hand, notation: str) -> Hand:
    """The same hand, but for one notation."""
    return Hand({name: number for name, number in hand.chosen.items() if name != notation})
