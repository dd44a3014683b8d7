"""The view in which a panel is traced: the photograph or the cloth, what is drawn, a magnifier."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QGraphicsScene

from studio.canvas.gesture import REACH_PIXELS, Kind, Recogniser
from studio.canvas.nudge import ARROWS, nudge_step
from studio.canvas.pan_zoom import PanZoomView
from studio.canvas.photograph import Levels, Straightened
from studio.canvas.theme import LIGHT, Theme
from studio.canvas.trace_hand import TraceHand
from studio.canvas.trace_paint import paint_hand
from studio.cloth.tracing import handles
from studio.design.cloth import Place
from studio.exchange.paint.pens import take_pen

MAGNIFIED = 8.0
"""Pixels of the screen for one of the picture, in the magnifier."""

_GLASS = 168.0
_GLASS_MARGIN = 14.0
"""Side of the magnifier and its distance from the corner, pixels."""

_EMPTY = QRectF(-50.0, -1050.0, 1100.0, 1100.0)
"""What is shown of an empty ground, on the scene, mm."""


class TraceView(PanZoomView):
    """Drives a `TraceHand`. `pointed` tells the pointer's place: pixels of the photograph while it
    is brought to scale, then mm.
    """

    pointed = Signal(float, float)

    def __init__(self, hand: TraceHand, theme: Theme = LIGHT) -> None:
        # A view does not keep its scene alive.
        self._room = QGraphicsScene()
        super().__init__(self._room)
        self.hand = hand
        self.theme = theme
        self._photograph: Levels | None = None
        self._cloth: Straightened | None = None
        self._cloth_levels: Levels | None = None
        self._recogniser = Recogniser()
        self._pointer: QPointF | None = None
        self.setAccessibleName("Picture of the cloth")
        self.setAccessibleDescription(
            "Arrow keys move the picked point by 1, with Shift 10, with Alt 0.1; Delete "
            "takes it away; Enter closes a line, Escape drops it."
        )
        self.setCursor(Qt.CursorShape.CrossCursor)
        self._make_room()

    def show_photograph(self, image: QImage | None) -> None:
        """The photograph as it was taken."""
        self._photograph = None if image is None else Levels(image)
        self._make_room()

    def show_cloth(self, cloth: Straightened | None) -> None:
        """The photograph straightened, or an empty ground."""
        self._cloth = cloth
        self._cloth_levels = None if cloth is None else Levels(cloth.image)
        self._make_room()

    def shown_stage(self) -> None:
        """Look at all of what is worked on now."""
        self._make_room()
        self.fit()

    def content(self) -> QRectF:
        """The picture and what is drawn on it."""
        if self.hand.stage == "scale":
            return QRectF() if self._photograph is None else _whole(self._photograph.image)
        if self._cloth is not None:
            return self._cloth.rect
        places = [place for _, place in handles(self.hand.tracing)]
        spots = [self._scene(place) for place in (*places, *self.hand.tracing.outline)]
        return QPolygonF(spots).boundingRect() if len(spots) > 2 else _EMPTY

    def spot_of(self, place: Place) -> QPointF:
        """Where a place (pixels of the photograph, or mm) is seen, in pixels of the view."""
        return self.viewportTransform().map(self._scene(place))

    @property
    def is_held(self) -> bool:
        """True while the button is down, or the view itself is held."""
        return self._recogniser.is_held or super().is_held

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Left takes hold of a point; middle, or space and left, pans."""
        if not self.begin_pan(event) and event.button() == Qt.MouseButton.LeftButton:
            self._recogniser.press(event)
            self.note_corner()
            self.hand.press(self._place(event), self._reach())
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """A held point goes along."""
        self.stay_under_hand()
        self._pointer = event.position()
        place = self._place(event)
        self.pointed.emit(*place)
        if self.pan_on(event):
            return
        kind = self._recogniser.move(event)
        if kind is Kind.DRAG:
            self.hand.drag(place)
        elif kind is Kind.LOST:
            self.hand.cancel()
        self.viewport().update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go, or set a point."""
        if self.end_pan():
            self.setCursor(Qt.CursorShape.CrossCursor)
            self.viewport().setCursor(Qt.CursorShape.CrossCursor)
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self.stay_under_hand()
        kind = self._recogniser.release()
        if kind is Kind.DROP:
            self.hand.drop()
        elif kind is Kind.CLICK:
            self.hand.click(self._place(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """A point more on an edge; while a line is drawn, a second click like any other."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        if self.hand.stage == "draw" and not self.hand.tracing.line:
            self._recogniser.abandon()
            self.hand.double(self._place(event), self._reach())
        else:
            self.mousePressEvent(event)

    def leaveEvent(self, event: object) -> None:
        """Without a pointer there is nothing to magnify."""
        self._pointer = None
        self.viewport().update()
        super().leaveEvent(event)  # type: ignore[arg-type]

    def abandon(self) -> bool:
        """Give a drag up; False when there was none."""
        if self._recogniser.abandon() is None:
            return False
        self.hand.cancel()
        return True

    def show_cursor(self, over: str) -> None:  # noqa: ARG002
        """A cross everywhere, to set marks and points by."""
        self.viewport().setCursor(Qt.CursorShape.CrossCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter, Escape, Del, arrows; the space bar holds the view."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Space:
            self.hold_space(True)
        elif key == Qt.Key.Key_Escape:
            self._recogniser.abandon()
            self.hand.cancel()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.hand.finish()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.hand.delete()
        elif key in ARROWS:
            step = nudge_step(event.modifiers())
            across, up = ARROWS[key]
            if self.hand.nudge(across * step, up * step):
                # The magnifier follows the point that is nudged.
                self._pointer = self.spot_of(self.hand.picked_place)
        else:
            super().keyPressEvent(event)

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        """The picture, or paper ruled in centimetres."""
        assert isinstance(rect, QRectF)
        painter.fillRect(rect, QColor(self.theme.ground))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, self.scale_now < 4.0)
        if self.hand.stage == "scale":
            if self._photograph is not None:
                whole = _whole(self._photograph.image)
                self._photograph.paint(painter, whole, self.scale_now)
        elif self._cloth is not None and self._cloth_levels is not None:
            scale = self.scale_now * self._cloth.mm_per_pixel
            self._cloth_levels.paint(painter, self._cloth.rect, scale)
        else:
            self._rule(painter, rect)

    def drawForeground(self, painter: QPainter, _rect: QRectF | object) -> None:
        """What is drawn, and the magnifier, in pixels of the view."""
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint_hand(painter, self.hand, self.theme, self.spot_of, self._pointer)
        self._magnify(painter)

    def _magnify(self, painter: QPainter) -> None:
        """The picture round the pointer, much enlarged, in the corner away from it."""
        image = None
        if self.hand.stage == "scale" and self._photograph is not None:
            image = self._photograph.image
        across = 1.0
        corner = QPointF(0.0, 0.0)
        if self.hand.stage == "draw" and self._cloth is not None and self.hand.is_setting:
            image, across = self._cloth.image, self._cloth.mm_per_pixel
            corner = self._cloth.rect.topLeft()
        if image is None or self._pointer is None or self.scale_now * across >= MAGNIFIED / 2.0:
            return
        place = (self.viewportTransform().inverted()[0].map(self._pointer) - corner) / across
        room = QRectF(self.viewport().rect())
        glass = QRectF(0.0, 0.0, _GLASS, _GLASS)
        glass.moveBottomRight(room.bottomRight() - QPointF(_GLASS_MARGIN, _GLASS_MARGIN))
        if glass.adjusted(-60.0, -60.0, 60.0, 60.0).contains(self._pointer):
            glass.moveLeft(_GLASS_MARGIN)
        seen = QRectF(0.0, 0.0, _GLASS / MAGNIFIED, _GLASS / MAGNIFIED)
        seen.moveCenter(place)
        frame = QPainterPath()
        frame.addRoundedRect(glass, 8.0, 8.0)
        painter.save()
        painter.setClipPath(frame)
        painter.fillRect(glass, QColor(self.theme.ground))
        painter.drawImage(glass, image, seen)
        middle = glass.center()
        for colour, width in ((self.theme.paper, 3.0), (self.theme.work, 1.2)):
            take_pen(painter, colour, width)
            for arm in (QPointF(1.0, 0.0), QPointF(0.0, 1.0)):
                painter.drawLine(middle - arm * 40.0, middle - arm * 5.0)
                painter.drawLine(middle + arm * 5.0, middle + arm * 40.0)
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(painter, self.theme.border, 2.0)
        painter.drawPath(frame)

    def _rule(self, painter: QPainter, rect: QRectF) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        steps = ((10.0, self.theme.grid),) if self.scale_now >= 0.45 else ()
        for step, colour in (*steps, (100.0, self.theme.grid_strong)):
            painter.setPen(QPen(QColor(colour), 0.0))
            x = step * (rect.left() // step)
            while x <= rect.right():
                painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))
                x += step
            y = step * (rect.top() // step)
            while y <= rect.bottom():
                painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
                y += step

    def _make_room(self) -> None:
        """The view may be moved as far beyond the picture as the picture is large."""
        shown = self.content()
        self.scene().setSceneRect(
            shown.adjusted(-shown.width(), -shown.height(), shown.width(), shown.height())
        )

    def _scene(self, place: Place) -> QPointF:
        x, y = place
        return QPointF(x, y if self.hand.stage == "scale" else -y)

    def _place(self, event: QMouseEvent) -> Place:
        at = self.viewportTransform().inverted()[0].map(event.position())
        return at.x(), at.y() if self.hand.stage == "scale" else -at.y()

    def _reach(self) -> float:
        return REACH_PIXELS / self.scale_now


def _whole(image: QImage) -> QRectF:
    return QRectF(0.0, 0.0, image.width(), image.height())
