"""A panel cut along a straight line and opened: the geometry of hinges and spreads."""

from __future__ import annotations

import math

from studio import numbers
from studio.alter.opening import Bridge, Cut, moving_part_first, part_moved
from studio.block.panel import Panel
from studio.block.places import place_on_edge
from studio.curves import Affine, Chain, Cubic, Point, meetings
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused

_LEAST_LINE_MM = 10.0


def opened_along(
    panel: Panel,
    start: OnEdge,
    end: OnEdge,
    at_start: float,
    at_end: float,
    bridge: Bridge = "smooth",
) -> Panel:
    """The panel opened by `at_start` and `at_end` mm (negative: closed) at a line's two ends, its
    gaps drawn over as `bridge` says.

    The part without the foot of the crease line moves, rigidly: first square to the line by the
    lesser of the two, then about that end until the other has opened by the difference more. With
    nothing at one end that end is the pivot, and the chord at the other is exact.

    Raises:
        GeometryRefused: no such place, the ends fall together, the line crosses a dart, or more
            is asked for than the line's length or the edges allow.
    """
    one, two = place_on_edge(panel, start), place_on_edge(panel, end)
    first, second = moving_part_first(panel, Cut.at(one, bridge), Cut.at(two, bridge))
    gaps = (at_start, at_end)
    if first.edge != one.edge or first.stays != one.distance:
        gaps = (at_end, at_start)
    pivot, far = _point(panel, first), _point(panel, second)
    length = pivot.distance_to(far)
    if length < _LEAST_LINE_MM:
        raise GeometryRefused("The two ends of the line fall together.", where=panel.name)
    _refuse_crossed_darts(panel, pivot, far)
    share = (gaps[1] - gaps[0]) / (2.0 * length)
    if abs(share) >= 0.5:
        opens = abs(gaps[1] - gaps[0])
        raise GeometryRefused(
            f"The line is {numbers.length(length)} long and cannot open by "
            f"{numbers.length(opens)}.",
            where=panel.name,
            exact=(length, opens),
        )
    square = (far - pivot).right().unit()
    about, least = (pivot, gaps[0]) if abs(gaps[0]) <= abs(gaps[1]) else (far, gaps[1])
    step = square * least
    turn = Affine.turn(-math.degrees(2.0 * math.asin(share)), about + step)
    return part_moved(
        panel,
        _trimmed(panel, first, gaps[0], 1.0),
        _trimmed(panel, second, gaps[1], -1.0),
        Affine.shift(step).then(turn),
    )


def _point(panel: Panel, cut: Cut) -> Point:
    return panel.outline.edge(cut.edge).chain.at(cut.stays)


def _trimmed(panel: Panel, cut: Cut, gap: float, way: float) -> Cut:
    """Where the line closes, the moving part gives up as much of its edge."""
    if gap >= 0.0:
        return cut
    moves = cut.moves - way * gap
    if not 0.0 <= moves <= panel.outline.edge(cut.edge).length:
        raise GeometryRefused(
            f"{cut.edge} is too short beyond the line to be closed by {numbers.length(-gap)}.",
            where=cut.edge,
            exact=(gap,),
        )
    return Cut(cut.edge, cut.stays, moves)


def _refuse_crossed_darts(panel: Panel, one: Point, two: Point) -> None:
    line = Chain((Cubic.straight(one, two),))
    for dart in panel.darts:
        legs = Chain.straight(dart.first, dart.point, dart.last)
        if meetings(line, legs):
            raise GeometryRefused(
                f"The line crosses the dart {dart.name}: close it, or lead the line past it.",
                where=dart.name,
            )
