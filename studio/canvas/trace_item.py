"""A line being drawn, through the points clicked so far and the pointer."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from studio.canvas.paths import path_of, to_scene
from studio.canvas.sheet_item import SheetItem
from studio.canvas.theme import Theme
from studio.curves import Chain, Point, through
from studio.exchange.paint.pens import take_pen


class TraceItem(SheetItem):
    """Lies on the sheet's own coordinates."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._points: tuple[Point, ...] = ()
        self._path = QPainterPath()
        self.setZValue(30.0)

    def show_points(self, points: Sequence[Point]) -> None:
        """Show a line through points of the sheet (mm); nothing with fewer than two."""
        kept: list[Point] = []
        for point in points:
            if not kept or kept[-1].distance_to(point) > 1e-3:
                kept.append(point)
        self._points = tuple(kept)
        self._path = QPainterPath()
        if len(kept) > 1:
            self._path = path_of((Chain(through(kept)),))
        self._take_rect(
            self._path.boundingRect().adjusted(-40.0, -40.0, 40.0, 40.0) if kept else QRectF()
        )

    def draw(self, painter: QPainter) -> None:
        """Dashes, and a dot on every point."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(painter, self.theme.work, 2.0, Qt.PenStyle.DashLine)
        painter.drawPath(self._path)
        for point in self._points:
            at = painter.worldTransform().map(to_scene(point))
            painter.save()
            painter.resetTransform()
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(self.theme.work))
            painter.drawEllipse(QRectF(at.x() - 3.5, at.y() - 3.5, 7.0, 7.0))
            painter.restore()
