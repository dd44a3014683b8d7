"""A view whose left button takes hold of something, drags it and lets it go."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtCore import QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QGraphicsScene, QWidget

from studio.canvas.gesture import Kind, Pointer, Recogniser, pointer_at
from studio.canvas.pan_zoom import PanZoomView


class Holder(Protocol):
    """What takes hold: a tool of the sheet, the hand over the table."""

    def press(self, pointer: Pointer) -> object:
        """The button goes down."""

    def drag(self, pointer: Pointer) -> object:
        """What is held goes along."""

    def drop(self, pointer: Pointer) -> object:
        """What was dragged is let go."""

    def click(self, pointer: Pointer) -> object:
        """The button came up where it went down."""


class HeldView(PanZoomView):
    """Turns the mouse into what its `holder` does; a drag is shown once for each turn of the event
    loop, whatever the mouse sends.
    """

    def __init__(self, scene: QGraphicsScene, parent: QWidget | None = None) -> None:
        super().__init__(scene, parent)
        self._recogniser = Recogniser()
        self._waiting: Pointer | None = None

    @property
    def holder(self) -> Holder:
        """What takes hold now."""
        raise NotImplementedError

    @property
    def is_held(self) -> bool:
        """True while the button is down, or the view itself is held."""
        return self._recogniser.is_held or super().is_held

    def take_hold(self, event: QMouseEvent) -> None:
        """The left button goes down."""
        self._recogniser.press(event)
        self.note_corner()
        self.holder.press(self.pointer_of(event))

    def drag_on(self, event: QMouseEvent) -> bool:
        """The mouse moves; False when nothing is held."""
        self.stay_under_hand()
        kind = self._recogniser.move(event)
        if kind is Kind.DRAG:
            if self._waiting is None:
                QTimer.singleShot(0, self._show_drag)
            self._waiting = self.pointer_of(event)
        elif kind is Kind.LOST:
            self.abandon()
        return kind is not None or self._recogniser.is_held

    def let_go(self, event: QMouseEvent) -> None:
        """The left button comes up."""
        self.stay_under_hand()
        self._show_drag()
        kind = self._recogniser.release()
        if kind is Kind.DROP:
            self.holder.drop(self.pointer_of(event))
        elif kind is Kind.CLICK:
            self.holder.click(self.pointer_of(event))

    def forget_drag(self) -> None:
        """Nothing is held any more, and what was dragged is not shown."""
        self._waiting = None
        self._recogniser.abandon()

    def pointer_of(self, event: QMouseEvent) -> Pointer:
        """Where the mouse is, on the pattern, with the keys held."""
        place = self.viewportTransform().inverted()[0].map(event.position())
        return pointer_at(place, self.scale_now, event.modifiers())

    def _show_drag(self) -> None:
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.holder.drag(waiting)
