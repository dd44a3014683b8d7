"""Cloth with pieces on it, painted: true to size, or small as a plan; millimetres, y down."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from shapely import LineString, Polygon

from studio.cloth.bed import flaw_area
from studio.cloth.laid_pieces import LaidPiece
from studio.curves import Affine
from studio.design.cloth import Flaw, FlawKind
from studio.exchange.lay_plan import ClothPlan
from studio.exchange.paint.paths import path_of, path_of_area
from studio.exchange.paint.pieces import PieceDrawing, PieceStyle
from studio.exchange.paint.writing import width_of, write
from studio.numbers import LengthUnit

_CLOTH, _EDGE, _INK, _FAINT = "#efece4", "#7b7468", "#000000", "#6d6d6d"

_NAME = 2.8
"""Size of a piece's name on a plan, mm on paper."""

_HATCH = 1.6
"""Between the strokes that fill a flaw, mm on paper."""


def paint_true(painter: QPainter, plan: ClothPlan, unit: LengthUnit = "mm") -> None:
    """The cloth's outline, its flaws and every piece in full, y up from the cloth's own origin;
    the words on them tell lengths in a unit.
    """
    _paint_cloth(painter, plan, 1.0, fill=False)
    for one in plan.laid:
        PieceDrawing(one.sewn, PieceStyle(), unit).paint_at(painter, Affine())


def paint_plan(painter: QPainter, plan: ClothPlan, room: QRectF) -> float:
    """A plan that fills a room of the paper as far as it can; gives its scale, 0.1 for 1 to 10.

    Pieces bear the numbers of their order in `plan.laid`.
    """
    left, _, _, high = plan.bed.outline.bounds
    scale = min(room.width() / plan.width, room.height() / plan.height)
    painter.save()
    painter.translate(room.left() + (room.width() - plan.width * scale) / 2.0, room.top())
    painter.scale(scale, scale)
    painter.translate(-left, high)
    _paint_cloth(painter, plan, scale, fill=True)
    for number, one in enumerate(plan.laid, start=1):
        _paint_small(painter, one, number, scale)
    _paint_warp(painter, plan, scale)
    painter.restore()
    return scale


def _paint_cloth(painter: QPainter, plan: ClothPlan, scale: float, *, fill: bool) -> None:
    painter.setPen(QPen(QColor(_EDGE), 0.35 / scale))
    painter.setBrush(QColor(_CLOTH) if fill else Qt.BrushStyle.NoBrush)
    painter.drawPath(path_of_area(plan.bed.outline))
    for flaw in plan.stock.flaws:
        _paint_flaw(painter, flaw, scale)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _paint_flaw(painter: QPainter, flaw: Flaw, scale: float) -> None:
    """White as a hole; a stain is crossed by slanting strokes, a worn place dotted, an old seam
    crossed by level strokes; all bear their word where there is room.
    """
    area = flaw_area(flaw)
    painter.setPen(QPen(QColor(_EDGE), 0.25 / scale, Qt.PenStyle.DashLine))
    painter.setBrush(QColor("#ffffff"))
    painter.drawPath(path_of_area(area))
    step = _HATCH / scale
    strokes: dict[FlawKind, tuple[float, Qt.PenStyle]] = {
        "stain": (1.0, Qt.PenStyle.SolidLine),
        "worn": (0.0, Qt.PenStyle.DotLine),
        "seam": (0.0, Qt.PenStyle.SolidLine),
    }
    left, low, right, high = area.bounds
    if flaw.kind in strokes:
        slant, style = strokes[flaw.kind]
        painter.save()
        painter.setClipPath(path_of_area(area), Qt.ClipOperation.IntersectClip)
        painter.setPen(QPen(QColor(_FAINT), 0.15 / scale, style))
        y = low - slant * (right - left)
        while y < high:
            y += step
            painter.drawLine(QPointF(left, -y), QPointF(right, -y - slant * (right - left)))
        painter.restore()
    size = max(2.4 / scale, min(12.0, (high - low) / 4.0) if scale == 1.0 else 0.0)
    if width_of(flaw.kind, size) < right - left and size < high - low:
        at = area.representative_point()
        _write_on_plate(painter, QPointF(at.x, -at.y), flaw.kind, size)


def _paint_small(painter: QPainter, one: LaidPiece, number: int, scale: float) -> None:
    sewn = one.sewn
    painter.setPen(QPen(QColor(_INK), 0.3 / scale))
    painter.setBrush(QColor("#ffffff"))
    painter.drawPath(path_of((edge.chain for edge in sewn.cut_line), closed=True))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(_FAINT), 0.12 / scale))
    painter.drawPath(path_of((edge.chain for edge in sewn.piece.outline), closed=True))
    low, high = sewn.grain
    painter.drawLine(QPointF(low.x, -low.y), QPointF(high.x, -high.y))
    shape = Polygon(sewn.piece.outline.polyline(1.0))
    at = shape.representative_point()
    size = min(4.2, max(2.0, 0.35 * math.sqrt(shape.area) * scale)) / scale
    middle = QPointF(at.x, -at.y)
    _write_on_plate(painter, middle, str(number), size, bold=True)
    below = middle + QPointF(0.0, 1.1 * size)
    plate = width_of(sewn.piece.name, _NAME / scale) / 2.0
    if shape.contains(LineString([(at.x - plate, -below.y()), (at.x + plate, -below.y())])):
        _write_on_plate(painter, below, sewn.piece.name, _NAME / scale)


def _paint_warp(painter: QPainter, plan: ClothPlan, scale: float) -> None:
    """An arrow up the warp, below the cloth on its left, with its word."""
    left, low, _, _ = plan.bed.outline.bounds
    run, head = 11.0 / scale, 1.6 / scale
    warp = math.radians(plan.bed.warp)
    ahead, aside = QPointF(math.cos(warp), -math.sin(warp)), QPointF(math.sin(warp), math.cos(warp))
    middle = QPointF(left + 5.0 / scale, -low + 8.0 / scale)
    tail, tip = middle - ahead * (run / 2.0), middle + ahead * (run / 2.0)
    painter.setPen(QPen(QColor(_INK), 0.35 / scale))
    painter.drawLine(tail, tip)
    back = tip - ahead * head
    painter.setBrush(QColor(_INK))
    painter.drawPolygon(QPolygonF([tip, back + aside * (head / 2.5), back - aside * (head / 2.5)]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    write(painter, middle + QPointF(3.5 / scale, 1.0 / scale), "warp", 3.0 / scale)


def _write_on_plate(
    painter: QPainter, middle: QPointF, text: str, size: float, *, bold: bool = False
) -> None:
    wide = width_of(text, size, bold=bold)
    plate = QRectF(middle.x() - wide / 2.0, middle.y() - 0.55 * size, wide, 1.1 * size)
    painter.fillRect(plate.adjusted(-0.15 * size, 0, 0.15 * size, 0), QColor("#ffffff"))
    painter.setPen(QColor(_INK))
    write(painter, middle + QPointF(0.0, 0.35 * size), text, size, bold=bold, align="centre")
