"""Joins measured: which stretches of which pieces a side is made of, and how long it is."""

from __future__ import annotations

from collections.abc import Mapping

from studio.curves import Edge
from studio.cut.piece import Piece
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.sew.sewn import MeasuredJoin, MeasuredSide, Stretch


def measured(join: Join, pieces: Mapping[str, Piece]) -> MeasuredJoin:
    """Both sides of a join, each in sewing order; lengths within 1e-6 mm.

    Raises:
        GeometryRefused: a piece, an edge or the end of a line it names is not there.
    """
    return MeasuredJoin(
        join,
        measured_side(join.a, pieces, against=join.a.mirrored),
        measured_side(join.b, pieces, against=not join.b.mirrored),
    )


def measured_side(side: JoinSide, pieces: Mapping[str, Piece], *, against: bool) -> MeasuredSide:
    """One side: its stretches turned to the sewing direction, and its length, darts closed.

    Raises:
        GeometryRefused: as `measured`.
    """
    stretches = []
    for ref in side.edges:
        piece = pieces.get(ref.piece)
        if piece is None:
            raise GeometryRefused(f"There is no piece {ref.piece}.", where=ref.text)
        edge = stretch(piece, ref)
        edge = edge.reversed() if against else edge
        stretches.append(Stretch.of(piece.name, edge, _mouths(piece, edge)))
    return MeasuredSide(tuple(stretches), sum(one.length for one in stretches))


def stretch(piece: Piece, ref: EdgeRef) -> Edge:
    """The edge (or mark) a reference names, counter-clockwise; raises GeometryRefused."""
    for index, edge in enumerate(piece.outline.edges):
        if edge.name == ref.edge:
            return _bounded(piece, index, edge, ref)
    for mark in piece.marks:
        if mark.name == ref.edge:
            return Edge.whole(mark.name, mark.chain)
    raise GeometryRefused(f"{ref.piece} has no edge {ref.edge}.", where=ref.text)


def _bounded(piece: Piece, index: int, edge: Edge, ref: EdgeRef) -> Edge:
    low, high = 0.0, edge.length
    if ref.after:
        low = _split(piece, index, ref.after, ref)
    if ref.before:
        high = _split(piece, index, ref.before, ref)
    if low == 0.0 and high == edge.length:
        return edge
    if high <= low:
        raise GeometryRefused("The stretch is empty.", where=ref.text)
    return edge.between(low, high)


def _split(piece: Piece, index: int, line: str, ref: EdgeRef) -> float:
    for at, along, name in piece.splits:
        if at == index and name == line:
            return along
    raise GeometryRefused(f"{line} does not end on {ref.edge} within {ref.piece}.", where=ref.text)


def _mouths(piece: Piece, edge: Edge) -> tuple[tuple[float, float], ...]:
    """The mouths of the darts that lie on a stretch, in its direction; of one that it cuts, the
    part that lies on it.
    """
    if not piece.darts:
        return ()
    found = []
    for dart in piece.darts:
        if dart.edge == edge.name:
            low, high = sorted(edge.chain.distance_of(end) for end in (dart.first, dart.last))
            if high > low:
                found.append((low, high))
    return tuple(sorted(found))
