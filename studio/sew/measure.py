"""Joins measured: which stretches of which pieces a side is made of, and how long it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias

from studio.block.panel import Dart
from studio.curves import Chain, Cubic, Edge
from studio.cut.piece import Mark, Piece
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.memo import Made, remembered
from studio.sew.laid_on import run_alike
from studio.sew.sewn import Ground, MeasuredJoin, MeasuredSide, Stretch


def measured(join: Join, pieces: Mapping[str, Piece]) -> MeasuredJoin:
    """Both sides of a join, each in sewing order; lengths within 1e-6 mm. A line drawn on a piece
    runs as the edge that is laid along it.

    The same object again while the edges it runs along and what is notched on them are the same,
    whatever else of their pieces has changed.

    Raises:
        GeometryRefused: a piece, an edge or the end of a line it names is not there, or one side
            names none.
    """
    named = {name: _named(piece) for name, piece in pieces.items()}
    a = _stretches(join.a, named, against=join.a.mirrored)
    b = _stretches(join.b, named, against=not join.b.mirrored)
    if not a or not b:
        raise GeometryRefused(
            f"{join.name} has an edge on one side only. Name what that is sewn to, or take the "
            "seam away.",
            where=join.name,
        )
    return _measured(join, a, b)


def measured_side(side: JoinSide, pieces: Mapping[str, Piece], *, against: bool) -> MeasuredSide:
    """One side: its stretches turned to the sewing direction, and its length, darts closed.

    Raises:
        GeometryRefused: as `measured`.
    """
    named = {name: _named(piece) for name, piece in pieces.items()}
    return MeasuredSide.of(_stretches(side, named, against=against))


def changed_names(before: Piece, after: Piece) -> set[str]:
    """Names of the edges and marks of a piece of which something that a join reads has changed."""
    was, now = _named(before), _named(after)
    changed = {name for name, found in now.items() if found is not was.get(name)}
    return changed.union(was.keys() - now.keys())


def stretch(piece: Piece, ref: EdgeRef) -> Edge:
    """The edge (or mark) a reference names, counter-clockwise; raises GeometryRefused."""
    found = _named(piece).get(ref.edge)
    if found is None:
        raise _unnamed(ref, _named(piece))
    if isinstance(found, Mark):
        return _line(found)
    return _part(found.edge, *_bounds(found, ref))


class _OnPiece(Made, frozen=True):
    """All that is read of an edge of a piece: the edge, where on it as first drawn lines end (mm),
    where on this stretch of it (mm) and which, the darts on it, whether the outline runs on
    without a corner before it and after it, and which edges those are.
    """

    panel: str
    levels: tuple[tuple[str, float], ...]
    edge: Edge
    ends: tuple[float, ...]
    splits: tuple[tuple[float, str], ...]
    darts: tuple[Dart, ...]
    runs_on: tuple[bool, bool]
    beside: tuple[str, str]


_NO_CORNER = 0.05
"""Sine of the greatest turn (3 degrees) between two edges that no eye takes for a corner."""

_Named: TypeAlias = dict[str, Mark | _OnPiece]


def _stretches(
    side: JoinSide, named: Mapping[str, _Named], *, against: bool
) -> tuple[Stretch, ...]:
    read = []
    for ref in side.edges:
        here = named.get(ref.piece)
        if here is None:
            raise GeometryRefused(
                f"There is no piece {ref.piece}. Make it again, or take it out of the seam.",
                where=ref.text,
            )
        found = here.get(ref.edge)
        if found is None:
            raise _unnamed(ref, here)
        read.append(found)
    return _side(side, tuple(read), against)


def _named_of(piece: Piece) -> _Named:
    """The marks and edges of a piece by name; of several that bear one name, the first edge."""
    found: _Named = {mark.name: mark for mark in reversed(piece.marks)}
    edges, levels = piece.outline.edges, tuple(piece.levels.items())
    runs_on = [_runs_on(one.chain.cubics[-1], two.chain.cubics[0]) for one, two in _pairs(edges)]
    splits: dict[str, list[tuple[int, float, str]]] = {}
    for split in piece.splits:
        splits.setdefault(edges[split[0]].name, []).append(split)
    darts: dict[str, list[Dart]] = {}
    for dart in piece.darts:
        darts.setdefault(dart.edge, []).append(dart)
    for index in range(len(edges) - 1, -1, -1):
        edge = edges[index]
        here = splits.get(edge.name, ())
        found[edge.name] = _on_piece(
            piece.panel,
            levels,
            edge,
            tuple([edges[at].place(along) for at, along, _ in here]),
            tuple([(along, line) for at, along, line in here if at == index]),
            tuple(darts.get(edge.name, ())),
            (runs_on[index - 1], runs_on[index]),
            (edges[index - 1].name, edges[(index + 1) % len(edges)].name),
        )
    return found


def _pairs(edges: Sequence[Edge]) -> Iterable[tuple[Edge, Edge]]:
    """Every edge of an outline with the one after it."""
    return zip(edges, (*edges[1:], edges[0]), strict=True)


def _runs_on_of(one: Cubic, two: Cubic) -> bool:
    """True where the outline has no corner between the last curve of an edge and the first of the
    next.
    """
    a, b = one.tangent(1.0), two.tangent(0.0)
    return a.dot(b) > 0.0 and abs(a.cross(b)) < _NO_CORNER


def _side_of(
    side: JoinSide, read: tuple[Mark | _OnPiece, ...], against: bool
) -> tuple[Stretch, ...]:
    found = []
    for ref, one in zip(side.edges, read, strict=True):
        if isinstance(one, Mark):
            found.append(_marked(ref.piece, one.name, one.chain, one.start))
        else:
            found.append(_stretch(ref.piece, one, *_bounds(one, ref), against))
    return tuple(found)


def _unnamed(ref: EdgeRef, here: _Named) -> GeometryRefused:
    """Why a piece lacks an edge: most often a line has cut it off. Whether that was moved, or the
    panel has changed under it, the pattern does not tell.
    """
    lines = [
        name
        for name, one in here.items()
        if isinstance(one, _OnPiece) and not name.startswith(f"{one.panel}.")
    ]
    bounded = f": {' and '.join(lines)} bound it now" if lines else ""
    return GeometryRefused(
        f"{ref.piece} has no edge {ref.edge}{bounded}. Lines keep the distances that they are set "
        "at: where one is moved, or on another body, it may cut off what another had made. Move it "
        "until the edge is there again, or take the edge out of the seam.",
        where=ref.text,
    )


def _bounds(one: _OnPiece, ref: EdgeRef) -> tuple[float, float]:
    """From where to where a reference names an edge of a piece, mm along it."""
    low, high = 0.0, one.edge.length
    if ref.after:
        low = _split(one, ref.after, ref)
    if ref.before:
        high = _split(one, ref.before, ref)
    if high <= low:
        raise GeometryRefused("The stretch is empty.", where=ref.text)
    return low, high


def _split(one: _OnPiece, line: str, ref: EdgeRef) -> float:
    for along, name in one.splits:
        if name == line:
            return along
    raise GeometryRefused(
        f"{line} does not end on {ref.edge} within {ref.piece}. Move its end there.",
        where=ref.text,
    )


def _part(edge: Edge, low: float, high: float) -> Edge:
    return edge if low == 0.0 and high == edge.length else edge.between(low, high)


def _stretch_of(piece: str, one: _OnPiece, low: float, high: float, against: bool) -> Stretch:
    edge = _part(one.edge, low, high)
    edge = edge.reversed() if against else edge
    ground = Ground(one.edge, one.panel, one.ends, dict(one.levels), one.runs_on, one.beside)
    return Stretch.of(piece, edge, _mouths(one.darts, edge), ground)


def _marked_of(piece: str, name: str, chain: Chain, start: float) -> Stretch:
    return Stretch.of(piece, _line(Mark(name, chain, start)))


def _line(mark: Mark) -> Edge:
    """A line drawn on a piece, as it is drawn."""
    return Edge(mark.name, mark.chain, mark.start, mark.start + mark.chain.length)


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
    a, b = run_alike(a, b), run_alike(b, a)
    return MeasuredJoin(join, MeasuredSide.of(a), MeasuredSide.of(b))


_named = remembered(_named_of, 400)
_runs_on = remembered(_runs_on_of, 1600)
_on_piece = remembered(_OnPiece, 3200)
_side = remembered(_side_of, 800)
_stretch = remembered(_stretch_of, 1600)
_marked = remembered(_marked_of, 800)
_measured = remembered(_measured_of, 400)
