"""How marks on a photograph and a panel being traced are painted, in pixels of the view."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPolygonF

from studio.canvas.sheet_item import write
from studio.canvas.theme import Theme
from studio.canvas.trace_hand import TraceHand
from studio.cloth.bed import flaw_area
from studio.cloth.tracing import WORDS, handles
from studio.design.cloth import Flaw, Place
from studio.errors import BadInput
from studio.exchange.paint.pens import take_pen

_FLAW_BRUSHES = {
    "hole": Qt.BrushStyle.DiagCrossPattern,
    "stain": Qt.BrushStyle.Dense5Pattern,
    "worn": Qt.BrushStyle.BDiagPattern,
    "seam": Qt.BrushStyle.FDiagPattern,
}
_ROOM_FOR_WORD = 60.0
"""A flaw less high than this, or less than twice as wide, in pixels, has its word above it."""

SpotOf: TypeAlias = Callable[[Place], QPointF]


def paint_hand(
    painter: QPainter, hand: TraceHand, theme: Theme, spot_of: SpotOf, pointer: QPointF | None
) -> None:
    """All that the hand has drawn, where `spot_of` puts it."""
    paint = _Paint(painter, hand, theme, spot_of)
    if hand.stage == "scale":
        paint.marks()
    else:
        paint.drawn(pointer)


class _Paint:
    """One painting of what a hand has drawn."""

    def __init__(self, painter: QPainter, hand: TraceHand, theme: Theme, spot_of: SpotOf) -> None:
        self._painter = painter
        self._hand = hand
        self._theme = theme
        self._spot_of = spot_of

    def marks(self) -> None:
        """Crosses with their numbers, and the sheet they make."""
        painter, hand, theme = self._painter, self._hand, self._theme
        spots = [self._spot_of(place) for place in hand.state.marks]
        if len(spots) == 2:
            self._stroke(spots, style=Qt.PenStyle.DashLine)
        elif len(spots) == 4:
            self._stroke(_around(spots), closed=True, style=Qt.PenStyle.DashLine)
        for number, spot in enumerate(spots):
            for colour, width in ((theme.paper, 4.0), (theme.work, 1.6)):
                take_pen(painter, colour, width)
                for arm in (QPointF(1, 0), QPointF(-1, 0), QPointF(0, 1), QPointF(0, -1)):
                    painter.drawLine(spot + arm * 3.0, spot + arm * 13.0)
            if number == hand.picked:
                take_pen(painter, theme.work, 1.6)
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(spot, 16.0, 16.0)
            self._word(spot + QPointF(22.0, -14.0), str(number + 1))

    def drawn(self, pointer: QPointF | None) -> None:
        """Outline, flaws, grain, the line under way, and every point that can be held."""
        tracing = self._hand.tracing
        self._outline()
        for at, flaw in enumerate(tracing.flaws):
            self._flaw(flaw, at == self._hand.picked_flaw)
        self._grain()
        spots = [self._spot_of(place) for place in tracing.line]
        if spots:
            self._stroke(spots)
            if pointer is not None:
                self._stroke([spots[-1], pointer], style=Qt.PenStyle.DashLine)
        for handle, place in handles(tracing):
            self._dot(self._spot_of(place), handle == self._hand.picked)

    def _outline(self) -> None:
        spots = [self._spot_of(place) for place in self._hand.tracing.outline]
        if not spots:
            return
        tint = QColor(self._theme.work)
        tint.setAlphaF(0.10)
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(tint)
        self._painter.drawPolygon(QPolygonF(spots))
        self._stroke(spots, closed=True)

    def _flaw(self, flaw: Flaw, picked: bool) -> None:
        try:
            ring = list(flaw_area(flaw).exterior.coords)
        except BadInput:
            # Crossed while a point is dragged: shown as its bare line until it is mended.
            ring = list(flaw.points)
        spots = [self._spot_of(place) for place in ring]
        colour = QColor(self._theme.grave)
        colour.setAlphaF(0.75 if flaw.avoided else 0.3)
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QBrush(colour, _FLAW_BRUSHES[flaw.kind]))
        self._painter.drawPolygon(QPolygonF(spots))
        style = Qt.PenStyle.SolidLine if flaw.avoided else Qt.PenStyle.DotLine
        self._stroke(spots, closed=True, colour=self._theme.grave, style=style)
        if not spots:
            return
        box = QPolygonF(spots).boundingRect()
        at = box.center()
        if box.height() < _ROOM_FOR_WORD or box.width() < 2.0 * _ROOM_FOR_WORD:
            # A word in a small flaw would hide it.
            at = QPointF(at.x(), box.top() - 12.0)
        self._word(at, WORDS[flaw.kind], bold=picked)

    def _grain(self) -> None:
        grain = self._hand.tracing.grain
        if len(grain) != 2:
            return
        lower, upper = (self._spot_of(place) for place in grain)
        turn = math.atan2(upper.y() - lower.y(), upper.x() - lower.x())
        left, right = (
            upper - QPointF(math.cos(turn + side), math.sin(turn + side)) * 16.0
            for side in (-0.4, 0.4)
        )
        self._stroke([lower, upper], colour=self._theme.seam)
        self._stroke([left, upper, right], colour=self._theme.seam)
        self._word((lower + upper) / 2.0, "grain")

    def _stroke(
        self,
        spots: list[QPointF],
        *,
        closed: bool = False,
        colour: str = "",
        style: Qt.PenStyle = Qt.PenStyle.SolidLine,
    ) -> None:
        """A line with an edge of paper, to be seen on any cloth."""
        path = QPainterPath()
        path.addPolygon(QPolygonF(spots))
        if closed:
            path.closeSubpath()
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(self._painter, self._theme.paper, 3.6)
        self._painter.drawPath(path)
        take_pen(self._painter, colour or self._theme.work, 1.8, style)
        self._painter.drawPath(path)

    def _dot(self, spot: QPointF, picked: bool) -> None:
        side = 5.5 if picked else 4.0
        take_pen(self._painter, self._theme.work, 1.6)
        self._painter.setBrush(QColor(self._theme.work if picked else self._theme.paper))
        self._painter.drawEllipse(spot, side, side)

    def _word(self, spot: QPointF, word: str, bold: bool = False) -> None:
        theme = self._theme
        write(self._painter, spot, word, theme.ink, size=9.0, bold=bold, ground=theme.paper)


def _around(spots: list[QPointF]) -> list[QPointF]:
    """Corners one after the other, whatever order they were set in."""
    middle = QPointF(sum(s.x() for s in spots) / 4.0, sum(s.y() for s in spots) / 4.0)
    return sorted(spots, key=lambda s: math.atan2(s.y() - middle.y(), s.x() - middle.x()))
