"""A picked step on the sheet: the panel as it was before it, as a ghost, and its handles."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from studio.alter import Handle, kind_of
from studio.canvas.paths import path_of, rect_of, to_scene
from studio.canvas.sheet_item import SheetItem
from studio.canvas.theme import Theme
from studio.curves import Box
from studio.exchange.paint.pens import take_pen
from studio.pattern import StepMade

_ROUND = 160.0
"""Shown round a handle when a step is brought into view, mm."""


class StepItem(SheetItem):
    """Before in dashes under what is now, and what was last done in a strong line."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.made: StepMade | None = None
        self._before = QPainterPath()
        self._after = QPainterPath()
        self._handles: tuple[Handle, ...] = ()
        self.setZValue(15.0)

    def show_step(self, made: StepMade | None) -> None:
        """Show a step, or nothing."""
        if made is self.made:
            return
        self.made = made
        self._before, self._after, self._handles = QPainterPath(), QPainterPath(), ()
        if made is None or made.before is None:
            self._take_rect(QRectF())
            return
        self._before = path_of((edge.chain for edge in made.before.outline), closed=True)
        self._handles = kind_of(made.step).handles(made.before, made.step)
        box = made.before.outline.box
        if made.after is not None:
            self._after = path_of(
                edge.chain
                for edge in made.after.outline
                if not made.before.outline.has(edge.name)
                or made.before.outline.edge(edge.name).chain != edge.chain
            )
            box = Box.round_all((box, made.after.outline.box))
        self._take_rect(rect_of(box, 80.0))

    def box_of_handles(self) -> QRectF:
        """The part of the panel where the step can be taken hold of, on the sheet; the whole of it
        when there are no handles.
        """
        rect = QRectF()
        for handle in self._handles:
            spot = to_scene(handle.at)
            rect = rect.united(
                QRectF(spot.x() - _ROUND, spot.y() - _ROUND, 2.0 * _ROUND, 2.0 * _ROUND)
            )
        inside = rect.intersected(self.rect()) if self._handles else self.rect()
        return self.mapRectToScene(inside)

    def draw(self, painter: QPainter) -> None:
        """Ghost, changed edges, handles."""
        if self.made is None:
            return
        painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(painter, self.theme.seam, 1.2, Qt.PenStyle.DashLine)
        painter.drawPath(self._before)
        take_pen(painter, self.theme.work, 2.2)
        painter.drawPath(self._after)
        for handle in self._handles:
            self._paint_handle(painter, handle)

    def _paint_handle(self, painter: QPainter, handle: Handle) -> None:
        assert self.made is not None
        at = painter.worldTransform().map(to_scene(handle.at))
        painter.save()
        painter.resetTransform()
        painter.translate(at)
        painter.setPen(QPen(QColor(self.theme.work), 1.8))
        painter.setBrush(QColor(self.theme.paper))
        arrow = QPainterPath(QPointF(0.0, -6.5))
        for x, y in ((6.5, 0.0), (0.0, 6.5), (-6.5, 0.0)):
            arrow.lineTo(QPointF(x, y))
        arrow.closeSubpath()
        painter.drawPath(arrow)
        painter.setBrush(QColor(self.theme.work))
        painter.drawEllipse(QRectF(-1.8, -1.8, 3.6, 3.6))
        painter.restore()
