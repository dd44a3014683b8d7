"""A view that pans, and zooms about the pointer: what every canvas is looked at through."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsScene, QGraphicsView, QWidget

from studio.canvas.let_go import LetGo

LEAST_SCALE, MOST_SCALE = 0.05, 40.0
"""Pixels a millimetre, furthest out and closest in."""

_BY_KEY = (
    Qt.FocusReason.TabFocusReason,
    Qt.FocusReason.BacktabFocusReason,
    Qt.FocusReason.ShortcutFocusReason,
)
_COMES_BACK = (
    Qt.FocusReason.ActiveWindowFocusReason,
    Qt.FocusReason.PopupFocusReason,
    Qt.FocusReason.MenuBarFocusReason,
)
"""The focus was here before another window or a menu had it."""
_PANNING = Qt.MouseButton.MiddleButton | Qt.MouseButton.LeftButton


class PanZoomView(QGraphicsView):
    """Shows a scene in millimetres. All of it at any size, until the maker takes a view of their
    own; the wheel zooms, the middle button or space and the left one pan.
    """

    scaled = Signal(float)

    def __init__(self, scene: QGraphicsScene, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self._panned_from: QPoint | None = None
        self._space = False
        self._own_view = False
        self._corner = QPoint()
        self._let_go = LetGo(self)
        self._anew = False
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.FullViewportUpdate)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.AnchorViewCenter)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def content(self) -> QRectF:
        """The box that "all" means, on the scene."""
        return self.scene().itemsBoundingRect()

    @property
    def scale_now(self) -> float:
        """Pixels a millimetre."""
        return self.transform().m11()

    @property
    def is_held(self) -> bool:
        """True while a hand drags in it: nothing may move under the hand."""
        return self._panned_from is not None

    def when_let_go(self, do: Callable[[], None]) -> None:
        """Do it now where no hand drags in it; else once, when that has let go."""
        self._let_go.then(do)

    def fit(self, rect: QRectF | None = None) -> None:
        """Show all, or a box."""
        self._own_view = rect is not None and not rect.isEmpty()
        target = self.content() if rect is None or rect.isEmpty() else rect
        if target.isEmpty():
            return
        self.fitInView(self.with_margins(target), Qt.AspectRatioMode.KeepAspectRatio)
        self.scaled.emit(self.scale_now)

    def keep_all_shown(self, *, anew: bool = False) -> None:
        """Show all again where something has grown out of the view, or `anew` in any case; not
        when the maker has taken a view of their own, and under a hand only when it has let go.
        """
        self._anew = self._anew or anew
        self.when_let_go(self._show_all)

    def _show_all(self) -> None:
        anew, self._anew = self._anew, False
        seen = self.mapToScene(self.viewport().rect()).boundingRect()
        if not self._own_view and (anew or not seen.contains(self.content())):
            self.fit()

    def with_margins(self, target: QRectF) -> QRectF:
        """A box with the room round it that it is shown with."""
        side, foot = target.width() * 0.03, target.height() * 0.03
        return target.adjusted(-side, -foot, side, foot)

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
        self.scroll_by(
            shift.x() + exact.x() * (factor - 1.0), shift.y() + exact.y() * (factor - 1.0)
        )
        self.scaled.emit(self.scale_now)

    def scroll_by(self, right: float, down: float) -> None:
        """Move the view over the scene by so many pixels."""
        across, along = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() + round(right))
        along.setValue(along.value() + round(down))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show all at any size until the maker has taken a view of their own."""
        held = self.is_held
        if held:
            self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        super().resizeEvent(event)
        if held:
            self.setResizeAnchor(QGraphicsView.ViewportAnchor.AnchorViewCenter)
            self.stay_under_hand()
        self.keep_all_shown(anew=True)

    def note_corner(self) -> None:
        """A hand takes hold: where on the screen the view stands."""
        self._corner = self.viewport().mapToGlobal(QPoint())

    def stay_under_hand(self) -> None:
        """While a hand drags, what is shown stays where it is on the screen, whatever the panes
        round the view do: with other letters, or longer words in them, they grow and push it.
        """
        if self.is_held:
            before = self._corner
            self.note_corner()
            pushed = self._corner - before
            self.scroll_by(pushed.x(), pushed.y())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel zooms; two fingers on a pad pan, or zoom with Control."""
        pad = not event.pixelDelta().isNull()
        zooms = not pad or bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if zooms:
            turns = event.angleDelta().y() / 120.0
            self.zoom(1.2**turns, event.position())
        else:
            self._own_view = True
            self.scroll_by(-event.pixelDelta().x(), -event.pixelDelta().y())
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

    def begin_pan(self, event: QMouseEvent) -> bool:
        """A press that takes hold of the view itself; False when it is none."""
        pans = event.button() == Qt.MouseButton.MiddleButton or (
            self._space and event.button() == Qt.MouseButton.LeftButton
        )
        if pans:
            self._own_view = True
            self._panned_from = event.globalPosition().toPoint()
            self.note_corner()
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
        return pans

    def pan_on(self, event: QMouseEvent) -> bool:
        """The view goes with the pointer; False when it is not held."""
        if self._panned_from is None:
            return False
        if not event.buttons() & _PANNING:
            # Another window had the release.
            self._drop_pan()
            return False
        self.stay_under_hand()
        to = event.globalPosition().toPoint()
        step, self._panned_from = to - self._panned_from, to
        self.scroll_by(-step.x(), -step.y())
        return True

    def end_pan(self) -> bool:
        """Let go of the view; False when it was not held."""
        held = self._panned_from is not None
        self._panned_from = None
        return held

    def _drop_pan(self) -> None:
        if self.end_pan():
            self.show_cursor("")

    def hold_space(self, down: bool) -> None:
        """While the space bar is down, the left button pans."""
        self._space = down
        if down:
            self.viewport().setCursor(Qt.CursorShape.OpenHandCursor)

    def abandon(self) -> bool:
        """Give up what is held and put everything back; False when there was nothing."""
        return False

    def show_cursor(self, over: str) -> None:
        """The pointer over something; "" for nothing."""

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Who comes by a key sees a ring round the view; a hand that works in it needs none."""
        if event.reason() not in _COMES_BACK:
            self._wear_ring(event.reason() in _BY_KEY)
        super().focusInEvent(event)

    def _wear_ring(self, worn: bool) -> None:
        """The style sheet has a border for a view whose `ringed` is true."""
        if worn != bool(self.property("ringed")):
            self.setProperty("ringed", worn)
            self.style().unpolish(self)
            self.style().polish(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A drag does not outlive the focus."""
        self.abandon()
        self._drop_pan()
        self.hold_space(False)
        super().focusOutEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The hand goes with the space bar."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self.hold_space(False)
            self.show_cursor("")
        super().keyReleaseEvent(event)
