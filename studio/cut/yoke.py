"""The yoke: what lies above its line, with the darts closed and the long edges redrawn fair;
and what of the darts is left below it.
"""

from __future__ import annotations

from studio.alter.closing import closing_moves
from studio.block.panel import Dart, Panel
from studio.curves import Chain, Cubic, Edge, Outline, Point, meetings, tolerance
from studio.curves.fair import faired
from studio.errors import GeometryRefused


def darts_closed(face: Outline, panel: Panel, waist: str) -> Outline:
    """A face that holds the waist, its darts turned shut, waist and lower edge redrawn fair.

    A dart that ends inside the face is first drawn on to the face's lower edge. Turning is rigid;
    only the two redrawn edges change in length, by what fairing takes.

    Raises:
        GeometryRefused: the lower edge is not one edge, or a dart's legs miss it.
    """
    outline = face.starting_with(waist)
    darts = darts_within(outline.edges[0], panel)
    if not darts:
        return face
    low = _lower_index(outline)
    lower = outline.edges[low]
    darts = tuple(_reaching(dart, lower.chain) for dart in darts)
    moves = closing_moves(darts)
    top_parts = _stretches(outline.edges[0].chain, darts)
    low_parts = _lower_stretches(lower.chain, darts)
    top = Chain((faired([c.transformed(m) for c, m in zip(top_parts, moves, strict=True)])[0],))
    turned_low = [
        chain.transformed(move) for chain, move in zip(low_parts, reversed(moves), strict=True)
    ]
    bottom = Chain((faired(turned_low)[0],))
    first = outline.edges[0]
    between = [edge.transformed(moves[-1]) for edge in outline.edges[1:low]]
    rest = outline.edges[low + 1 :]
    edges = [
        Edge(first.name, top, first.start, first.end),
        *between,
        Edge(lower.name, bottom, lower.start, lower.end),
        *rest,
    ]
    return Outline.of(_rejoined(edges))


def darts_within(waist: Edge, panel: Panel) -> tuple[Dart, ...]:
    """The panel's darts whose mouth lies on this stretch of the waist, in its order."""
    found = []
    for dart in panel.darts:
        along = waist.chain.distance_of(dart.first)
        gap = waist.chain.at(along).distance_to(dart.first)
        if dart.edge == waist.name and gap < tolerance.CORNER_MM:
            found.append((along, dart))
    return tuple(dart for _, dart in sorted(found, key=lambda pair: pair[0]))


def rest_below(line: Chain, darts: tuple[Dart, ...]) -> float:
    """Width of the darts where the yoke's line crosses them, in all: what is left below, mm."""
    rest = 0.0
    for dart in darts:
        hits = [_leg_hit(line, dart.point, end) for end in (dart.first, dart.last)]
        if hits[0] is not None and hits[1] is not None:
            rest += line.at(hits[0]).distance_to(line.at(hits[1]))
    return rest


def _lower_index(outline: Outline) -> int:
    """The edge opposite the waist: neither of the waist's two neighbours."""
    count = len(outline.edges)
    if count != 4:
        raise GeometryRefused(
            "A yoke runs from rise to side: it has a waist, two ends and one lower edge."
        )
    return 2


def _leg_hit(line: Chain, point: Point, end: Point) -> float | None:
    hits = meetings(line, Chain((Cubic.straight(point, end),)))
    return hits[0].first if hits else None


def _reaching(dart: Dart, line: Chain) -> Dart:
    """The dart itself when its legs cross the line, else drawn on along its axis to the line."""
    if _leg_hit(line, dart.point, dart.first) is not None:
        return dart
    middle = dart.first.toward(dart.last, 0.5)
    axis = dart.point - middle
    ray = Chain((Cubic.straight(middle, middle + axis * 3.0),))
    hits = meetings(line, ray)
    if not hits:
        raise GeometryRefused(
            f"The line passes beside {dart.name}: bring it under the dart, or across it."
        )
    return Dart(dart.name, dart.edge, dart.first, dart.last, hits[0].point)


def _stretches(chain: Chain, darts: tuple[Dart, ...]) -> list[Chain]:
    parts, start = [], 0.0
    for dart in darts:
        parts.append(chain.between(start, chain.distance_of(dart.first)))
        start = chain.distance_of(dart.last)
    parts.append(chain.between(start, chain.length))
    return parts


def _lower_stretches(chain: Chain, darts: tuple[Dart, ...]) -> list[Chain]:
    """Stretches of the lower edge between the darts, in its own (opposite) direction."""
    cuts = []
    for dart in reversed(darts):
        ends = []
        for end in (dart.last, dart.first):
            hit = _leg_hit(chain, dart.point, end)
            ends.append(chain.nearest(dart.point)[0] if hit is None else hit)
        cuts.append(ends)
    parts, start = [], 0.0
    for before, after in cuts:
        parts.append(chain.between(start, before))
        start = after
    parts.append(chain.between(start, chain.length))
    return parts


def _rejoined(edges: list[Edge]) -> list[Edge]:
    """Neighbours share one stored point after the turns' rounding."""
    joined = []
    for index, edge in enumerate(edges):
        after = edges[(index + 1) % len(edges)]
        joined.append(
            Edge(
                edge.name,
                edge.chain.with_ends(edge.chain.start, after.chain.start),
                edge.start,
                edge.end,
            )
        )
    return joined
