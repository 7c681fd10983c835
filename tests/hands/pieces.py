"""Random patterns that are right by construction: toys in spirals, joined rounds, and flat pieces."""

from __future__ import annotations

from random import Random

from convert.document.records import CountItem, CountKind, Document, Label, Part, Row, RowKind, TermSystem, Worked
from convert.document.steps import (
    Begin,
    Chain,
    Counts,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    JoinBy,
    Origin,
    Place,
    Repeat,
    Skip,
    Start,
    Step,
    Turn,
    What,
    Which,
    Work,
)

HEIGHT = {"sc": 1, "hdc": 2, "dc": 3, "tr": 4}


def draw_piece(random: Random) -> Document:
    """A small pattern of one part."""
    kind = random.choice([_toy, _disc, _flat, _lace])
    rows, worked, name = kind(random)
    rows.append(Row(Label(), (FastenOff(),)))
    part = Part("piece", name, tuple(rows), worked)
    return Document(title="The Piece", id="the-piece", written=TermSystem.US, parts=(part,))


def _stitches(number: int, of: str | None = None) -> tuple[CountItem, ...]:
    return (CountItem(number, CountKind.STITCH, of) if of else CountItem(number),)


def _each(stitch: str, number: int = 1) -> Work:
    return Work(stitch, number, Place(which=Which.EACH))


def _next(stitch: str, number: int = 1) -> Work:
    return Work(stitch, 1, Place(number=number))


def _dec(stitch: str) -> Decrease:
    return Decrease(stitch, 2, (Place(number=2),))


def _times(steps: tuple[Step, ...], times: int) -> Step:
    return Repeat(steps, Extent.TIMES, times)


def _shaped(stitch: str, count: int, times: int, grows: bool) -> tuple[Step, int]:
    """A round with so many increases or decreases, spread evenly; and what it makes."""
    each = count // times
    two: Step = Work(stitch, 2, Place()) if grows else _dec(stitch)
    plain = each - (1 if grows else 2)
    body: tuple[Step, ...] = (_next(stitch, plain), two) if plain else (two,)
    return _times(body, times), count + (times if grows else -times)


def _toy(random: Random) -> tuple[list[Row], Worked, str]:
    wedges = random.choice([5, 6, 7, 8])
    count, number, rows = wedges, 1, []
    rows.append(
        Row(
            Label(RowKind.ROUND, 1),
            (Begin(Start.ADJUSTABLE_RING), Work("sc", wedges, Place(What.RING))),
            _stitches(wedges),
        )
    )
    for step in random.choice(["+++=-=--", "++=+==-=-", "+=+=", "++==--", "+*=-=", "+<=+-"]):
        number += 1
        last = None
        work: tuple[Step, ...]
        if step == "=":
            last = random.choice([None, number + 1, number + 4])
            work = (_each("sc"),)
        elif step == "<":
            # Half of the wedges, then plain to the end.
            half = count // wedges - 1
            work = (_times((_next("sc", half), Work("sc", 2, Place())), 3), _next("sc", count - 3 * (half + 1)))
            count += 3
        elif step == "+" and count == wedges:
            work, count = (_each("sc", 2),), 2 * count
        else:
            times = wedges if count % wedges == 0 and step != "*" else 1
            shaped, count = _shaped("sc", count, times, step in "+*")
            work = (shaped,) if times > 1 else shaped.steps  # type: ignore[union-attr]
        rows.append(Row(Label(RowKind.ROUND, number, last), work, _stitches(count)))
        number = last or number
    return rows, Worked.SPIRAL, random.choice(["Head", "Body", "Ear"])


def _disc(random: Random) -> tuple[list[Row], Worked, str]:
    stitch = random.choice(["sc", "hdc", "dc"])
    counts = {"sc": False, "hdc": random.random() < 0.5, "dc": random.random() < 0.7}[stitch]
    chain = Chain(HEIGHT[stitch], Counts(stitch) if counts else Counts() if random.random() < 0.5 else None)
    join = Join(
        Place(What.BEGINNING_CHAIN, chains=HEIGHT[stitch]) if counts else Place(which=Which.FIRST, of=stitch),
        JoinBy.SLIP,
    )
    count = random.choice([6, 8, 10, 12])
    rows = [
        Row(
            Label(RowKind.ROUND, 1),
            (
                Begin(Start.ADJUSTABLE_RING) if random.random() < 0.6 else Begin(Start.CHAIN_RING, 4),
                chain,
                Work(stitch, count - counts, Place(What.RING)),
                join,
            ),
            _stitches(count, stitch),
        )
    ]
    wedges = count
    for number in range(2, random.choice([4, 5, 6])):
        plain = count // wedges - 1
        body: tuple[Step, ...] = (
            (_next(stitch, plain), Work(stitch, 2, Place())) if plain else (Work(stitch, 2, Place()),)
        )
        if not counts:
            work: tuple[Step, ...] = (_each(stitch, 2),) if not plain else (_times(body, wedges),)
        elif not plain:
            work = (Work(stitch, 1, Place(which=Which.SAME)), _each(stitch, 2))
        else:
            first = ((_next(stitch, plain - 1),) if plain > 1 else ()) + (Work(stitch, 2, Place()),)
            work = (*first, _times(body, wedges - 1))
        count += wedges
        rows.append(Row(Label(RowKind.ROUND, number), (chain, *work, join), _stitches(count, stitch)))
    last = _each(stitch)
    if counts:
        rows.append(
            Row(Label(RowKind.ROUND, len(rows) + 1), (chain, _next(stitch), last, join), _stitches(count, stitch))
        )
    else:
        rows.append(
            Row(Label(RowKind.ROUND, len(rows) + 1, len(rows) + 3), (chain, last, join), _stitches(count, stitch))
        )
    return rows, Worked.ROUNDS, random.choice(["Coaster", "Base", "Crown"])


