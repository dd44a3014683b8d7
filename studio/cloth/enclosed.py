"""What a cut line or a sewing line encloses, be it drawn so that it crosses itself."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import LinearRing, Polygon
from shapely.geometry.polygon import orient
from shapely.ops import polygonize, unary_union

from studio.design.cloth import Place

_BRIDGE = 0.005
"""Loops that touch in one place only are one area by so much, mm; half of what a cut line may lie
beyond usable cloth."""


def enclosed(line: Sequence[Place]) -> Polygon:
    """The area in a closed line. Of one that crosses itself all that is in any of its loops, and
    `_BRIDGE` mm round it: it cannot be sewn, and is told elsewhere, but it lies on the cloth all
    the same while the maker mends it.
    """
    area = Polygon(line)
    if area.is_valid:
        return area
    crossed = unary_union(LinearRing(line))
    whole = unary_union([*polygonize(crossed), crossed]).buffer(_BRIDGE, join_style="mitre")
    return orient(Polygon(whole.exterior))
