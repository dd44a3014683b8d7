"""Places, areas and moves of the table as Qt paints them: millimetres, y down."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QTransform
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from studio.curves import Affine
from studio.design.cloth import Flaw


def transform_of(move: Affine) -> QTransform:
    """A move of the plane, y up, as one of the scene, y down."""
    return QTransform(move.xx, -move.yx, -move.xy, move.yy, move.dx, -move.dy)


def path_of_area(area: BaseGeometry) -> QPainterPath:
    """Polygons with their holes as a path on the scene."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.OddEvenFill)
    for part in getattr(area, "geoms", (area,)):
        if not isinstance(part, Polygon):
            continue
        for ring in (part.exterior, *part.interiors):
            places = [QPointF(x, -y) for x, y, *_ in ring.coords]
            path.addPolygon(places)
            path.closeSubpath()
    return path


def screen_brush(
    painter: QPainter, colour: str, style: Qt.BrushStyle, share: float = 1.0
) -> QBrush:
    """A hatched brush as fine on the screen at any zoom and turn, `share` of it showing."""
    tint = QColor(colour)
    tint.setAlphaF(share)
    brush = QBrush(tint, style)
    brush.setTransform(painter.worldTransform().inverted()[0])
    return brush


def flaw_path(flaw: Flaw) -> QPainterPath:
    """The area of a flaw, a band as wide as it is."""
    if flaw.wide > 0.0 and len(flaw.points) > 1:
        return path_of_area(LineString(flaw.points).buffer(flaw.wide / 2.0, cap_style="flat"))
    path = line_path(flaw)
    path.closeSubpath()
    return path


def line_path(flaw: Flaw) -> QPainterPath:
    """Through the places of a flaw, one after the other."""
    path = QPainterPath()
    for at, (x, y) in enumerate(flaw.points):
        (path.lineTo if at else path.moveTo)(QPointF(x, -y))
    return path
