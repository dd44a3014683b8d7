"""Which allowance each edge gets, from the joins it takes part in and how it is finished."""

from __future__ import annotations

from collections.abc import Sequence

from studio.cut.piece import Piece
from studio.design.joins import Finish, Join, JoinSide

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


def allowances(
    piece: Piece, joins: Sequence[Join], finishes: Sequence[Finish], standard: float
) -> tuple[float, ...]:
    """One allowance (mm) an edge of the piece; the widest where several joins ask; the standard
    one for an edge that nothing speaks of."""
    wanted: dict[str, float] = {}
    for join in joins:
        for side, width in zip((join.a, join.b), sides_allowance(join, standard), strict=True):
            for name in _edges_of(side, piece.name):
                wanted[name] = max(wanted.get(name, 0.0), width)
    for finish in finishes:
        if finish.edge.piece == piece.name:
            width = finish_allowance(finish, standard)
            wanted[finish.edge.edge] = max(wanted.get(finish.edge.edge, 0.0), width)
    return tuple(wanted.get(edge.name, standard) for edge in piece.outline.edges)


def folded_edges(piece: Piece, finishes: Sequence[Finish]) -> tuple[int, ...]:
    """Indices of edges that turn up as a hem: their corners are folded."""
    hems = {f.edge.edge for f in finishes if f.edge.piece == piece.name and f.how == "hem"}
    return tuple(
        index for index, edge in enumerate(piece.outline.edges) if edge.name in hems
    )


def _edges_of(side: JoinSide, piece: str) -> list[str]:
    return [ref.edge for ref in side.edges if ref.piece == piece]
