"""Presses, moves and releases as gestures."""

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent

from studio.canvas.gesture import DRAG_FROM_PIXELS, REACH_PIXELS, Kind, Recogniser, pointer_at
from studio.curves import Point

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton


def event(kind, x, y, held):
    return QMouseEvent(
        kind, QPointF(x, y), QPointF(x, y), LEFT, held, Qt.KeyboardModifier.NoModifier
    )


def moved(x, y, held=LEFT):
    return event(QEvent.Type.MouseMove, x, y, held)


def pressed():
    recogniser = Recogniser()
    assert recogniser.press(event(QEvent.Type.MouseButtonPress, 10, 10, LEFT)) is Kind.PRESS
    return recogniser


def test_a_press_that_hardly_moves_is_a_click():
    recogniser = pressed()
    assert recogniser.move(moved(10 + DRAG_FROM_PIXELS / 2, 10)) is None
    assert recogniser.release() is Kind.CLICK


def test_a_press_that_moves_is_a_drag_and_stays_one():
    recogniser = pressed()
    assert recogniser.move(moved(30, 10)) is Kind.DRAG
    assert recogniser.move(moved(10, 10)) is Kind.DRAG
    assert recogniser.release() is Kind.DROP
    assert not recogniser.is_held


def test_a_move_without_the_button_means_the_release_was_lost():
    recogniser = pressed()
    recogniser.move(moved(30, 10))
    assert recogniser.move(moved(50, 10, NONE)) is Kind.LOST
    assert recogniser.release() is None


def test_hovering_is_no_gesture():
    assert Recogniser().move(moved(30, 10, NONE)) is None
    assert Recogniser().abandon() is None


def test_a_pointer_is_on_the_pattern_y_up_and_reaches_as_far_as_pixels_say():
    keys = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.AltModifier
    pointer = pointer_at(QPointF(12.0, -34.0), 0.5, keys)
    assert pointer.at == Point(12.0, 34.0)
    assert pointer.reach == REACH_PIXELS / 0.5
    assert (pointer.shift, pointer.control, pointer.alt) == (True, False, True)
