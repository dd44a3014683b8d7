"""How far a piece lies beyond usable cloth, and what two pieces lack of the gap between them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec
import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.ops import nearest_points

if TYPE_CHECKING:
    from studio.design.cloth import Place

OUTSIDE_MM = 0.01
"""A cut line may lie so far beyond usable cloth: less than shears or a printer can tell."""
GAP_MM = 0.01
"""The gap between two cut lines may be so much narrower than asked; the same reason."""


class Lack(msgspec.Struct, frozen=True):
    """By how many mm something is not clear, and where that is the most."""

    by: float
    at: Place


def beyond(piece: Polygon, usable: Polygon | MultiPolygon) -> Lack | None:
    """How far a piece reaches beyond usable cloth; None when not more than `OUTSIDE_MM`.

    Measured from the cut line to the nearest usable cloth; over a flaw that it covers whole, the
    radius of the largest circle in the flaw. Exact for corners, best effort on long curved runs.
    """
    outside = piece.difference(usable)
    if outside.is_empty:
        return None
    corners = shapely.get_coordinates(outside)
    far = shapely.distance(shapely.points(corners), usable)
    worst = int(np.argmax(far))
    lack = Lack(float(far[worst]), (float(corners[worst, 0]), float(corners[worst, 1])))
    for part in getattr(outside, "geoms", (outside,)):
        if isinstance(part, Polygon) and part.area > OUTSIDE_MM**2:
            radius = shapely.maximum_inscribed_circle(part, OUTSIDE_MM)
            if radius.length > lack.by:
                x, y = radius.coords[0]
                lack = Lack(radius.length, (x, y))
    return lack if lack.by > OUTSIDE_MM else None


def too_near(one: Polygon, other: Polygon, gap: float) -> Lack | None:
    """How much two pieces lack of the gap; None when not more than `GAP_MM`. Of two that overlap,
    the gap and the breadth of what they share (best effort where they cross more than once).
    """
    distance = one.distance(other)
    if distance > 0.0:
        if distance >= gap - GAP_MM:
            return None
        near, far = nearest_points(one, other)
        return Lack(gap - distance, ((near.x + far.x) / 2.0, (near.y + far.y) / 2.0))
    shared = one.intersection(other)
    breadth = _breadth(shared)
    if gap + breadth <= GAP_MM:
        return None
    middle = shared.representative_point()
    return Lack(gap + breadth, (middle.x, middle.y))


def _breadth(shared: shapely.geometry.base.BaseGeometry) -> float:
    """The narrower side of the box, turned as it fits best, round the largest of what is shared."""
    parts = [part for part in getattr(shared, "geoms", (shared,)) if isinstance(part, Polygon)]
    if not parts:
        return 0.0
    round_it = shapely.minimum_rotated_rectangle(max(parts, key=lambda part: part.area))
    corners = shapely.get_coordinates(round_it)
    if len(corners) < 3:
        return 0.0
    return float(np.min(np.hypot(*np.diff(corners[:3], axis=0).T)))