def _foundation(stitch: str, count: int) -> Row:
    first = Work(stitch, 1, Place(What.CHAIN, Which.NTH, nth=HEIGHT[stitch] + 1, origin=Origin.HOOK))
    counts = stitch == "dc"
    chain = Chain(count + HEIGHT[stitch] - counts, Counts("dc") if counts else None)
    return Row(
        Label(RowKind.ROW, 1),
        (chain, first, Work(stitch, 1, Place(What.CHAIN, Which.EACH)), Turn()),
        _stitches(count, stitch),
    )


def _flat(random: Random) -> tuple[list[Row], Worked, str]:
    stitch = random.choice(["sc", "hdc", "dc"])
    count = 6 * random.randrange(3, 8)
    counts = stitch == "dc"
    chain = Chain(HEIGHT[stitch], Counts("dc") if counts else random.choice([None, Counts()]))
    rows, number = [_foundation(stitch, count)], 1
    for step in random.choice(["===", "==-=-", "+=+=", "=--=", "=B="]):
        number += 1
        last = number + 3 if step == "=" and random.random() < 0.4 else None
        begun: tuple[Step, ...] = (chain, _next(stitch)) if counts else (chain,)
        work: tuple[Step, ...] = (_each(stitch),)
        if step == "B" and not counts:
            work = (Work(stitch, 1, Place(which=Which.EACH, loops=Place().loops.BACK)),)
        elif step == "-" and not counts:
            work = (
                _dec(stitch),
                Repeat((_next(stitch),), Extent.TO_LAST, place=Place(which=Which.LAST, number=2)),
                _dec(stitch),
            )
            count -= 2
        elif step == "+" and not counts:
            ends = Work(stitch, 2, Place(which=Which.FIRST)), Work(stitch, 2, Place(which=Which.LAST))
            work = (ends[0], Repeat((_next(stitch),), Extent.TO_LAST, place=Place(which=Which.LAST)), ends[1])
            count += 2
        rows.append(
            Row(
                Label(RowKind.ROW, number, last),
                (*begun, *work, Turn()),
                _stitches(count, stitch if step != "-" else None),
            )
        )
        number = last or number
    return rows, Worked.ROWS, random.choice(["Panel", "Strap", "Cloth"])


def _lace(random: Random) -> tuple[list[Row], Worked, str]:
    """Over sc: shells, open squares or groups in spaces, and sc again."""
    times = random.randrange(3, 8)
    kind = random.choice(["shells", "mesh", "groups"])
    count = {"shells": 6, "mesh": 2, "groups": 3}[kind] * times + 1
    rows = [_foundation("sc", count)]
    one = Chain(1, random.choice([None, Counts()]))
    turn, end = Turn(), Extent.END
    if kind == "shells":
        body = (Skip(Place(number=2)), Work("dc", 5, Place()), Skip(Place(number=2)), _next("sc"))
        rows.append(
            Row(
                Label(RowKind.ROW, 2),
                (one, Work("sc", 1, Place(which=Which.FIRST)), Repeat(body, end), turn),
                (CountItem(5 * times, CountKind.STITCH, "dc"), CountItem(times + 1, CountKind.STITCH, "sc")),
            )
        )
        rows.append(Row(Label(RowKind.ROW, 3), (one, _each("sc"), turn), _stitches(6 * times + 1, "sc")))
    elif kind == "mesh":
        chain = Chain(4, Counts("dc", 1))
        body = (_next("dc"), Chain(1), Skip(Place()))
        rows.append(
            Row(
                Label(RowKind.ROW, 2),
                (
                    chain,
                    Skip(Place(number=1)),
                    Work("dc", 1, Place(number=1)),
                    Repeat((Chain(1), Skip(Place()), _next("dc")), end),
                    turn,
                ),
                (CountItem(times + 1, CountKind.STITCH, "dc"), CountItem(times, CountKind.SPACE, None, 1)),
            )
        )
        rows.append(
            Row(
                Label(RowKind.ROW, 3),
                (
                    one,
                    Work("sc", 1, Place(which=Which.FIRST)),
                    Repeat((Work("sc", 1, Place(What.SPACE, chains=1)), Work("sc", 1, Place(of="dc"))), end),
                    turn,
                ),
                _stitches(2 * times + 1, "sc"),
            )
        )
    else:
        body = (Chain(2), Skip(Place(number=2)), _next("sc"))
        rows.append(
            Row(
                Label(RowKind.ROW, 2),
                (one, Work("sc", 1, Place(which=Which.FIRST)), Repeat(body, end), turn),
                (CountItem(times + 1, CountKind.STITCH, "sc"), CountItem(times, CountKind.SPACE, None, 2)),
            )
        )
        group = Group((Work("dc", 2), Chain(1), Work("dc", 2)), Place(What.SPACE, chains=2))
        rows.append(
            Row(
                Label(RowKind.ROW, 3),
                (
                    one,
                    Work("sc", 1, Place(which=Which.FIRST)),
                    Repeat((group, Work("sc", 1, Place(of="sc"))), end),
                    turn,
                ),
                (
                    CountItem(4 * times, CountKind.STITCH, "dc"),
                    CountItem(times + 1, CountKind.STITCH, "sc"),
                    CountItem(times, CountKind.SPACE, None, 1),
                ),
            )
        )
    return rows, Worked.ROWS, "Scarf"
