"""What the arrow keys move, and how far."""

from __future__ import annotations

from PySide6.QtCore import Qt

NUDGE, NUDGE_FAR, NUDGE_FINE = 1.0, 10.0, 0.1
"""Millimetres an arrow key moves something: alone, with Shift, with Alt."""

ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}
"""Right and up in mm of the pattern for each key."""


def nudge_step(held: Qt.KeyboardModifier) -> float:
    """How far an arrow key moves, mm, with the keys held beside it."""
    if held & Qt.KeyboardModifier.ShiftModifier:
        return NUDGE_FAR
    return NUDGE_FINE if held & Qt.KeyboardModifier.AltModifier else NUDGE
