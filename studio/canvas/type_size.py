"""How large letters are: as the desktop has them, and never smaller than can be read at a table."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QApplication

_PLAIN_POINTS, _PLAIN_DOTS = 10.0, 96.0
"""What lengths in pixels were drawn for: letters of ten points on a screen of 96 dots an inch."""

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
    once, since it is asked for wherever letters are painted.
    """
    font = QApplication.font()
    points = font.pointSizeF()
    if points <= 0.0:  # A desktop may give its letters in pixels.
        points = QFontInfo(font).pointSizeF()
    return min(_LARGEST, max(1.0, points * _dots() / (_PLAIN_POINTS * _PLAIN_DOTS)))


def grown(pixels: float) -> int:
    """A length in pixels that has to hold words, as large as they are."""
    return round(pixels * larger())


def _dots() -> float:
    """Dots an inch by which points become pixels; 72 on some desktops."""
    screen = QApplication.primaryScreen()
    return screen.logicalDotsPerInchY() if screen is not None else _PLAIN_DOTS
