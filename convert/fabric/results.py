"""What executing a pattern yields, row by row and size by size."""

from __future__ import annotations

from msgspec import Struct

from convert.document.records import Row
from convert.findings import Finding


class Tally(Struct, frozen=True):
    """How many of one thing a row made: a stitch (`kind` "dc"), chain spaces (`kind` "ch-2 sp"), groups ("shell")."""

    kind: str
    number: int


class RowInSize(Struct, frozen=True):
    """One row in one size.

    `made` and `total` are None where the effect of the row is unknown. `agrees` is None where nothing was stated
    or nothing is known. `worked` is how often the row is worked in this size (0: not at all), `proved` whether it
    was executed from a known beginning to a known end. `chains` is the length of the foundation on which the row was
    worked, where the pattern leaves that open, and 0 where it does not: the counts are those on this length. `turns`
    is how often its repeats, or those of the rows below, went around an edge that the pattern does not tell, to stand
    for any number: the counts are those of so many; 0 where the edge is told.
    """

    size: str
    worked: int
    made: tuple[Tally, ...] | None
    total: int | None
    stated: tuple[Tally, ...] = ()
    agrees: bool | None = None
    proved: bool = False
    chains: int = 0
    turns: int = 0


class RowProof(Struct, frozen=True):
    """One row of the document in every size. `label` is written in the trade's US form ("Rnd 5")."""

    part: str
    label: str
    row: Row
    sizes: tuple[RowInSize, ...]


class Understood(Struct, frozen=True):
    """How much of the instructions was read and proved."""

    clauses: int
    verbatim_clauses: int
    rows: int
    verbatim_rows: int
    """Rows with at least one clause kept verbatim."""
    proved_rows: int
    """Rows proved in every size that works them."""


class Proof(Struct, frozen=True):
    """The whole pattern executed."""

    rows: tuple[RowProof, ...]
    understood: Understood
    findings: tuple[Finding, ...] = ()

    def of(self, row: Row) -> RowProof | None:
        """The proof of this very row."""
        return next((proof for proof in self.rows if proof.row is row), None)
