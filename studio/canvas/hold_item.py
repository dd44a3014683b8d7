"""A small mark for everything that is held, each kind with a sign of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from studio.canvas.hold_places import HoldPlace
from studio.canvas.paths import to_scene
from studio.canvas.sheet_item import SheetItem
from studio.canvas.theme import Theme
from studio.curves import Point, Vector
from studio.design import holds
from studio.design.holds import Hold

MARK = 16.0
"""Side of a mark's plate, pixels."""

MARKS_FROM_SCALE = 0.3
"""Pixels a millimetre under which only marks of the picked line are shown."""


class HoldItem(SheetItem):
    """All marks of the sheet, in the sheet's own coordinates."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._places: tuple[tuple[HoldPlace, QPointF], ...] = ()
        self._picked = ""
        self.setZValue(12.0)

    def show_places(
        self, places: Sequence[HoldPlace], shift: Callable[[str], Vector], picked: str
    ) -> None:
        """Show marks, those of the picked line strongly."""
        self._places = tuple(
            (place, to_scene(Point(place.at.x, place.at.y) + shift(place.panel)))
            for place in places
        )
        self._picked = picked
        rect = QRectF()
        for _, spot in self._places:
            rect = rect.united(QRectF(spot.x() - 150.0, spot.y() - 150.0, 300.0, 300.0))
        self._take_rect(rect)

    def draw(self, painter: QPainter) -> None:
        """Plates beside their places, signs on them."""
        transform = painter.worldTransform()
        for place, spot in self._places:
            picked = self._picked in place.lines
            if not picked and transform.m11() < MARKS_FROM_SCALE:
                continue
            painter.save()
            at = transform.map(spot)
            painter.resetTransform()
            painter.translate(at + mark_offset(place.nth))
            self._paint_mark(painter, place.hold, picked)
            painter.restore()

    def _paint_mark(self, painter: QPainter, hold: Hold, picked: bool) -> None:
        theme = self.theme
        colour = QColor(theme.work if picked and hold.active else theme.faint)
        plate = QColor(theme.paper)
        plate.setAlphaF(0.92)
        half = MARK / 2.0
        painter.setPen(QPen(colour, 1.0) if picked else Qt.PenStyle.NoPen)
        painter.setBrush(plate)
        painter.drawRoundedRect(QRectF(-half, -half, MARK, MARK), 4.0, 4.0)
        pen = QPen(colour, 1.5)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(sign_of(type(hold)))
        if not hold.active:
            painter.drawLine(QPointF(-half, half), QPointF(half, -half))


def mark_offset(nth: int) -> QPointF:
    """Pixels from a place to the middle of its nth mark."""
    return QPointF(MARK, -MARK - nth * (MARK + 3.0))


def sign_of(kind: type[Hold]) -> QPainterPath:
    """The sign of a kind of hold, in a square of 12 pixels about nothing."""
    path = QPainterPath()
    for stroke in _SIGNS[kind].split(";"):
        numbers = [float(word) for word in stroke.split()]
        if len(numbers) == 3:
            path.addEllipse(QPointF(numbers[0], numbers[1]), numbers[2], numbers[2])
            continue
        path.moveTo(numbers[0], numbers[1])
        for x, y in zip(numbers[2::2], numbers[3::2], strict=True):
            path.lineTo(x, y)
    return path


_SIGNS: dict[type[Hold], str] = {
    holds.Fixed: "0 -5 0 5; -5 0 5 0; -3.5 -3.5 3.5 3.5; -3.5 3.5 3.5 -3.5",
    holds.Level: "-5 0 5 0; -5 -2 -5 2; 5 -2 5 2",
    holds.Upright: "0 -5 0 5; -2 -5 2 -5; -2 5 2 5",
    holds.Slides: "-5 3 5 3; -5 -2 5 -2; 2 -5 5 -2 2 1; -2 -5 -5 -2 -2 1",
    holds.FromCorner: "-5 -5 -5 5 5 5; -5 0 2 0; 3.5 0 1.5",
    holds.Distance: "-5 -4 -5 4; 5 -4 5 4; -4 0 4 0; -2 -2 -4 0 -2 2; 2 -2 4 0 2 2",
    holds.Angle: "5 4 -5 4 3 -5; 0 4 -0.4 1.2 -1.8 -0.2",
    holds.Parallel: "-4.5 4.5 0 -4.5; 0 4.5 4.5 -4.5",
    holds.Mirrored: "0 -5 0 -3; 0 -1 0 1; 0 3 0 5; -2 -3 -5 0 -2 3 -2 -3; 2 -3 5 0 2 3 2 -3",
    holds.Square: "-5 -5 -5 5 5 5; -5 1 -1 1 -1 5",
    holds.Smooth: "-5 4 -4 0 -2 -2.6 0 -3.4 2 -2.6 4 0 5 4; 0 -3.4 1.4",
    holds.Length: "-5 3 -3 -1 0 -2 3 -1 5 3; -6 1 -4 5; 6 1 4 5",
    holds.SameLength: "-5 -2 5 -2; -5 2 5 2",
    holds.CornersAdd: "-5 0 5 0; 0 -5 0 5; -2.5 0 -1.8 -1.8 0 -2.5; 0 -2.5 1.8 -1.8 2.5 0",
}
