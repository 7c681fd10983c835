"""The stitches of the trade, from `shared/stitches.yaml`."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType

from msgspec import Struct

from convert.document.records import TermSystem
from convert.trade.tables import TableError, record, table

_KEYS = {
    "height",
    "counts",
    "takes",
    "makes",
    "like",
    "unit",
    "legs",
    "passes",
    "post",
    "of",
    "size",
    "default",
    "from_memory",
    "foundation",
    "decoration",
    "drawn",
    "closed",
}


class Names(Struct, frozen=True):
    """What one system calls a stitch."""

    abbreviation: str
    name: str
    plural: str
    variants: tuple[str, ...]
    ending: str = ""
    """What follows the abbreviation where several are counted: the s of "25 sl sts". Most take none: "25 dc"."""
    meaning: str = ""
    """How the stitch is worked, where its name does not tell."""


class Stitch(Struct, frozen=True):
    """A stitch: what it takes and makes, how tall it is, what it is called. See the head of `shared/stitches.yaml`."""

    id: str
    us: Names
    uk: Names
    height: int | None
    counts: bool
    takes: int
    makes: int
    prevailing: bool
    unit: bool
    drawn: bool
    closed: bool
    legs: bool
    passes: bool
    post: str | None
    of: str | None
    foundation: bool
    decoration: bool
    default: str | None
    wide: float
    """Width beside a single crochet (US)."""
    tall: float
    """Height beside a single crochet (US)."""

    def names(self, system: TermSystem) -> Names:
        """The stitch's names in one system."""
        return self.us if system is TermSystem.US else self.uk


def _names(entry: dict[str, object], where: str) -> Names:
    fields = record(entry, {"abbr", "name"}, {"plural", "variants", "several", "meaning"}, where)
    name = str(fields["name"])
    plural = str(fields.get("plural") or name + ("es" if name.endswith(("sh", "ch", "s")) else "s"))
    if "crochet" in name and "plural" not in fields:
        plural = name + "s"
    abbreviation = str(fields["abbr"])
    several = str(fields.get("several", abbreviation))
    if not several.startswith(abbreviation):
        raise TableError(f"{where}: {several!r} does not begin with {abbreviation!r}")
    variants = tuple(map(str, fields.get("variants", ())))
    meaning = str(fields.get("meaning", ""))
    return Names(abbreviation, name, plural, variants, several.removeprefix(abbreviation), meaning)


def _stitch(entry: dict[str, object]) -> Stitch:
    where = f"stitches.yaml, {entry.get('id')!r}"
    e = record(entry, {"id", "us", "uk"}, _KEYS, where)
    size = record(e.get("size", {}), set(), {"width", "height"}, where)
    return Stitch(
        id=str(e["id"]),
        us=_names(e["us"], where),
        uk=_names(e["uk"], where),
        height=e.get("height"),
        counts=bool(e.get("counts", False)),
        takes=int(e.get("takes", 1)),
        makes=int(e.get("makes", 1)),
        prevailing=e.get("like") == "prevailing",
        unit=bool(e.get("unit", False)),
        drawn=bool(e.get("drawn", False)),
        closed=bool(e.get("closed", False)),
        legs=bool(e.get("legs", False)),
        passes=bool(e.get("passes", False)),
        post=e.get("post"),
        of=e.get("of"),
        foundation=bool(e.get("foundation", False)),
        decoration=bool(e.get("decoration", False)),
        default=e.get("default"),
        wide=float(size.get("width", 1)),
        tall=float(size.get("height", 1)),
    )


@cache
def stitches() -> MappingProxyType[str, Stitch]:
    """Every stitch by its id. Two stitches that claim one abbreviation in one system stop the load."""
    found: dict[str, Stitch] = {}
    for entry in table("stitches"):
        stitch = _stitch(entry)
        if stitch.id in found:
            raise TableError(f"stitches.yaml: {stitch.id!r} stands twice")
        found[stitch.id] = stitch
    for system in TermSystem:
        claimed: dict[str, str] = {}
        for stitch in found.values():
            names = stitch.names(system)
            for form in {names.abbreviation, names.name, *names.variants}:
                other = claimed.setdefault(form.lower(), stitch.id)
                if other != stitch.id:
                    raise TableError(f"stitches.yaml: {form!r} is claimed by {other!r} and {stitch.id!r} in {system}")
    for stitch in found.values():
        if stitch.of is not None and stitch.of not in found:
            raise TableError(f"stitches.yaml: {stitch.id!r} is made of the unknown {stitch.of!r}")
    return MappingProxyType(found)


@cache
def of_height(chains: int) -> str | None:
    """The plain stitch of this height."""
    return next((s.id for s in stitches().values() if s.height == chains and s.legs and not s.foundation), None)


@cache
def alike(id: str) -> bool:
    """Whether both systems write the stitch alike, so that words with it need no translation."""
    stitch = stitches().get(id)
    return stitch is None or (stitch.us.abbreviation, stitch.us.name) == (stitch.uk.abbreviation, stitch.uk.name)


@cache
def post_stitch(base: str, post: str) -> Stitch | None:
    """The stitch that is `base` worked around the `post` ("front" or "back"); None where the table has none."""
    return next((s for s in stitches().values() if s.of == base and s.post == post), None)


@cache
def drawn_together(id: str | None) -> bool:
    """Whether the name is one of stitches of one place that are drawn together at the top (cluster, bobble)."""
    stitch = stitches().get(id) if id is not None else None
    return stitch is not None and stitch.drawn


@cache
def closed_stitch() -> str:
    """The name of the stitch that several stitches of one place make when the loop is drawn through the first."""
    return next(stitch.id for stitch in stitches().values() if stitch.closed)


@cache
def stood_for(chains: int) -> str | None:
    """The stitch that a beginning chain of this length stands for, by the heights of the table."""
    return next((s.id for s in stitches().values() if s.height == chains and s.counts and not s.foundation), None)
