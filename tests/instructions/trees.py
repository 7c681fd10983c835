"""Strategies for instruction trees in the form that the reader yields."""

from __future__ import annotations

from hypothesis import strategies as st

from convert.document.numbers import Number, PerSize
from convert.document.records import CountItem, CountKind, Label, Row, RowKind, Side
from convert.document.steps import (
    Again,
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Group,
    Join,
    JoinBy,
    Loops,
    Marker,
    MarkerAct,
    Origin,
    Place,
    Repeat,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    What,
    Which,
    Work,
)

STITCHES = st.sampled_from(["sc", "hdc", "dc", "tr", "dtr", "esc"])
KINDS = st.sampled_from(["sc", "dc", "tr"])


def numbers(least: int = 1, most: int = 40) -> st.SearchStrategy[Number]:
    """Plain numbers and, less often, one for each of three sizes that are not all alike."""
    plain = st.integers(least, most)
    sized = st.tuples(plain, plain, plain).filter(lambda t: len(set(t)) > 1).map(PerSize)
    return st.one_of(plain, plain, sized)


next_stitches = st.builds(
    Place,
    number=numbers(),
    of=st.one_of(st.none(), KINDS),
    loops=st.sampled_from([Loops.BOTH, Loops.BOTH, Loops.BACK, Loops.FRONT]),
)
one_places = st.one_of(
    st.builds(Place, of=st.one_of(st.none(), KINDS)),
    st.builds(Place, which=st.sampled_from([Which.SAME, Which.FIRST, Which.LAST]), of=st.one_of(st.none(), KINDS)),
    st.builds(
        Place,
        what=st.just(What.SPACE),
        chains=st.one_of(st.none(), st.integers(1, 9)),
        which=st.sampled_from([Which.NEXT, Which.SAME]),
    ),
    st.builds(Place, what=st.just(What.CORNER), chains=st.one_of(st.none(), st.integers(1, 5))),
    st.builds(Place, what=st.just(What.RING)),
    st.builds(Place, what=st.just(What.GAP), which=st.sampled_from([Which.NEXT, Which.SAME]), of=st.none()),
)
each_places = st.builds(
    Place,
    which=st.just(Which.EACH),
    of=st.one_of(st.none(), KINDS),
    every=st.sampled_from([1, 1, 1, 2, 3]),
    also=st.sampled_from([(), (Place(What.SPACE, Which.EACH, chains=1),)]),
)


def _single(number: Number) -> bool:
    return number == 1


works = st.one_of(
    st.builds(Work, STITCHES, st.just(1), next_stitches),
    st.builds(Work, STITCHES, st.integers(1, 9), one_places),
    st.builds(Work, STITCHES, st.integers(1, 3), each_places),
    st.builds(Work, st.just("inc"), st.just(1), st.builds(Place)),
    st.builds(Work, st.just("dec"), st.just(1), st.builds(Place, number=st.integers(1, 5))),
)
group_steps = st.lists(
    st.one_of(st.builds(Work, STITCHES, st.integers(1, 6)), st.builds(Chain, st.integers(1, 6))), min_size=2, max_size=4
).map(tuple)
groups = st.builds(Group, group_steps, one_places)
chains = st.builds(
    Chain,
    numbers(),
    st.one_of(st.none(), st.just(Counts()), st.builds(Counts, KINDS, st.integers(0, 3)), st.just(Counts("st"))),
)
decreases = st.builds(
    lambda stitch, legs: Decrease(stitch, legs, (Place(number=legs),)), KINDS, st.integers(2, 5)
) | st.builds(lambda stitch, legs: Decrease(stitch, legs, (Place(What.SPACE),)), KINDS, st.integers(2, 5))
skips = st.one_of(
    st.builds(Skip, st.builds(Place, number=numbers(), of=st.one_of(st.none(), KINDS))),
    st.just(Skip(Place(which=Which.REST), leave=True)),
    st.builds(Skip, st.builds(Place, which=st.just(Which.LAST), number=st.integers(1, 9)), st.just(True)),
)
slips = st.builds(Slip, st.builds(Place, number=numbers())) | st.builds(Slip, st.just(Place(What.SPACE, chains=2)))
others = st.sampled_from(
    [
        Turn(),
        ChangeColour("B"),
        Marker(MarkerAct.PLACE, Place(which=Which.FIRST)),
        Marker(MarkerAct.MOVE),
        Work("dc", 1, Place(loops=Loops.FRONT_POST)),
        Work("dc", 1, Place(number=4, loops=Loops.BACK_POST)),
    ]
)
simple: st.SearchStrategy[Step] = st.one_of(works, groups, chains, decreases, skips, slips, others)


