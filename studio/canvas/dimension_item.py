"""Numbers on the sheet that can be clicked and typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QTransform

from studio import numbers
from studio.canvas.dimensions import Dimension
from studio.canvas.paths import path_of, to_scene
from studio.canvas.sheet_item import SheetItem, lettered, lettering
from studio.canvas.theme import Theme
from studio.curves import Point, Vector
from studio.exchange.paint.pens import take_pen
from studio.numbers import LengthUnit

NUMBERS_FROM_SCALE = 0.3
"""Pixels a millimetre under which numbers would cover what they measure, and are not shown."""

_SIZE = 8.5
_PAD = QPointF(6.0, 3.0)

_APART = 2.0
"""Pixels between two plates, one above the other."""


class DimensionItem(SheetItem):
    """All numbers of what is picked, in the sheet's own coordinates."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.unit: LengthUnit = "mm"
        self._shown: tuple[tuple[Dimension, QPointF], ...] = ()
        self._measured = QPainterPath()
        self.setZValue(18.0)

    def show_dimensions(self, shown: Sequence[Dimension], shift: Callable[[str], Vector]) -> None:
        """Show numbers, each at its panel's place."""
        self._measured = QPainterPath()
        placed = []
        rect = QRectF()
        for one in shown:
            step = shift(one.panel)
            spot = to_scene(one.at + step)
            placed.append((one, spot))
            rect = rect.united(QRectF(spot.x() - 250.0, spot.y() - 250.0, 500.0, 500.0))
            if one.measured is not None:
                stretch = path_of((one.measured,)).translated(to_scene(Point(step.x, step.y)))
                self._measured.addPath(stretch)
        self._shown = tuple(placed)
        self._take_rect(rect.united(self._measured.boundingRect()))

    def at(self, place: QPointF, transform: QTransform) -> tuple[Dimension, QRectF] | None:
        """The number under a pixel of the view, with its box in pixels; None for none."""
        for one, box in self.boxes(transform) if transform.m11() >= NUMBERS_FROM_SCALE else ():
            if box.contains(place):
                return one, box
        return None

    def boxes(self, transform: QTransform) -> list[tuple[Dimension, QRectF]]:
        """Every number with its plate in pixels; one that would lie on another is moved on, up or
        down as it stands off, to where it covers none.
        """
        placed: list[tuple[Dimension, QRectF]] = []
        for one, spot in self._shown:
            box = self._box(one, transform.map(spot))
            step = box.height() + _APART
            way = -step if one.away.y < 0.0 else step
            # Each plate on its way is left behind in two steps at the most.
            for _ in range(2 * len(placed)):
                if not any(box.intersects(other) for _, other in placed):
                    break
                box.translate(0.0, way)
            placed.append((one, box))
        return placed

    def text(self, one: Dimension) -> str:
        """A number as it is written."""
        if one.measure == "degrees":
            number = numbers.angle(one.value)
        elif one.measure == "share":
            number = numbers.percent(one.value, 1)
        else:
            number = numbers.length(one.value, self.unit, numbers.DECIMALS[self.unit])
        return f"{one.word} {number}".strip()

    def draw(self, painter: QPainter) -> None:
        """What is measured in a thick faint line, then the numbers on plates."""
        transform = painter.worldTransform()
        if transform.m11() < NUMBERS_FROM_SCALE:
            return
        tint = QColor(self.theme.work)
        tint.setAlphaF(0.35)
        take_pen(painter, tint.name(QColor.NameFormat.HexArgb), 6.0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(self._measured)
        painter.save()
        painter.resetTransform()
        painter.setFont(lettering(_SIZE, bold=False)[0])
        for one, box in self.boxes(transform):
            plate = QColor(self.theme.paper)
            plate.setAlphaF(0.92)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(plate)
            painter.drawRoundedRect(box, 4.0, 4.0)
            painter.setPen(QColor(self.theme.work))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.text(one))
            foot = box.bottom() - 2.5
            painter.drawLine(QPointF(box.left() + 5.0, foot), QPointF(box.right() - 5.0, foot))
        painter.restore()

    def _box(self, one: Dimension, at: QPointF) -> QRectF:
        """The plate of a number, pixels: centred where it stands off, or grown away from there."""
        _, metrics = lettering(_SIZE, bold=False)
        wide = lettered(self.text(one), _SIZE, bold=False)[1] + 2.0 * _PAD.x()
        high = metrics.height() + 2.0 * _PAD.y()
        centre = at + QPointF(one.away.x, one.away.y)
        # A number beside a steep line stands with its nearer side off the line, not its middle.
        sideways = one.away.x / max(1e-9, one.away.length)
        centre += QPointF(sideways * max(0.0, wide / 2.0 - 8.0), 0.0)
        return QRectF(centre.x() - wide / 2.0, centre.y() - high / 2.0, wide, high)
