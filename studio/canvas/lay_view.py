"""The view of the laying table: gestures and keys handed to the hand."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QContextMenuEvent, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QGraphicsView, QMenu, QWidget

from studio.canvas.held_view import HeldView
from studio.canvas.lay_hand import LayHand
from studio.canvas.lay_scene import LayScene
from studio.canvas.nudge import ARROWS, nudge_step
from studio.canvas.paths import to_pattern
from studio.cloth.by_hand import FINE_TURN

KEYS = (
    ("Drag", "moves a piece; it stops at edges and at other pieces"),
    ("Alt", "held, lays it where you say, whatever lies there"),
    ("R", "turns it, Shift R the other way, [ and ] by half a degree within its tolerance"),
    ("F", "flips it on cloth with two good sides"),
    ("L", "locks it for the next search"),
    ("Delete", "puts it back in the tray"),
    ("Arrows", "move it by 1 mm, with Shift 10, with Alt 0.1"),
    ("Escape", "gives a drag up"),
    ("Tab", "picks the next piece"),
)
"""What mouse and keys do, for the hint and the tooltip."""


class LayView(HeldView):
    """Shows a `LayScene` and drives its hand."""

    def __init__(self, scene: LayScene, hand: LayHand, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self._table = scene
        self.hand = hand
        self._keys: dict[Qt.Key, Callable[[bool], bool]] = {
            Qt.Key.Key_R: lambda shift: hand.turn(-1 if shift else 1),
            Qt.Key.Key_BracketLeft: lambda _shift: hand.turn_fine(FINE_TURN),
            Qt.Key.Key_BracketRight: lambda _shift: hand.turn_fine(-FINE_TURN),
            Qt.Key.Key_F: lambda _shift: hand.flip(),
            Qt.Key.Key_L: lambda _shift: hand.lock(),
            Qt.Key.Key_Delete: lambda _shift: hand.delete(),
            Qt.Key.Key_Backspace: lambda _shift: hand.delete(),
        }
        # Only what moves is painted anew: a table full of pieces is too much for every frame.
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setAccessibleName("Laying table")
        self.setAccessibleDescription(" ".join(f"{key} {does}." for key, does in KEYS))

    @property
    def holder(self) -> LayHand:
        """The hand over the table."""
        return self.hand

    def content(self) -> QRectF:
        """All cloths and the tray."""
        return self._table.content()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Left takes hold of a piece, middle or space and left of the view."""
        if not self.begin_pan(event) and event.button() == Qt.MouseButton.LeftButton:
            self.take_hold(event)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with what is held, or show what can be taken hold of."""
        if not self.pan_on(event) and not self.drag_on(event):
            self.show_cursor(self.hand.hover(self.pointer_of(event)))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go of what is held."""
        if self.end_pan():
            self.show_cursor("")
        elif event.button() == Qt.MouseButton.LeftButton:
            self.let_go(event)
            self.show_cursor(self.hand.hover(self.pointer_of(event)))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """The second press of a double click is one like any other."""
        self.mousePressEvent(event)

    def menu_at(self, place: QPointF) -> QMenu:
        """What can be done with the piece under a place of the view, or with all of them."""
        menu, hand = QMenu(self), self.hand
        at = to_pattern(self.viewportTransform().inverted()[0].map(place))
        entries: tuple[tuple[str, Callable[[], bool]], ...] = (
            ("&Lock all pieces where they lie", lambda: hand.lock_all(True)),
            ("&Unlock all pieces", lambda: hand.lock_all(False)),
            ("&Take all that is not locked off the cloth", hand.clear),
        )
        if hand.pick_at(at):
            entries = (
                ("&Turn\tR", lambda: hand.turn(1)),
                ("&Flip\tF", hand.flip),
                ("&Lock or unlock\tL", hand.lock),
                ("&Put back in the tray\tDel", hand.delete),
            )
        for label, does in entries:
            menu.addAction(label).triggered.connect(lambda _on=False, does=does: does())
        return menu

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The menu of what lies under the pointer."""
        self.abandon()
        self.menu_at(QPointF(event.pos())).exec(event.globalPos())
        event.accept()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from piece to piece, then on."""
        if self.hand.cycle(1 if forward else -1):
            return True
        return bool(super().focusNextPrevChild(forward))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn, flip, lock, put back, nudge, give up."""
        key, held = Qt.Key(event.key()), event.modifiers()
        if key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.hold_space(True)
        elif key == Qt.Key.Key_Escape and self.abandon():
            pass
        elif key in ARROWS:
            self.hand.nudge(*ARROWS[key], nudge_step(held))
        elif key in self._keys and not held & Qt.KeyboardModifier.ControlModifier:
            self._keys[key](bool(held & Qt.KeyboardModifier.ShiftModifier))
        else:
            super().keyPressEvent(event)

    def abandon(self) -> bool:
        """Give a drag up and put everything back; False when there was none."""
        self.forget_drag()
        return self.hand.cancel()

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        """The bare table."""
        assert isinstance(rect, QRectF)
        painter.fillRect(rect, QColor(self._table.theme.ground))

    def show_cursor(self, over: str) -> None:
        """A hand over a piece that can be moved."""
        grip = over == "grip"
        self.viewport().setCursor(
            Qt.CursorShape.OpenHandCursor if grip else Qt.CursorShape.ArrowCursor
        )