def _repeats(inner: st.SearchStrategy[Step]) -> st.SearchStrategy[Step]:
    body = st.lists(inner, min_size=2, max_size=4).map(tuple)
    return st.one_of(
        st.builds(Repeat, body, st.just(Extent.TIMES), numbers(2)),
        st.builds(lambda b: Repeat(b, Extent.END), body),
        st.builds(
            lambda b, n: Repeat(b, Extent.TO_LAST, place=Place(which=Which.LAST, number=n)), body, st.integers(1, 5)
        ),
        st.builds(lambda b: Repeat(b, Extent.TO_PLACE, place=Place(What.SPACE, chains=2)), body),
        st.builds(lambda b: Repeat(b, Extent.END, ending=Ending(EndingKind.AT, after=1)), body),
    )


repeats = _repeats(st.one_of(simple, _repeats(simple)))
begins = st.sampled_from(
    [
        Begin(Start.ADJUSTABLE_RING),
        Begin(Start.CHAIN_RING, 6),
        Begin(Start.STITCHES, 20, "fsc"),
        Begin(Start.OPEN_CHAIN, 2, multiple=6),
        Begin(Start.OPEN_CHAIN, words="long enough for the shelf"),
    ]
)
first_of_foundation = Work("sc", 1, Place(What.CHAIN, Which.NTH, nth=2, origin=Origin.HOOK))
joins = st.sampled_from(
    [
        Join(),
        Join(Place(which=Which.FIRST, of="sc"), JoinBy.SLIP),
        Join(Place(What.BEGINNING_CHAIN, chains=3), JoinBy.SLIP),
        Join(Place(What.BEGINNING_CHAIN, nth=3, chains=4), JoinBy.UNSAID),
    ]
)
labels = st.one_of(
    st.builds(
        Label,
        st.sampled_from([RowKind.ROW, RowKind.ROUND]),
        st.integers(1, 90),
        side=st.sampled_from([None, Side.RIGHT, Side.WRONG]),
    ),
    st.builds(
        lambda kind, a, n: Label(kind, a, a + n),
        st.sampled_from([RowKind.ROW, RowKind.ROUND]),
        st.integers(1, 50),
        st.integers(1, 9),
    ),
    st.builds(Label, st.sampled_from([RowKind.NEXT_ROW, RowKind.NEXT_ROUND]), repeat=numbers()),
    st.builds(
        Label, st.sampled_from([RowKind.SETUP_ROW, RowKind.FOUNDATION_ROUND, RowKind.LAST_ROUND, RowKind.DECREASE_ROW])
    ),
)
counts = st.one_of(
    st.builds(CountItem, numbers(), st.just(CountKind.TOTAL)),
    st.builds(CountItem, numbers(), st.just(CountKind.STITCH), KINDS),
    st.builds(CountItem, numbers(), st.just(CountKind.SPACE), st.none(), st.one_of(st.none(), st.integers(1, 7))),
    st.builds(CountItem, numbers(), st.just(CountKind.GROUP)),
)
stated = st.lists(counts, max_size=3).map(tuple)
bodies = st.builds(
    lambda begin, steps, join, end: (*begin, *steps, *join, *end),
    st.one_of(st.just(()), begins.map(lambda s: (s,))),
    st.lists(st.one_of(simple, simple, repeats), min_size=1, max_size=6).map(tuple),
    st.one_of(st.just(()), joins.map(lambda s: (s,))),
    st.sampled_from([(), (FastenOff(),)]),
)
rows = st.builds(Row, labels, bodies, stated, st.sampled_from([(), ("s",), ("m", "l")]))
agains = st.builds(
    Again, st.integers(2, 5), st.integers(6, 9), st.one_of(st.none(), st.integers(1, 9)), rounds=st.booleans()
)
again_rows = st.builds(lambda label, again: Row(label, (again,)), labels, agains)
