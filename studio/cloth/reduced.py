"""The cut outline of a copy that does without some of its allowances."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from studio.curves import Edge, tolerance
from studio.design.cloth import Place, Shortage
from studio.sew import SewnPiece, cut_outline_points
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
    left as is not missing; of a corner what lies as near to the sewing line's corner. A shortage
    of an edge that is not there takes nothing off.
    """
    points = cut_outline_points(sewn.cut_line, tolerance.FLAT_MM)
    edges = dict(
        zip(
            (edge.name for edge in sewn.piece.outline),
            zip(sewn.piece.outline, sewn.allowances, strict=True),
            strict=True,
        )
    )
    off = [
        _corner(sewn, edge, width, short) if is_corner(short) else _band(edge, width, short)
        for short in shortages
        if short.edge in edges
        for edge, width in (edges[short.edge],)
    ]
    if not off:
        return tuple(points)
    inside = Polygon(sewn.piece.outline.polyline())
    whole = Polygon(points)
    # Slivers between a stretch and the corner beside it go with them.
    closed = (
        unary_union(off).buffer(_SLIVER, join_style="mitre").buffer(-_SLIVER, join_style="mitre")
    )
    left = whole.difference(closed.difference(inside))
    largest = max(shapely.get_parts(left), key=lambda part: part.area)
    ring = shapely.geometry.polygon.orient(largest).exterior
    return tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1])


def _band(edge: Edge, width: float, short: Shortage) -> BaseGeometry:
    """Beside a stretch, to its right, all that is further out than what is left."""
    start, end = max(short.start, 0.0), min(short.end, edge.length)
    line = LineString(edge.chain.between(start, end).polyline(tolerance.FLAT_MM))
    left = max(width - short.missing, 0.0)
    outer = line.buffer(-(width + _BEYOND), single_sided=True)
    return outer.difference(line.buffer(left, cap_style="flat")) if left > 0.0 else outer


def _corner(sewn: SewnPiece, edge: Edge, width: float, short: Shortage) -> BaseGeometry:
    """Beyond the corner at an edge's end, where both edges have ended, all that is further out
    than what is left.
    """
    names = [one.name for one in sewn.piece.outline]
    index = names.index(edge.name)
    after = sewn.piece.outline.edges[(index + 1) % len(names)]
    after_width = sewn.allowances[(index + 1) % len(names)]
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
