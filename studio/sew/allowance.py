"""Which allowance each edge gets, from the joins it takes part in and how it is finished."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.cut.piece import Piece
from studio.design.joins import EdgeRef, Finish, Join

RAW = 0.0


def sides_allowance(join: Join, standard: float) -> tuple[float, float]:
    """Allowance of side a and side b in mm.

    Plain: single and single (ISO 4916:1991 class 1). Flat-felled: the side that wraps double, the
    other single (class 2; widths common practice). Lapped: the upper side single and turned
    under, the lower none, since it lies on the other piece (common practice, no source).
    """
    if join.construction == "felled":
        return (2.0 * standard, standard) if join.wraps == "a" else (standard, 2.0 * standard)
    if join.construction == "lapped":
        return standard, RAW
    return standard, standard


def finish_allowance(finish: Finish, standard: float) -> float:
    """Allowance of a free edge in mm; the standard one when none was set, none for a raw edge."""
    if finish.allowance is not None:
        return finish.allowance
    return RAW if finish.how == "raw" else standard


class AllowanceRules(msgspec.Struct, frozen=True):
    """What joins and finishes ask of each edge: widths in mm by (piece, edge), the widest where
    several joins ask; which edges turn up as a hem; the standard for edges nothing speaks of.
    """

    widths: dict[tuple[str, str], float]
    hems: frozenset[tuple[str, str]]
    standard: float

    def widths_of(self, piece: Piece) -> tuple[float, ...]:
        """One allowance (mm) an edge of the piece, in order."""
        return tuple(
            self.widths.get((piece.name, edge.name), self.standard) for edge in piece.outline.edges
        )

    def hems_of(self, piece: Piece) -> tuple[int, ...]:
        """Indices of the edges that turn up as a hem: their corners are folded."""
        return tuple(
            index
            for index, edge in enumerate(piece.outline.edges)
            if (piece.name, edge.name) in self.hems
        )


def allowance_rules(
    joins: Sequence[Join], finishes: Sequence[Finish], standard: float
) -> AllowanceRules:
    """The rules of a design; `standard` is the maker's single allowance in mm."""
    widths: dict[tuple[str, str], float] = {}

    def ask(ref: EdgeRef, width: float) -> None:
        key = (ref.piece, ref.edge)
        widths[key] = max(widths.get(key, 0.0), width)

    for join in joins:
        for side, width in zip((join.a, join.b), sides_allowance(join, standard), strict=True):
            for ref in side.edges:
                ask(ref, width)
    for finish in finishes:
        ask(finish.edge, finish_allowance(finish, standard))
    hems = frozenset((f.edge.piece, f.edge.edge) for f in finishes if f.how == "hem")
    return AllowanceRules(widths, hems, standard)
