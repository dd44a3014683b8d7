"""Pens whose width is in pixels at any zoom, on screens of any fineness."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen


def take_pen(
    painter: QPainter, colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine
) -> None:
    """A pen so wide at any zoom, in pixels as a screen of ordinary fineness has them: Qt gives a
    pen that does not follow the zoom none of a finer screen's scale.
    """
    painter.setPen(_pen(colour, width * painter.device().devicePixelRatioF(), style))


@cache
def _pen(colour: str, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen whose width is in the device's pixels at any zoom; made once, not to be changed."""
    made = QPen(QColor(colour), width, style)
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    return made


def draw_firm(painter: QPainter, path: QPainterPath, colour: str) -> None:
    """A line one and a half pixels wide, at any zoom.

    Qt draws a line of one pixel in a tenth of the time of a wider one; drawn twice it looks half as
    wide again, for its soft rims add up.
    """
    if painter.device().devicePixelRatioF() > 1.0:
        take_pen(painter, colour, 1.5)
    else:
        take_pen(painter, colour, 1.0)
        painter.drawPath(path)
    painter.drawPath(path)
