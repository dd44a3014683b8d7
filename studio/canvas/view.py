"""The view of the sheet: gestures handed to the tool, numbers clicked, drafting paper."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
)
from PySide6.QtWidgets import QGraphicsView, QWidget

from studio.canvas.dimensions import Dimension
from studio.canvas.held_view import HeldView
from studio.canvas.items import BESIDE_LEVEL, LEVEL_SIZE
from studio.canvas.nudge import ARROWS, nudge_step
from studio.canvas.number_field import NumberField
from studio.canvas.paths import to_pattern
from studio.canvas.placing import MARGIN
from studio.canvas.scene import Sheet
from studio.canvas.sheet_item import lettered
from studio.canvas.tool import Tool

_LONG_NAME = "crotch"
"""The longest name of a level line that a block has."""


class DraftView(HeldView):
    """Shows a `Sheet` and drives a tool.

    `pointed` tells the pointer's place on the sheet, mm; `numbered` that another value was typed
    for a dimension (mm, degrees or a share).
    """

    pointed = Signal(float, float)
    numbered = Signal(object, float)

    def __init__(self, sheet: Sheet, tool: Tool, parent: QWidget | None = None) -> None:
        super().__init__(sheet, parent)
        self._sheet = sheet
        self.setCacheMode(QGraphicsView.CacheModeFlag.CacheBackground)
        self.tool = tool
        self.setAccessibleName("Drafting sheet")
        self.setAccessibleDescription(
            "Tab takes the next grip of the picked line, arrow keys move it by 1 mm, "
            "with Shift 10, with Alt 0.1."
        )

    @property
    def holder(self) -> Tool:
        """The tool in hand."""
        return self.tool

    def content(self) -> QRectF:
        """What is shown on the sheet."""
        return self._sheet.content()

    def with_margins(self, target: QRectF) -> QRectF:
        """More room at the sides and the foot, where names are written."""
        wide, seen = target.width(), self.viewport().width()
        side, foot = wide * 0.045, target.height() * 0.03
        names = lettered(_LONG_NAME, LEVEL_SIZE, bold=False)[1] + 2.0 * BESIDE_LEVEL
        left = max(side, wide * names / max(seen - names, names))
        return target.adjusted(-left, -foot, max(side, MARGIN), foot)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Left takes hold, middle or space and left pans."""
        if self.begin_pan(event):
            pass
        elif event.button() == Qt.MouseButton.LeftButton and not self._typed_at(event):
            self.take_hold(event)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Tell the place; go on with what is held, or show what a press would do."""
        place = self.mapToScene(event.position().toPoint())
        at = to_pattern(place)
        self.pointed.emit(at.x, at.y)
        if self.pan_on(event):
            return
        if not self.drag_on(event):
            over = self.tool.hover(self.pointer_of(event))
            self.show_cursor("number" if over != "grip" and self._number_at(event) else over)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what is held."""
        if self.end_pan():
            self.show_cursor("")
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        self.let_go(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Add a node."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._recogniser.abandon()
            self.tool.cancel()
            self.tool.double(self.pointer_of(event))

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from grip to grip while a line is picked."""
        if self.tool.cycle(1 if forward else -1):
            return True
        return bool(super().focusNextPrevChild(forward))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape, nudges, nodes."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.hold_space(True)
        elif key == Qt.Key.Key_Escape:
            self.abandon()
        elif key in ARROWS and self._nudged(key, event.modifiers()):
            pass
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.tool.delete()
        elif key == Qt.Key.Key_C and not event.modifiers():
            self.tool.toggle()
        else:
            super().keyPressEvent(event)

    def take(self, tool: Tool) -> None:
        """Put the tool in hand down and take up another."""
        self.forget_drag()
        if tool is not self.tool:
            self.tool.leave()
            self.tool = tool
            tool.enter()
        self.show_cursor("")

    def abandon(self) -> bool:
        """Give a drag up and put everything back."""
        self.forget_drag()
        self.tool.cancel()
        return True

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
        if found is None or self.tool.hover(self.pointer_of(event)) in ("grip", "draw"):
            return False
        dimension, box = found
        field = NumberField(dimension, self._sheet.unit, self.numbered.emit, self.viewport())
        field.open_over(box.toRect())
        return True

    def _number_at(self, event: QMouseEvent) -> tuple[Dimension, QRectF] | None:
        return self._sheet.dimension_at(event.position(), self.viewportTransform())

    def _nudged(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        return self.tool.nudge(*ARROWS[key], nudge_step(modifiers))

    def show_cursor(self, over: str) -> None:
        """What a press would do here."""
        shapes = {
            "draw": Qt.CursorShape.CrossCursor,
            "grip": Qt.CursorShape.SizeAllCursor,
            "line": Qt.CursorShape.PointingHandCursor,
            "number": Qt.CursorShape.IBeamCursor,
        }
        self.viewport().setCursor(shapes.get(over, Qt.CursorShape.ArrowCursor))


def _rule(painter: QPainter, rect: QRectF, step: float, colour: str) -> None:
    painter.setPen(QPen(QColor(colour), 0.0))
    left, top, right, bottom = rect.left(), rect.top(), rect.right(), rect.bottom()
    across = range(int(left // step), int(right // step) + 1)
    along = range(int(top // step), int(bottom // step) + 1)
    lines = [QLineF(step * k, top, step * k, bottom) for k in across]
    lines += [QLineF(left, step * k, right, step * k) for k in along]
    painter.drawLines(lines)
