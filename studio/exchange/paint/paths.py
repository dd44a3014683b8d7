"""Curves and areas as painter's paths: y flipped, true cubics, nothing flattened."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainterPath, QTransform
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from studio.curves import Affine, Chain
from studio.memo import remembered


def path_of(chains: Iterable[Chain], *, closed: bool = False) -> QPainterPath:
    """One path for chains end to end, in mm, y down."""
    path = QPainterPath()
    for chain in chains:
        path.connectPath(_along(chain))
    if closed:
        path.closeSubpath()
    return path


def paths_of(chains: Iterable[Chain]) -> QPainterPath:
    """One path for chains that lie apart, in mm, y down."""
    path = QPainterPath()
    for chain in chains:
        path.addPath(_along(chain))
    return path


def transform_of(move: Affine) -> QTransform:
    """A move of the plane, y up, as one of the painter, y down."""
    return QTransform(move.xx, -move.yx, -move.xy, move.yy, move.dx, -move.dy)


def path_of_area(area: BaseGeometry) -> QPainterPath:
    """One path for polygons with their holes, in mm, y down."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for part in getattr(area, "geoms", (area,)):
        if not isinstance(part, Polygon):
            continue
        for ring in (part.exterior, *part.interiors):
            path.addPolygon([QPointF(x, -y) for x, y, *_ in ring.coords])
            path.closeSubpath()
    return path


def _along_of(chain: Chain) -> QPainterPath:
    """Not to be changed: it is remembered, as most of a piece stays when a line is dragged."""
    path = QPainterPath()
    path.moveTo(chain.cubics[0].p0.x, -chain.cubics[0].p0.y)
    for cubic in chain.cubics:
        p1, p2, p3 = cubic.p1, cubic.p2, cubic.p3
        if cubic.is_straight:
            path.lineTo(p3.x, -p3.y)
        else:
            path.cubicTo(p1.x, -p1.y, p2.x, -p2.y, p3.x, -p3.y)
    return path


_along = remembered(_along_of, 1600)
