"""The view of the sheet: pan, zoom about the pointer, and gestures handed to the tool."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsView, QWidget

from studio.canvas.dimensions import Dimension
from studio.canvas.gesture import Kind, Pointer, Recogniser, pointer_at
from studio.canvas.number_field import NumberField
from studio.canvas.paths import to_pattern
from studio.canvas.scene import Sheet
from studio.canvas.select_tool import NUDGE, NUDGE_FAR, NUDGE_FINE
from studio.canvas.tool import Tool

LEAST_SCALE, MOST_SCALE = 0.05, 40.0
"""Pixels a millimetre, furthest out and closest in."""

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class DraftView(QGraphicsView):
    """Shows a `Sheet` and drives a tool.

    `pointed` tells the pointer's place on the sheet, mm; `numbered` that another value was typed
    for a dimension (mm, degrees or a share).
    """

    pointed = Signal(float, float)
    scaled = Signal(float)
    numbered = Signal(object, float)

    def __init__(self, sheet: Sheet, tool: Tool, parent: QWidget | None = None) -> None:
        super().__init__(sheet, parent)
        self._sheet = sheet
        self.tool = tool
        self._recogniser = Recogniser()
        self._waiting: Pointer | None = None
        self._panned_from: QPoint | None = None
        self._space = False
        self._own_view = False
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.AnchorViewCenter)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Drafting sheet")
        self.setAccessibleDescription(
            "Tab takes the next grip of the picked line, arrow keys move it by 1 mm, "
            "with Shift 10, with Alt 0.1."
        )

    @property
    def scale_now(self) -> float:
        """Pixels a millimetre."""
        return self.transform().m11()

    def fit(self, rect: QRectF | None = None) -> None:
        """Show all, or a box."""
        self._own_view = rect is not None and not rect.isEmpty()
        target = self._sheet.content() if rect is None or rect.isEmpty() else rect
        if target.isEmpty():
            return
        side, foot = target.width() * 0.045, target.height() * 0.03
        roomy = target.adjusted(-side, -foot, side * 0.3, foot)
        self.fitInView(roomy, Qt.AspectRatioMode.KeepAspectRatio)
        self.scaled.emit(self.scale_now)

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Zoom by a factor; what lies under `about` (view pixels) stays there."""
        self._own_view = True
        place = about or QPointF(self.viewport().rect().center())
        wanted = min(MOST_SCALE, max(LEAST_SCALE, self.scale_now * factor))
        factor = wanted / self.scale_now
        before = self.mapToScene(place.toPoint())
        exact = place - QPointF(place.toPoint())
        self.scale(factor, factor)
        after = self.mapFromScene(before)
        shift = QPointF(after) - QPointF(place.toPoint())
        self._scroll(shift.x() + exact.x() * (factor - 1.0), shift.y() + exact.y() * (factor - 1.0))
        self.scaled.emit(self.scale_now)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show all at any size until the maker has taken a view of their own."""
        super().resizeEvent(event)
        if not self._own_view:
            self.fit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel zooms; two fingers on a pad pan, or zoom with Control."""
        pad = not event.pixelDelta().isNull()
        zooms = not pad or bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if zooms:
            turns = event.angleDelta().y() / 120.0
            self.zoom(1.2**turns, event.position())
        else:
            self._own_view = True
            self._scroll(-event.pixelDelta().x(), -event.pixelDelta().y())
        event.accept()

    def viewportEvent(self, event: object) -> bool:
        """A pinch zooms."""
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1.0 + event.value(), event.position())
            return True
        return bool(super().viewportEvent(event))  # type: ignore[arg-type]

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Left takes hold, middle or space and left pans."""
        pans = event.button() == Qt.MouseButton.MiddleButton or (
            self._space and event.button() == Qt.MouseButton.LeftButton
        )
        if pans:
            self._own_view = True
            self._panned_from = event.position().toPoint()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        elif event.button() == Qt.MouseButton.LeftButton and not self._typed_at(event):
            self._recogniser.press(event)
            self.tool.press(self._pointer(event))
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drags are shown once for each turn of the event loop, whatever the mouse sends."""
        place = self.mapToScene(event.position().toPoint())
        at = to_pattern(place)
        self.pointed.emit(at.x, at.y)
        if self._panned_from is not None:
            step = event.position().toPoint() - self._panned_from
            self._panned_from = event.position().toPoint()
            self._scroll(-step.x(), -step.y())
            return
        kind = self._recogniser.move(event)
        if kind is Kind.DRAG:
            if self._waiting is None:
                QTimer.singleShot(0, self._show_drag)
            self._waiting = self._pointer(event)
        elif kind is Kind.LOST:
            self.abandon()
        elif not self._recogniser.is_held:
            over = self.tool.hover(self._pointer(event))
            self._show_cursor("number" if over != "grip" and self._number_at(event) else over)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what is held."""
        if self._panned_from is not None:
            self._panned_from = None
            self._show_cursor("")
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self._show_drag()
        kind = self._recogniser.release()
        if kind is Kind.DROP:
            self.tool.drop(self._pointer(event))
        elif kind is Kind.CLICK:
            self.tool.click(self._pointer(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Add a node."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._recogniser.abandon()
            self.tool.cancel()
            self.tool.double(self._pointer(event))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A drag does not outlive the focus."""
        self.abandon()
        self._space = False
        super().focusOutEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from grip to grip while a line is picked."""
        if self.tool.cycle(1 if forward else -1):
            return True
        return bool(super().focusNextPrevChild(forward))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape, nudges, nodes."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self.viewport().setCursor(Qt.CursorShape.OpenHandCursor)
        elif key == Qt.Key.Key_Escape:
            self.abandon()
        elif key in _ARROWS and self._nudged(key, event.modifiers()):
            pass
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.tool.delete()
        elif key == Qt.Key.Key_C and not event.modifiers():
            self.tool.toggle()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The hand goes with the space bar."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._show_cursor("")
        super().keyReleaseEvent(event)

    def take(self, tool: Tool) -> None:
        """Put the tool in hand down and take up another."""
        self._waiting = None
        self._recogniser.abandon()
        if tool is not self.tool:
            self.tool.leave()
            self.tool = tool
            tool.enter()
        self._show_cursor("")

    def abandon(self) -> None:
        """Give a drag up and put everything back."""
        self._waiting = None
        self._recogniser.abandon()
        self.tool.cancel()

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        """Drafting paper: lines every 10 mm when there is room for them, every 100 always."""
        assert isinstance(rect, QRectF)
        theme = self._sheet.theme
        painter.fillRect(rect, QColor(theme.ground))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        if self.scale_now >= 0.45:
            _rule(painter, rect, 10.0, theme.grid)
        _rule(painter, rect, 100.0, theme.grid_strong if self.scale_now > 0.2 else theme.grid)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)

    def _typed_at(self, event: QMouseEvent) -> bool:
        """Open the field of the number that was clicked; a grip that lies over it comes first."""
        found = self._number_at(event)
        if found is None or self.tool.hover(self._pointer(event)) in ("grip", "draw"):
            return False
        dimension, box = found
        field = NumberField(dimension, self._sheet.unit, self.numbered.emit, self.viewport())
        field.open_over(box.toRect())
        return True

    def _number_at(self, event: QMouseEvent) -> tuple[Dimension, QRectF] | None:
        return self._sheet.dimension_at(event.position(), self.viewportTransform())

    def _nudged(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        step = NUDGE
        if modifiers & Qt.KeyboardModifier.ShiftModifier:
            step = NUDGE_FAR
        elif modifiers & Qt.KeyboardModifier.AltModifier:
            step = NUDGE_FINE
        return self.tool.nudge(*_ARROWS[key], step)

    def _show_drag(self) -> None:
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.tool.drag(waiting)

    def _pointer(self, event: QMouseEvent) -> Pointer:
        place = self.viewportTransform().inverted()[0].map(event.position())
        return pointer_at(place, self.scale_now, event.modifiers())

    def _scroll(self, right: float, down: float) -> None:
        across, along = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() + round(right))
        along.setValue(along.value() + round(down))

    def _show_cursor(self, over: str) -> None:
        shapes = {
            "draw": Qt.CursorShape.CrossCursor,
            "grip": Qt.CursorShape.SizeAllCursor,
            "line": Qt.CursorShape.PointingHandCursor,
            "number": Qt.CursorShape.IBeamCursor,
        }
        self.viewport().setCursor(shapes.get(over, Qt.CursorShape.ArrowCursor))


def _rule(painter: QPainter, rect: QRectF, step: float, colour: str) -> None:
    painter.setPen(QPen(QColor(colour), 0.0))
    x = step * (rect.left() // step)
    while x <= rect.right():
        painter.drawLine(QPointF(x, rect.top()), QPointF(x, rect.bottom()))
        x += step
    y = step * (rect.top() // step)
    while y <= rect.bottom():
        painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
        y += step
