"""Darts closed along an edge: each section beyond a dart turns rigidly about the dart's point."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.block.panel import Dart, Panel
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, meetings, tolerance
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
    return reopened(Chain((curve,)), kept, start, end)


def closed_stretches(chain: Chain, darts: Sequence[Dart]) -> list[Chain]:
    """The stretches of an edge beside its darts, each moved as the darts before it close.

    `darts` are in the edge's order. Moves are rigid, so lengths are kept exactly.
    """
    starts = [0.0, *(chain.distance_of(dart.last) for dart in darts)]
    ends = [*(chain.distance_of(dart.first) for dart in darts), chain.length]
    moves = closing_moves(darts)
    return [
        chain.between(start, end).transformed(move)
        for start, end, move in zip(starts, ends, moves, strict=True)
        if end - start > tolerance.CORNER_MM
    ]


def reopened(
    closed: Chain, darts: Sequence[Dart], start: Point, end: Point
) -> tuple[Chain, tuple[Dart, ...]]:
    """An edge drawn with its darts closed, opened again: the edge from `start` to `end`, straight
    across each dart's mouth, and the darts with their ends on it.

    Raises:
        GeometryRefused: the edge misses a dart's legs.
    """
    moves = closing_moves(darts)
    opened: list[Cubic] = []
    placed: list[Dart] = []
    from_ = 0.0
    for index, dart in enumerate(darts):
        at = _meets_leg(closed, moves[index], dart)
        opened += closed.between(from_, at).transformed(moves[index].inverse()).cubics
        first = opened[-1].p3
        last = moves[index + 1].inverse()(moves[index](first))
        opened.append(Cubic.straight(first, last))
        placed.append(msgspec.structs.replace(dart, first=first, last=last))
        from_ = at
    opened += closed.between(from_, closed.length).transformed(moves[-1].inverse()).cubics
    return _welded(opened, start, end), tuple(placed)


def with_edge(
    panel: Panel, edge_name: str, chain: Chain, darts: Sequence[Dart] | None = None
) -> Panel:
    """The panel with one edge redrawn between the same ends; with `darts`, its darts too.

    Raises:
        GeometryRefused: the outline turned inside out.
    """
    edges = [
        Edge.whole(edge.name, chain) if edge.name == edge_name else edge for edge in panel.outline
    ]
    kept = panel.darts
    if darts is not None:
        kept = (*(dart for dart in panel.darts if dart.edge != edge_name), *darts)
    return Panel(panel.name, Outline.of(edges), kept, panel.levels)


def edge_of(panel: Panel, name: str) -> Edge:
    """The edge of that name; raises GeometryRefused when the panel has none."""
    if not panel.outline.has(name):
        raise GeometryRefused(f"{panel.name} has no edge {name}.", where=name)
    return panel.outline.edge(name)


def dart_of(panel: Panel, name: str) -> Dart:
    """The dart of that name; raises GeometryRefused when the panel has none."""
    for dart in panel.darts:
        if dart.name == name:
            return dart
    raise GeometryRefused(f"{panel.name} has no dart {name}.", where=name)


def level_of(panel: Panel, name: str) -> float:
    """The height of a level line, mm; raises GeometryRefused when the panel has none."""
    if name not in panel.levels:
        raise GeometryRefused(f"{panel.name} has no {name} line.", where=panel.name)
    return panel.levels[name]


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


def _meets_leg(closed: Chain, move: Affine, dart: Dart) -> float:
    """Distance at which the closed edge crosses the dart's closed legs, prolonged by half."""
    point, end = move(dart.point), move(dart.first)
    leg = Cubic.straight(point, end + (end - point) * 0.5)
    hits = meetings(closed, Chain((leg,)))
    if len(hits) != 1:
        raise GeometryRefused(f"The new edge misses the dart {dart.name}.", where=dart.name)
    return hits[0].first


def _welded(cubics: list[Cubic], start: Point, end: Point) -> Chain:
    """Neighbours share one stored point."""
    for k in range(1, len(cubics)):
        cubics[k] = cubics[k].with_ends(cubics[k - 1].p3, cubics[k].p3)
    return Chain(tuple(cubics)).with_ends(start, end)
