"""Qt's events as plain values: where on the pattern, with which keys held, press or drag."""

from __future__ import annotations

from enum import Enum, auto

import msgspec
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QMouseEvent

from studio.canvas.paths import to_pattern
from studio.curves import Point

DRAG_FROM_PIXELS = 4.0
"""A press that moves less than this is a click."""

REACH_PIXELS = 9.0
"""How near the pointer must come to take hold of something."""


class Pointer(msgspec.Struct, frozen=True):
    """The pointer: place in mm on the sheet, how many mm the reach is, and the keys held."""

    at: Point
    reach: float
    shift: bool = False
    control: bool = False
    alt: bool = False


class Kind(Enum):
    """What the left button does."""

    PRESS = auto()
    DRAG = auto()
    CLICK = auto()
    DROP = auto()
    LOST = auto()


class Recogniser:
    """Turns presses, moves and releases of the left button into gestures.

    A release that never comes (lost focus, another window) is told as LOST by `abandon`, or when
    a move arrives without the button.
    """

    def __init__(self) -> None:
        self._pressed_at: QPointF | None = None
        self._dragging = False

    @property
    def is_held(self) -> bool:
        """True while the button is down."""
        return self._pressed_at is not None

    def press(self, event: QMouseEvent) -> Kind:
        """The button went down."""
        self._pressed_at = event.position()
        self._dragging = False
        return Kind.PRESS

    def move(self, event: QMouseEvent) -> Kind | None:
        """The pointer moved; None when that is only hovering or still a click."""
        if self._pressed_at is None:
            return None
        if not event.buttons() & Qt.MouseButton.LeftButton:
            return self.abandon()
        far = event.position() - self._pressed_at
        if not self._dragging and abs(far.x()) + abs(far.y()) < DRAG_FROM_PIXELS:
            return None
        self._dragging = True
        return Kind.DRAG

    def release(self) -> Kind | None:
        """The button came up."""
        if self._pressed_at is None:
            return None
        self._pressed_at = None
        return Kind.DROP if self._dragging else Kind.CLICK

    def abandon(self) -> Kind | None:
        """The release was lost."""
        if self._pressed_at is None:
            return None
        self._pressed_at = None
        return Kind.LOST


def pointer_at(scene_place: QPointF, scale: float, modifiers: Qt.KeyboardModifier) -> Pointer:
    """A pointer from a place on the scene and the view's pixels a millimetre."""
    return Pointer(
        to_pattern(scene_place),
        REACH_PIXELS / scale,
        bool(modifiers & Qt.KeyboardModifier.ShiftModifier),
        bool(modifiers & Qt.KeyboardModifier.ControlModifier),
        bool(modifiers & Qt.KeyboardModifier.AltModifier),
    )
