"""Darts that a drawing shows as two lines from an edge that runs on over them to a point."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from msgspec.structs import replace

from studio.block.imported import chain_of, drawn_edge, outline_of
from studio.curves import Chain, Cubic, Point
from studio.design.block import DrawnDart, DrawnPanel
from studio.exchange.dxf_entities import Stroke

LEAST_LEG_MM = 30.0
"""Shorter pairs of lines are notches (practice)."""

_MEET_MM = 1.0
_LEGS_WITHIN_MM = 2.0
"""Drawn by hand, legs meet at their point and at the edge within the first, and are as long as each
other within the second (practice)."""

_WIDEST = 0.8
"""Of its legs' length, the width of the widest dart (practice)."""

_Leg = tuple[Stroke, Point, Point]


def with_drawn_darts(
    panels: Sequence[DrawnPanel], strokes: Sequence[Stroke]
) -> tuple[list[DrawnPanel], set[int]]:
    """The panels with the darts that are drawn on them, and the `id` of every stroke that is a leg.

    Legs are straight, of one length within 2 mm, and begin within 1 mm of one edge.
    """
    legs = [leg for stroke in strokes for leg in _legs(stroke)]
    used: set[int] = set()
    made = []
    for panel in panels:
        for one, two in itertools.combinations(legs, 2):
            grown = _with_dart(panel, one, two)
            if grown is not None:
                panel = grown
                used |= {id(one[0]), id(two[0])}
        made.append(panel)
    return made, used


def _legs(stroke: Stroke) -> list[_Leg]:
    """A line, or each of the two of a line with one corner, with its ends."""
    cubics = stroke.chain.cubics
    if len(cubics) > 2 or not all(one.is_straight for one in cubics):
        return []
    return [(stroke, one.p0, one.p3) for one in cubics if one.length >= LEAST_LEG_MM]


def _with_dart(panel: DrawnPanel, one: _Leg, two: _Leg) -> DrawnPanel | None:
    """The panel with two legs as a dart, or None when they are none of it."""
    met = _met(one, two)
    if met is None:
        return None
    first, second, point = met
    lengths = (first.distance_to(point), second.distance_to(point))
    mouth = first.distance_to(second)
    if abs(lengths[0] - lengths[1]) > _LEGS_WITHIN_MM or not (
        _MEET_MM < mouth < _WIDEST * min(lengths)
    ):
        return None
    for number, edge in enumerate(panel.edges):
        chain = chain_of(edge)
        places = sorted(_place_on(chain, place) for place in (first, second))
        if places[0] < _MEET_MM or places[1] > chain.length - _MEET_MM:
            continue
        if not outline_of(panel.edges).contains(point):
            continue
        opened = _opened(chain, *places)
        if opened is None:
            continue
        redrawn, start, end = opened
        dart = DrawnDart(f"{panel.name}-dart-{len(panel.darts) + 1}", edge.name, start, end, point)
        edges = list(panel.edges)
        edges[number] = drawn_edge(edge.name, redrawn)
        return replace(panel, edges=tuple(edges), darts=(*panel.darts, dart))
    return None


def _met(one: _Leg, two: _Leg) -> tuple[Point, Point, Point] | None:
    """The free ends of two legs and the point where they meet."""
    ends, others = one[1:], two[1:]
    for a, b in itertools.product((0, 1), repeat=2):
        point, other = ends[1 - a], others[1 - b]
        if point.distance_to(other) <= _MEET_MM:
            return ends[a], others[b], point.toward(other, 0.5)
    return None


def _place_on(chain: Chain, place: Point) -> float:
    """How far along a chain a place lies; below nought when it does not lie on it."""
    along, gap = chain.nearest(place)
    return along if gap <= _MEET_MM else -1.0


def _opened(
    chain: Chain, start: float, end: float
) -> tuple[tuple[Cubic, ...], Point, Point] | None:
    """A chain that runs straight over a mouth, and the mouth's ends; None where a mouth is that
    another dart has, or where the chain is not straight enough for one.
    """
    mouth = chain.between(start, end)
    if mouth.length - mouth.start.distance_to(mouth.end) > _MEET_MM:
        return None
    before, after = chain.between(0.0, start), chain.between(end, chain.length)
    straight = Cubic.straight(mouth.start, mouth.end)
    return (*before.cubics, straight, *after.cubics), mouth.start, mouth.end
