"""What a dragged point has snapped to: guide lines, a ring, and the words."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from studio.canvas.paths import to_scene
from studio.canvas.sheet_item import SheetItem, write
from studio.canvas.snap import Snap
from studio.canvas.theme import Theme
from studio.exchange.paint.pens import take_pen


class SnapItem(SheetItem):
    """Lies where its panel lies."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.snap: Snap | None = None
        self.setZValue(32.0)

    def show_snap(self, snap: Snap | None) -> None:
        """Show a snap, or nothing."""
        self.snap = snap
        rect = QRectF()
        if snap is not None:
            for point in (snap.at, *(end for guide in snap.guides for end in guide)):
                spot = to_scene(point)
                rect = rect.united(QRectF(spot.x() - 200.0, spot.y() - 200.0, 400.0, 400.0))
        self._take_rect(rect)

    def draw(self, painter: QPainter) -> None:
        """Guides first, then the words above the place."""
        if self.snap is None:
            return
        painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(painter, self.theme.seam, 1.2, Qt.PenStyle.DashLine)
        for one, two in self.snap.guides:
            painter.drawLine(to_scene(one), to_scene(two))
        spot = to_scene(self.snap.at)
        at = painter.worldTransform().map(spot)
        painter.save()
        painter.resetTransform()
        painter.setPen(QPen(QColor(self.theme.seam), 1.6))
        painter.drawEllipse(QPointF(at), 9.0, 9.0)
        painter.restore()
        write(
            painter,
            spot,
            self.snap.words,
            self.theme.seam,
            size=8.5,
            ground=self.theme.paper,
            below=-18.0,
        )
