"""The cloth over the mouths of open darts, between their legs prolonged, under the roofs of the
cut line.
"""

from __future__ import annotations

from shapely import LineString, Polygon
from shapely import Point as Place
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from studio.curves import Affine, Chain, Outline, Point, tolerance
from studio.curves.point import turn_between
from studio.sew.mouth import Mouth
from studio.sew.pressing import pressed_toward
from studio.sew.roof import Roof

_ROUND = 32
"""Chords to a quarter of a circle."""

_NOTHING_MM2 = 1e-3
"""Cloth inside the sewing line of less than this is a rounding of its chords."""


def over_mouth(mouth: Mouth, beyond: float) -> Polygon:
    """What lies outside a mouth between the dart's legs, as far as its roof reaches and `beyond` mm
    further.
    """
    dart = mouth.dart
    far = _reach(mouth) + beyond
    out = [(end - dart.point).unit() * (3.0 * far) for end in (dart.first, dart.last)]
    between = _polygon(dart.first, dart.first + out[0], dart.last + out[1], dart.last)
    return between.intersection(Place(dart.point.x, dart.point.y).buffer(far, quad_segs=_ROUND))


def under_roof(mouth: Mouth, roof: Roof) -> BaseGeometry:
    """What lies under a roof over a mouth, between the dart's legs."""
    first, last = (roof.chain.nearest(at)[0] for at in (roof.first, roof.last))
    line = roof.chain.between(first, last).polyline(tolerance.FLAT_MM)
    # A step along a leg encloses nothing.
    return Polygon([*line, (mouth.dart.point.x, mouth.dart.point.y)]).buffer(0.0)


def depth_lost(mouth: Mouth, outline: Outline, width: float, lost: BaseGeometry) -> float:
    """How much of an allowance `width` mm wide is `lost` over a mouth, measured where the folded
    dart lies, from the cut line square to the sewing line; all of it where the dart does not reach
    that. Within `FLAT_MM`.
    """
    over = lost.intersection(over_mouth(mouth, 1.0))
    if over.is_empty:
        return 0.0
    seam = _seam_beside(mouth, outline, 4.0 * width)
    folded = _folded(over, mouth, outline)
    if folded.intersection(seam.buffer(width, single_sided=True)).area > _NOTHING_MM2:
        return width
    return max(0.0, width - float(seam.distance(folded)))


def _seam_beside(mouth: Mouth, outline: Outline, beyond: float) -> LineString:
    """The sewing line beside the leg a dart is pressed to, run on over the mouth by so much."""
    chain = outline.edges[mouth.index].chain
    if pressed_toward(mouth.dart, outline) == "first":
        beside = chain.between(0.0, mouth.start)
        return _line(beside.prolonged(0.0, beyond))
    return _line(chain.between(mouth.end, chain.length).prolonged(beyond, 0.0))


def _folded(over: BaseGeometry, mouth: Mouth, outline: Outline) -> BaseGeometry:
    """What lies over a mouth where the folds of the dart take it: its half at the leg the dart is
    pressed to mirrored over that leg, the other turned onto it.
    """
    apex, near, far = mouth.dart.point, mouth.dart.first, mouth.dart.last
    if pressed_toward(mouth.dart, outline) == "last":
        near, far = far, near
    turn = turn_between(near - apex, far - apex)
    # Halves of a dart opened by 120 degrees at most reach its roof at three times its distance.
    way = (near - apex).unit() * (3.0 * _reach(mouth))
    at_near, at_fold, at_far = (apex + way.turned(turn * share) for share in (0.0, 0.5, 1.0))
    turned_over = over.intersection(_polygon(apex, at_near, at_fold))
    turned = over.intersection(_polygon(apex, at_fold, at_far))
    return _moved(turned_over, Affine.mirror(apex, near)).union(
        _moved(turned, Affine.turn(-turn, apex))
    )


def _reach(mouth: Mouth) -> float:
    """How far from its point a dart's roof reaches, mm."""
    roof = mouth.roof
    return max(mouth.dart.point.distance_to(at) for at in (roof.first, roof.peak, roof.last))


def _line(chain: Chain) -> LineString:
    return LineString(chain.polyline(tolerance.FLAT_MM))


def _polygon(*corners: Point) -> Polygon:
    return Polygon([(at.x, at.y) for at in corners])


def _moved(area: BaseGeometry, move: Affine) -> BaseGeometry:
    return affine_transform(area, [move.xx, move.xy, move.yx, move.yy, move.dx, move.dy])
