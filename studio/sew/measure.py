"""Joins measured: which stretches of which pieces a side is made of, and how long it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.block.panel import Dart
from studio.curves import Chain, Edge
from studio.cut.piece import Mark, Piece
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.memo import Remembered
from studio.sew.laid_on import run_alike
from studio.sew.sewn import Ground, MeasuredJoin, MeasuredSide, Stretch


def measured(join: Join, pieces: Mapping[str, Piece]) -> MeasuredJoin:
    """Both sides of a join, each in sewing order; lengths within 1e-6 mm. A line drawn on a piece
    runs as the edge that is laid along it.

    The same object again while the edges it runs along and what is notched on them are the same,
    whatever else of their pieces has changed.

    Raises:
        GeometryRefused: a piece, an edge or the end of a line it names is not there.
    """
    a = _stretches(join.a, pieces, against=join.a.mirrored)
    b = _stretches(join.b, pieces, against=not join.b.mirrored)
    return _measured(join, run_alike(a, b), run_alike(b, a))


def measured_side(side: JoinSide, pieces: Mapping[str, Piece], *, against: bool) -> MeasuredSide:
    """One side: its stretches turned to the sewing direction, and its length, darts closed.

    Raises:
        GeometryRefused: as `measured`.
    """
    return MeasuredSide.of(_stretches(side, pieces, against=against))


def stretch(piece: Piece, ref: EdgeRef) -> Edge:
    """The edge (or mark) a reference names, counter-clockwise; raises GeometryRefused."""
    edge = _edge_named(piece, ref.edge)
    if edge is None:
        mark = _mark_named(piece, ref)
        return _line(mark.name, mark.chain, mark.start)
    return _part(edge, *_bounds(piece, edge, ref))


def _stretches(
    side: JoinSide, pieces: Mapping[str, Piece], *, against: bool
) -> tuple[Stretch, ...]:
    found = []
    for ref in side.edges:
        piece = pieces.get(ref.piece)
        if piece is None:
            raise GeometryRefused(f"There is no piece {ref.piece}.", where=ref.text)
        edge = _edge_named(piece, ref.edge)
        if edge is None:
            mark = _mark_named(piece, ref)
            found.append(_marked(piece.name, ref.edge, mark.chain, mark.start))
            continue
        low, high = _bounds(piece, edge, ref)
        edges = piece.outline.edges
        ends = tuple(
            [edges[at].place(along) for at, along, _ in piece.splits if edges[at].name == ref.edge]
        )
        darts = tuple([dart for dart in piece.darts if dart.edge == ref.edge])
        name, panel, levels = piece.name, piece.panel, piece.levels
        found.append(_stretch(name, panel, levels, edge, ends, low, high, darts, against))
    return tuple(found)


def _edge_named(piece: Piece, name: str) -> Edge | None:
    for edge in piece.outline.edges:
        if edge.name == name:
            return edge
    return None


def _mark_named(piece: Piece, ref: EdgeRef) -> Mark:
    for mark in piece.marks:
        if mark.name == ref.edge:
            return mark
    raise GeometryRefused(f"{ref.piece} has no edge {ref.edge}.", where=ref.text)


def _bounds(piece: Piece, edge: Edge, ref: EdgeRef) -> tuple[float, float]:
    """From where to where a reference names an edge of a piece, mm along it."""
    low, high = 0.0, edge.length
    if ref.after:
        low = _split(piece, edge, ref.after, ref)
    if ref.before:
        high = _split(piece, edge, ref.before, ref)
    if high <= low:
        raise GeometryRefused("The stretch is empty.", where=ref.text)
    return low, high


def _split(piece: Piece, edge: Edge, line: str, ref: EdgeRef) -> float:
    for at, along, name in piece.splits:
        if name == line and piece.outline.edges[at] is edge:
            return along
    raise GeometryRefused(f"{line} does not end on {ref.edge} within {ref.piece}.", where=ref.text)


def _part(edge: Edge, low: float, high: float) -> Edge:
    return edge if low == 0.0 and high == edge.length else edge.between(low, high)


def _stretch_of(
    piece: str,
    panel: str,
    levels: dict[str, float],
    whole: Edge,
    ends: tuple[float, ...],
    low: float,
    high: float,
    darts: Sequence[Dart],
    against: bool,
) -> Stretch:
    edge = _part(whole, low, high)
    edge = edge.reversed() if against else edge
    return Stretch.of(piece, edge, _mouths(darts, edge), Ground(whole, panel, ends, levels))


def _marked_of(piece: str, mark: str, chain: Chain, start: float) -> Stretch:
    return Stretch.of(piece, _line(mark, chain, start))


def _line(name: str, chain: Chain, start: float) -> Edge:
    """A line drawn on a piece, as it is drawn."""
    return Edge(name, chain, start, start + chain.length)


def _mouths(darts: Sequence[Dart], edge: Edge) -> tuple[tuple[float, float], ...]:
    """The mouths of an edge's darts that lie on a stretch of it, in its direction; of one that it
    cuts, the part that lies on it.
    """
    found = []
    for dart in darts:
        low, high = sorted(edge.chain.distance_of(end) for end in (dart.first, dart.last))
        if high > low:
            found.append((low, high))
    return tuple(sorted(found))


def _measured_of(join: Join, a: tuple[Stretch, ...], b: tuple[Stretch, ...]) -> MeasuredJoin:
    return MeasuredJoin(join, MeasuredSide.of(a), MeasuredSide.of(b))


_stretch = Remembered(_stretch_of, 1600)
_marked = Remembered(_marked_of, 800)
_measured = Remembered(_measured_of, 400)
