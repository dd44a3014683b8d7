"""Darts closed along an edge: each section beyond a dart turns rigidly about the dart's point."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.block.panel import Dart, Panel
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, meetings
from studio.curves.point import Vector, turn_between
from studio.curves.spline import between
from studio.errors import GeometryRefused


def closing_moves(darts: Sequence[Dart]) -> tuple[Affine, ...]:
    """One move a section of an edge, from its start; the first section stays.

    `darts` are in the order the edge meets them. Each move is rigid and takes the dart's `last`
    end onto its `first`, so lengths are kept exactly.
    """
    moves = [Affine()]
    for dart in darts:
        turn = Affine.turn(
            turn_between(dart.last - dart.point, dart.first - dart.point), dart.point
        )
        moves.append(turn.then(moves[-1]))
    return tuple(moves)


def darts_on(panel: Panel, edge_name: str) -> tuple[Dart, ...]:
    """The darts of an edge in the order the outline meets them."""
    chain = panel.outline.edge(edge_name).chain
    return tuple(
        sorted(
            (dart for dart in panel.darts if dart.edge == edge_name),
            key=lambda dart: chain.distance_of(dart.first),
        )
    )


def fair_edge(
    start: Point, end: Point, inside_start: Vector, inside_end: Vector, darts: Sequence[Dart]
) -> tuple[Chain, tuple[Dart, ...]]:
    """A gentle edge from `start` to `end`, drawn with its darts closed and opened again.

    `inside_start` and `inside_end` are the unit directions in which the edge leaves and arrives
    with the darts open. Returns the edge (straight across each dart's mouth) and the darts with
    their ends on it; a dart that lies wholly beyond the new edge is gone.

    Raises:
        GeometryRefused: the edge misses a dart's legs.
    """
    kept = tuple(dart for dart in darts if _below(dart, start, end))
    moves = closing_moves(kept)
    curve = between(start, inside_start, moves[-1](end), moves[-1].vector(inside_end))
    opened: list[Cubic] = []
    placed: list[Dart] = []
    from_ = 0.0
    for index, dart in enumerate(kept):
        at = _meets_leg(curve, moves[index], dart)
        opened.append(curve.part(from_, at).transformed(moves[index].inverse()))
        first = opened[-1].p3
        last = moves[index + 1].inverse()(moves[index](first))
        opened.append(Cubic.straight(first, last))
        placed.append(msgspec.structs.replace(dart, first=first, last=last))
        from_ = at
    final = curve.part(from_, 1.0).transformed(moves[-1].inverse())
    opened.append(final)
    return _welded(opened, start, end), tuple(placed)


def waist_neighbours(panel: Panel) -> tuple[str, str]:
    """The edges that lead into the waist and away from it: side and rise, in the outline's order.

    Raises:
        GeometryRefused: the panel has no waist, or one that is not between its side and its rise.
    """
    name = panel.name
    order = [edge.name for edge in panel.outline.edges]
    if f"{name}.waist" not in order:
        raise GeometryRefused(f"{name} has no edge {name}.waist.", where=name)
    at = order.index(f"{name}.waist")
    before, after = order[at - 1], order[(at + 1) % len(order)]
    if {before, after} != {f"{name}.side", f"{name}.rise"}:
        raise GeometryRefused(
            f"The waist of {name} should run between {name}.side and {name}.rise.", where=name
        )
    return before, after


def with_waist_between(panel: Panel, below: Chain, above: Chain, darts: Sequence[Dart]) -> Panel:
    """The panel with its waist's neighbours redrawn and a gentle waist between them, square to
    both; `darts` are those of the waist that are kept.

    Raises:
        GeometryRefused: the new edge misses a dart's legs, or the outline turned inside out.
    """
    waist = f"{panel.name}.waist"
    before, after = waist_neighbours(panel)
    chain, placed = fair_edge(
        below.end, above.start, below.end_tangent.left(), above.start_tangent.right(), darts
    )
    changed = {before: below, waist: chain, after: above}
    edges = [
        Edge.whole(edge.name, changed[edge.name]) if edge.name in changed else edge
        for edge in panel.outline
    ]
    others = tuple(dart for dart in panel.darts if dart.edge != waist)
    return Panel(panel.name, Outline.of(edges), (*others, *placed), panel.levels)


def _below(dart: Dart, start: Point, end: Point) -> bool:
    """True while the dart's point still lies inside the edge (to its left)."""
    return (end - start).cross(dart.point - start) > 1.0


def _meets_leg(curve: Cubic, move: Affine, dart: Dart) -> float:
    """Parameter where the closed edge crosses the dart's closed legs, prolonged by half."""
    point, end = move(dart.point), move(dart.first)
    leg = Cubic.straight(point, end + (end - point) * 0.5)
    hits = meetings(Chain((curve,)), Chain((leg,)))
    if len(hits) != 1:
        raise GeometryRefused(f"The new edge misses the dart {dart.name}.", where=dart.name)
    return curve.parameter_at(hits[0].first)


def _welded(cubics: list[Cubic], start: Point, end: Point) -> Chain:
    """Neighbours share one stored point."""
    for k in range(1, len(cubics)):
        cubics[k] = cubics[k].with_ends(cubics[k - 1].p3, cubics[k].p3)
    return Chain(tuple(cubics)).with_ends(start, end)
