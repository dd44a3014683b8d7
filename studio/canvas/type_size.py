"""How large letters are: as the desktop has them, and never smaller than can be read at a table."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QApplication, QWidget

_PLAIN_POINTS, _PLAIN_DOTS = 10.0, 96.0
"""What lengths in pixels were drawn for: letters of ten points on a screen of 96 dots an inch."""

_SIZED = "sizedWithLetters"

_LARGEST = 2.0
"""Beyond twice the usual size no screen holds the window."""


def base_points() -> float:
    """The size of plain words in points: that of the desktop, between 10 and 20 points on a screen
    of 96 dots an inch.
    """
    return larger() * _PLAIN_POINTS * _PLAIN_DOTS / _dots()


@cache
def larger() -> float:
    """By how much letters are larger than usual, 1 to 2: what a length in pixels grows with. Found
    once, since it is asked for wherever letters are painted, until it is forgotten because the
    desktop has others now (`sheet_item.forget_letters`).
    """
    font = QApplication.font()
    points = font.pointSizeF()
    if points <= 0.0:  # A desktop may give its letters in pixels.
        points = QFontInfo(font).pointSizeF()
    return min(_LARGEST, max(1.0, points * _dots() / (_PLAIN_POINTS * _PLAIN_DOTS)))


def grown(pixels: float) -> int:
    """A length in pixels that has to hold words, as large as they are."""
    return round(pixels * larger())


def letters() -> tuple[str, float]:
    """By what the letters of a desktop differ from those of another: its font, and its dots."""
    return QApplication.font().toString(), _dots()


def size_with_letters(widget: QWidget, **pixels: float) -> None:
    """Give a widget lengths in pixels that have to hold words, by the names of Qt's properties,
    such as `minimumWidth`; they grow and shrink with the letters while it is open. What is given
    again under a name takes the place of what was.
    """
    widget.setProperty(_SIZED, {**(widget.property(_SIZED) or {}), **pixels})
    _size(widget, pixels)


def size_all_again() -> None:
    """Give all widgets the lengths that `size_with_letters` gave them, for letters of now."""
    for widget in QApplication.allWidgets():
        _size(widget, widget.property(_SIZED) or {})


def _size(widget: QWidget, pixels: Mapping[str, float]) -> None:
    for name, length in pixels.items():
        widget.setProperty(name, grown(length))


def _dots() -> float:
    """Dots an inch by which points become pixels; 72 on some desktops."""
    screen = QApplication.primaryScreen()
    return screen.logicalDotsPerInchY() if screen is not None else _PLAIN_DOTS
