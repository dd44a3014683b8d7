"""Flaws of the cloth as the table paints them: millimetres, y down."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath
from shapely import LineString

from studio.canvas.paths import path_of_area
from studio.design.cloth import Flaw


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
