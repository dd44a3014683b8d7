"""Places, areas and moves of the table as Qt paints them: millimetres, y down."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QTransform
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from studio.canvas.paths import to_scene
from studio.curves import Affine, Point
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


def photograph_transform(
    pixels: Sequence[tuple[float, float]], marks: Sequence[tuple[float, float]]
) -> QTransform | None:
    """The move from a photograph's pixels to the cloth, y down, by two marks or four corners; None
    when they give none.
    """
    from_pixels = [QPointF(*at) for at in pixels]
    onto = [to_scene(Point(*at)) for at in marks]
    if len(from_pixels) == 4 and len(onto) == 4:
        found = QTransform.quadToQuad(from_pixels, onto)
        return found if isinstance(found, QTransform) else None
    if len(from_pixels) != 2 or len(onto) != 2 or from_pixels[0] == from_pixels[1]:
        return None
    run, wanted = from_pixels[1] - from_pixels[0], onto[1] - onto[0]
    size = run.x() ** 2 + run.y() ** 2
    along = (wanted.x() * run.x() + wanted.y() * run.y()) / size
    aside = (wanted.y() * run.x() - wanted.x() * run.y()) / size
    turn = QTransform(along, aside, -aside, along, 0.0, 0.0)
    start = onto[0] - turn.map(from_pixels[0])
    return QTransform(along, aside, -aside, along, start.x(), start.y())


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
