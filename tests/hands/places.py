"""Numbers, stitches and places in the words of a hand."""

from __future__ import annotations

import re
from collections.abc import Callable

from convert.document.numbers import Formula, Number, PerSize
from convert.document.steps import (
    Counts,
    Loops,
    Place,
    What,
    Which,
)
from tests.hands.hand import STITCHES, Hand

Values = dict[str, tuple[int | None, ...]]
SHORT = {"inc": ("sc", 2), "invdec": ("sc", 2), "dec": ("sc", 2)}
"""Steps that the trees have a short name for: their stitch, and how many it makes or takes."""


class Unwritable(Exception):
    """The writer has no words for this step."""


def ordinal(number: int) -> str:
    """The number as an ordinal in figures."""
    ending = "th" if 10 <= number % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


class Places:
    """Words of one hand for one pattern. `rounds` and `alone` are set for each row before its steps are written."""

    def __init__(self, hand: Hand, values: Values) -> None:
        self.hand = hand
        self.values = values
        self.system = hand.form("system")
        self.rounds = False
        self.alone = False
        """Whether the row is one working step only."""
        self.one_kind = True
        """Whether it has stitches of one kind only, so that an increase needs no name."""
        self.notes: dict[tuple[str, Counts], str] = {}
        self.mixed: set[int] = set()
        """Lengths of beginning chains that stand for one thing here and another there: no note can tell of them."""
        self.told: set[tuple[str, Counts]] = set()

    # ------------------------------------------------------------ words

    def number(self, number: Number) -> str:
        """A number, in every size where they differ."""
        values = self.in_sizes(number)
        if len(set(values)) == 1:
            return str(values[0])
        if None in values:
            raise Unwritable("no number in a size")
        first, *rest = map(str, values)
        form = self.hand.form("per-size")
        if form == "{a}, {rest}" and len(values) == 2:
            form = "{a} ({rest})"
        if "rest:" in form:
            form, rest = form.replace("rest:", "{rest}"), [": ".join(rest) if " (" in form else ":".join(rest)]
        if "/rest/" in form:
            return "/".join([first, *rest])
        return form.format(a=first, rest=", ".join(rest))

    def in_sizes(self, number: Number) -> tuple[int | None, ...]:
        """Its value in every size."""
        if isinstance(number, Formula):
            return self.values[number.text]
        return number.values if isinstance(number, PerSize) else (number,)

    def plain(self, number: Number) -> int:
        """A number that is the same in all sizes."""
        values = set(self.in_sizes(number))
        if len(values) != 1 or None in values:
            raise Unwritable("a number by size")
        return int(next(iter(values)) or 0)

    def stitch(self, id: str, spelling: int | None = None) -> str:
        """The name of a stitch in the hand's spelling, or in the one given."""
        if id not in STITCHES:
            if id[:2] in ("FP", "BP"):
                return id[:2] + self.stitch(id[2:], 0)
            raise Unwritable(id)
        return STITCHES[id][self.system][int(self.hand.form("stitch")) if spelling is None else spelling]

    def sts(self, many: bool = True) -> str:
        """The word for stitches."""
        return self.hand.form("st").split()[many]

    def _say(self, form: str, stitch: str = "sc", count: object = 2, **more: object) -> str:
        """A form filled in. Where the stitch stands close to a figure, its short name is used."""
        glued = re.search(r"[\w}]\{s\}|\{s\}[\w{-]", form) is not None
        spelling = int(self.hand.form("stitch"))
        name = self.stitch(stitch, 0 if glued and spelling in (1, 2) else None)
        around = "around" if self.rounds else "across"
        single = str(count) == "1"
        words = {
            "s": name,
            "st": self.sts(False),
            "sts": self.sts(not single),
            "around": around,
            "row": "rnd" if self.rounds else "row",
            "next": self.hand.form("the") + self.hand.form("next"),
            "in": self.hand.form("into"),
            "n": count,
        }
        said = form.format(**words | more).replace("the the", "the")
        return re.sub(r"\b(last|next|following|foll) 1 ", r"\1 ", said).replace("a adj", "an adj")

    def _form(self, notation: str, allowed: Callable[[str], bool]) -> str:
        """The hand's form if it may stand here, else the plain one."""
        form = self.hand.form(notation)
        if allowed(form):
            return form
        self.hand.used[notation] = 0
        plain = type(self.hand)({})
        return plain.form(notation)

    def space(self, chains: int | None) -> str:
        """A chain space."""
        form = self.hand.form("space")
        return "ch " + re.split("[- ]", form)[-1] if chains is None else form.format(n=chains)

    # ------------------------------------------------------------ places

    def place(self, place: Place) -> str:
        """A place other than the plain next stitches."""
        if place.within or place.words or place.below or place.every != 1 or place.loops is not Loops.BOTH:
            raise Unwritable("place")
        if place.what is What.RING:
            return "ring"
        if place.what is What.BEGINNING_CHAIN:
            return self._top(place)
        if place.what is What.CHAIN:
            return self._chain_place(place)
        if place.what not in (What.STITCH, What.SPACE):
            raise Unwritable(place.what)
        number = "" if place.number == 1 else self.number(place.number) + " "
        thing = self.thing(place, bool(number))
        return f"{self._which(place)} {number}{thing}" + self._also(place)

    def thing(self, place: Place, many: bool = False) -> str:
        """What a place is called."""
        if place.what is What.SPACE:
            return self.space(place.chains) + ("s" if many else "")
        if place.of is None:
            return self.sts(many)
        return self.stitch(place.of)

    def _which(self, place: Place) -> str:
        words = {
            Which.NEXT: self.hand.form("the") + self.hand.form("next"),
            Which.SAME: self.hand.form("same"),
            Which.FIRST: self.hand.form("the") + "first",
            Which.LAST: self.hand.form("the") + "last",
            Which.EACH: "each",
        }
        if place.which not in words:
            raise Unwritable(place.which)
        return words[place.which]

    def _also(self, place: Place) -> str:
        if not place.also:
            return ""
        return "".join(f" and in {self._which(also)} {self.thing(also)}" for also in place.also)

    def _top(self, place: Place) -> str:
        count = place.chains
        form = self._form("top", lambda form: (place.nth is None or "{nth}" in form) and (count or "{n}" not in form))
        if place.nth is not None and "{nth}" not in form:
            form = "{nth} ch of beg ch-{n}"
        if count is None and "{n" in form:
            form = "top of beg ch"
        return form.format(n=count, nth=ordinal(place.nth or count or 0))

    def _chain_place(self, place: Place) -> str:
        if place.which is Which.NTH and place.nth and place.origin == "hook":
            return f"{ordinal(place.nth)} ch from hook"
        if place.which is Which.EACH:
            return f"each ch {'around' if self.rounds else 'across'}"
        number = "" if place.number == 1 else self.number(place.number) + " "
        return f"{self._which(place)} {number}{'chs' if number else 'ch'}"
