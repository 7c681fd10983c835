"""Documents put together record by record, for the tests of the page and the PDF."""

from __future__ import annotations

from decimal import Decimal

from convert.document.lengths import Length
from convert.document.materials import Amount, Hook, Materials, Yarn
from convert.document.numbers import PerSize
from convert.document.prose import Form, Term
from convert.document.records import (
    BeginningChain,
    CountItem,
    CountKind,
    Document,
    Label,
    Part,
    Remark,
    Row,
    RowKind,
    Section,
    Side,
    Special,
    TermSystem,
    Worked,
)
from convert.document.sizing import Gauge, Measure, Size
from convert.document.steps import (
    Begin,
    Chain,
    Counts,
    Decrease,
    Extent,
    Join,
    JoinBy,
    Place,
    Repeat,
    Skip,
    Start,
    Turn,
    What,
    Which,
    Work,
)
from convert.fabric.results import Proof, RowInSize, RowProof, Tally, Understood
from convert.grader.results import Grading, SizeGrading

RING = Place(What.RING)
NEXT = Place()


def rounds(number: int, *steps: object, stated: tuple[CountItem, ...] = (), **more: object) -> Row:
    """A round with this number."""
    return Row(Label(RowKind.ROUND, number), tuple(steps), stated, **more)  # type: ignore[arg-type]


def dc(number: int | PerSize) -> Work:
    """1 dc in each of the next `number` stitches."""
    return Work("dc", 1, Place(number=number))


FIRST = Row(
    Label(RowKind.ROUND, 1, side=Side.RIGHT),
    (
        Begin(Start.CHAIN_RING, 4),
        Chain(3, Counts("dc")),
        Work("dc", 11, RING),
        Join(Place(What.BEGINNING_CHAIN), JoinBy.SLIP),
    ),
    (CountItem(12, CountKind.STITCH, "dc"),),
)
SECOND = rounds(
    2,
    Chain(3, Counts("dc")),
    Work("dc", 1, Place(which=Which.SAME)),
    Repeat((Work("dc", 2, NEXT),), Extent.END),
    Join(None),
    stated=(CountItem(24, CountKind.STITCH, "dc"),),
)
UNSTATED = rounds(3, Chain(1, Counts()), Work("sc", 1, Place(which=Which.EACH)), Decrease("sc", 2, (Place(number=2),)))
LARGER = rounds(
    4,
    Repeat((dc(PerSize((None, 5, 7))), Skip(Place(number=2)), Work("shell", 1, NEXT)), Extent.END),
    sizes=("m", "l"),
    before=("With B,",),
)
LACE = Row(
    Label(RowKind.ROW, 1),
    (Begin(Start.CHAIN, 12), Work("sc", 1, Place(What.CHAIN, Which.EACH)), Turn()),
    (CountItem(PerSize((48, 56, 64)), CountKind.STITCH, "sc"), CountItem(6, CountKind.SPACE, chains=2)),
)

MERE = Document(
    title="Mere Side Cap",
    id="mere-side-cap",
    written=TermSystem.US,
    summary=(("A close cap in ", Term("dc", Form.PLURAL), ", worked from the crown down."),),
    designer="Ada Thornfell",
    copyright="© 2026 Ada Thornfell",
    date="2026-03-14",
    version="1.1",
    skill="easy",
    sizes=(
        Size("s", "Small", (Measure("around", Length(Decimal(50))),), to_fit="head 50–54 cm"),
        Size("m", "Medium", (Measure("around", Length(Decimal(55))),), to_fit="head 55–58 cm"),
        Size("l", "Large", (Measure("around", Length(Decimal(24), "in")),)),
    ),
    gauge=Gauge(Decimal(16), Decimal(9), stitch="dc", rounds=True, words=("Measured after washing.",)),
    materials=Materials(
        yarns=(
            Yarn(
                "Heronsfoot DK",
                "A",
                3,
                "100% wool",
                "Slate",
                Decimal(50),
                Decimal(120),
                Amount((Decimal(2), Decimal(2), Decimal(3)), (Decimal(190), Decimal(220), Decimal(260))),
                note=("or any smooth wool",),
            ),
        ),
        hooks=(Hook(Decimal(4)),),
        notions=(("Stitch marker",),),
    ),
    beginning_chains=(BeginningChain(3, Counts("dc")), BeginningChain(1, Counts())),
    specials=(Special("shell", "shell", "sh", "shells", (Work("dc", 5),), ("Five stitches from one place.",)),),
    notes=(("Do not turn.",),),
    parts=(
        Part("crown", "Crown", (FIRST, SECOND, Remark(("Change yarn here.",)), UNSTATED, LARGER), Worked.ROUNDS),
        Part("flap", "Ear flap", (LACE,), make=2),
    ),
    finishing=(("Join each flap with ", Term("sl-st"), "."),),
    care=(("Wash by hand.",),),
    cautions=("cords",),
    sections=(Section("A warmer cap", (("Line it with fleece.",),)),),
)
"""A cap with a bit of everything."""


def in_size(size: str, *made: tuple[str, int], worked: int = 1) -> RowInSize:
    """What a row made in one size; spaces, and groups counted beside their stitches, add nothing to the total."""
    total = sum(number for kind, number in made if kind not in {"shell", "group"} and not kind.endswith(" sp"))
    return RowInSize(size, worked, tuple(Tally(*item) for item in made), total, proved=True)


def proof_of(document: Document, row: Row, *sizes: RowInSize) -> Proof:
    """A proof that holds one row."""
    found = RowProof(document.parts[0].id, "Rnd", row, tuple(sizes))
    return Proof((found,), Understood(1, 0, 1, 0, 1))


PROOF = proof_of(MERE, UNSTATED, in_size("s", ("sc", 23)), in_size("m", ("sc", 27)), in_size("l", ("sc", 31)))

GRADING = Grading(
    tuple(
        SizeGrading(
            size.id, (), (), (Measure("around", Length(Decimal(cm))), Measure("depth", Length(Decimal("20.3"))))
        )
        for size, cm in zip(MERE.sizes, ("50.4", "56.2", "61.7"), strict=True)
    )
)
