"""The cut outline of a copy that does without some of its allowances."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import shapely
from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from studio.cloth.enclosed import enclosed
from studio.cloth.over_mouth import over_mouth, under_roof
from studio.curves import Chain, tolerance
from studio.design.cloth import Place, Shortage
from studio.sew import SewnPiece, cut_outline_points
from studio.sew.mouth import Mouth, mouths_in, roof_inside
from studio.sew.short import corner_reach, is_corner

_BEYOND = 2.0
"""What is taken off reaches so far beyond the allowance, mm, so that no sliver is left."""

_SLIVER = 0.1
"""Twice this is the widest gap between what is taken off that is taken off as well, mm."""

_ROUND = 32
"""Chords to a quarter of a corner's circle: 0.02 mm off for an allowance of 60."""


def reduced_outline(sewn: SewnPiece, shortages: Sequence[Shortage]) -> tuple[Place, ...]:
    """Points round the cut line of a copy that does without `shortages`, counter-clockwise, in the
    piece's coordinates, chords within `FLAT_MM`. Beside each stretch so much of the allowance is
    left as is not missing, with a roof over open darts where the cut line has one; of a corner what
    lies as near to the sewing line's corner. A shortage of an edge that is not there takes nothing
    off.
    """
    points = cut_outline_points(sewn.cut_line, tolerance.FLAT_MM)
    names = [edge.name for edge in sewn.piece.outline]
    off = [
        _corner(sewn, names.index(short.edge), short)
        if is_corner(short)
        else _beside(sewn, names.index(short.edge), short)
        for short in shortages
        if short.edge in names
    ]
    if not off:
        return tuple(points)
    inside = enclosed(sewn.piece.outline.polyline())
    whole = enclosed(points)
    # Slivers between a stretch and the corner beside it go with them.
    closed = (
        unary_union(off).buffer(_SLIVER, join_style="mitre").buffer(-_SLIVER, join_style="mitre")
    )
    left = whole.difference(closed.difference(inside))
    largest = max(shapely.get_parts(left), key=lambda part: part.area)
    ring = shapely.geometry.polygon.orient(largest).exterior
    return tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])


def _beside(sewn: SewnPiece, index: int, short: Shortage) -> BaseGeometry:
    """What is taken off beside a stretch of an edge: further out than what is left."""
    edge, width = sewn.piece.outline.edges[index], sewn.allowances[index]
    left = max(width - short.missing, 0.0)
    start, end = max(short.start, 0.0), min(short.end, edge.length)
    roofs = [
        (mouth, inside)
        for mouth in mouths_in(sewn, index)
        if (inside := roof_inside(mouth, left, sewn.piece.outline, sewn.piece.darts)) is not None
    ]
    mouths = [mouth for mouth, _ in roofs]
    off = [_band(chain, left, width) for chain in _between_mouths(edge.chain, start, end, mouths)]
    for mouth, inside in roofs:
        over = over_mouth(mouth, _BEYOND)
        off = [one.difference(over) for one in off]
        if mouth.is_met(start, end):
            off.append(over.difference(under_roof(mouth, inside)))
    return unary_union(off)


def _between_mouths(
    edge: Chain, start: float, end: float, mouths: Iterable[Mouth]
) -> Iterator[Chain]:
    """The parts of a stretch outside of mouths, run on into these as far as a leg may lean over
    them; beside a mouth they end where the slope of its roof begins.
    """
    low, lead = start, 0.0
    for mouth in sorted(mouths, key=lambda one: one.start):
        if end < mouth.low or mouth.high < start:
            continue
        dart, roof = mouth.dart, mouth.roof
        if low < mouth.low:
            part = edge.between(low, mouth.start)
            lean = (roof.first - dart.first).dot(part.end_tangent)
            yield part.prolonged(lead, max(lean, 0.0) + _BEYOND)
        low = mouth.end
        along = edge.tangent(low)
        lead = max((dart.last - roof.last).dot(along), 0.0) + _BEYOND
        if end <= mouth.high:
            return
    yield edge.between(low, end).prolonged(lead, 0.0)


def _band(chain: Chain, left: float, width: float) -> BaseGeometry:
    """Beside a stretch, to its right, all that is further out than what is left."""
    line = LineString(chain.polyline(tolerance.FLAT_MM))
    outer = line.buffer(-(width + _BEYOND), single_sided=True)
    # Round at its ends: buffers of different widths may end in directions a hair apart, and the
    # wedge between them would reach the sewing line.
    return outer.difference(line.buffer(left, quad_segs=_ROUND)) if left > 0.0 else outer


def _corner(sewn: SewnPiece, index: int, short: Shortage) -> BaseGeometry:
    """Beyond the corner at an edge's end, where both edges have ended, all that is further out
    than what is left.
    """
    edges = sewn.piece.outline.edges
    edge, width = edges[index], sewn.allowances[index]
    after = edges[(index + 1) % len(edges)]
    after_width = sewn.allowances[(index + 1) % len(edges)]
    corner = edge.chain.end
    at = Point(corner.x, corner.y)
    of = corner_reach(sewn, corner)
    left = max(of - short.missing, 0.0)
    far = max(of, width, after_width) + _BEYOND
    beyond = at.buffer(far, quad_segs=_ROUND)
    for chain, wide in ((edge.chain, width), (after.chain, after_width)):
        line = LineString(chain.polyline(tolerance.FLAT_MM))
        beyond = beyond.difference(line.buffer(-(max(wide, far)), single_sided=True))
    return beyond.difference(at.buffer(left, quad_segs=_ROUND)) if left > 0.0 else beyond
