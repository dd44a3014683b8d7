"""Cloth with pieces on it, painted: true to size, or small as a plan; millimetres, y down."""

from __future__ import annotations

import math
from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF
from shapely import LineString, Polygon, box

from studio.cloth.bed import flaw_area
from studio.cloth.laid_pieces import LaidPiece
from studio.curves import Affine, Chain, Point
from studio.design.cloth import Flaw, FlawKind
from studio.exchange.clear_place import Polyline
from studio.exchange.lay_plan import ClothPlan
from studio.exchange.number_places import DIGITS, NAME, NumberPlace, ToNumber, number_places
from studio.exchange.paint.paths import path_of, path_of_area, paths_of
from studio.exchange.paint.pieces import PieceDrawing, PieceStyle, pen_of
from studio.exchange.paint.writing import width_of, write
from studio.numbers import LengthUnit
from studio.sew.cut_line import cut_outline_points

_CLOTH, _EDGE, _INK, _FAINT = "#efece4", "#7b7468", "#000000", "#6d6d6d"

_ON_PAPER = 0.02
"""How finely a cut line is followed when its number is placed, mm on paper."""

_LEADER, _DOT = 0.15, 0.35
"""The width of a leader and half that of the dot it ends in, mm on paper."""

_FOLD = 0.14
"""The width of a fold's dashes, mm on paper."""

_FOLD_ACCURACY = 0.05
"""How finely a narrower cut line is followed where it takes the end of a fold off, mm."""

_NUMBERED_BELOW = 5.0
"""Numbers may stand so far below the cloth, mm on paper, clear of the scale told there."""

_UNDER, _WARP_WIDE = 14.0, 22.0
"""The room of the warp's arrow and word, from the left of the paper to so far right of the cloth's
left, mm on paper."""

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
    scale = _scale(plan, room)
    painter.save()
    painter.translate(room.left() + (room.width() - plan.width * scale) / 2.0, room.top())
    painter.scale(scale, scale)
    painter.translate(-left, high)
    _paint_cloth(painter, plan, scale, fill=True)
    for one in plan.laid:
        _paint_small(painter, one, scale)
    _paint_warp(painter, plan, scale)
    painter.scale(1.0 / scale, 1.0 / scale)
    for number in numbers_on(plan, room):
        _paint_number(painter, number)
    painter.restore()
    return scale


def _scale(plan: ClothPlan, room: QRectF) -> float:
    return min(room.width() / plan.width, room.height() / plan.height)


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
    word = _flaw_word(flaw, scale)
    if word is not None:
        at, size = word
        _write_on_plate(painter, QPointF(at.x, -at.y), flaw.kind, size)


def _flaw_word(flaw: Flaw, scale: float) -> tuple[Point, float] | None:
    """The middle of a flaw's word and its size, mm on the cloth; None where it has no room."""
    area = flaw_area(flaw)
    left, low, right, high = area.bounds
    size = max(2.4 / scale, min(12.0, (high - low) / 4.0) if scale == 1.0 else 0.0)
    if width_of(flaw.kind, size) >= right - left or size >= high - low:
        return None
    at = area.representative_point()
    return Point(at.x, at.y), size


def _paint_small(painter: QPainter, one: LaidPiece, scale: float) -> None:
    sewn = one.sewn
    painter.setPen(QPen(QColor(_INK), 0.3 / scale))
    painter.setBrush(QColor("#ffffff"))
    painter.drawPath(path_of((edge.chain for edge in sewn.cut_line), closed=True))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(_FAINT), 0.12 / scale))
    painter.drawPath(path_of((edge.chain for edge in sewn.piece.outline), closed=True))
    low, high = sewn.grain
    painter.drawLine(QPointF(low.x, -low.y), QPointF(high.x, -high.y))
    folds = folds_on(one)
    if folds:
        painter.setPen(pen_of(_FAINT, _FOLD / scale, dashed=True))
        painter.drawPath(paths_of(folds))


def folds_on(one: LaidPiece) -> tuple[Chain, ...]:
    """The lines along which its allowances are folded; a narrower cut line takes their ends off."""
    if not one.is_short:
        return one.sewn.folds
    kept = _valid(Polygon(cut_outline_points(one.sewn.cut_line, _FOLD_ACCURACY)))
    found = []
    for fold in one.sewn.folds:
        # They are straight: a turn-up has no other.
        within = kept.intersection(LineString([(end.x, end.y) for end in (fold.start, fold.end)]))
        found += [
            Chain.straight(*(Point(x, y) for x, y in part.coords))
            for part in getattr(within, "geoms", (within,))
            if isinstance(part, LineString) and part.length > 0.0
        ]
    return tuple(found)


def numbers_on(plan: ClothPlan, room: QRectF) -> tuple[NumberPlace, ...]:
    """Where the numbers stand on a plan that fills a room: mm on the paper, y up, from the cloth's
    own origin.
    """
    scale = _scale(plan, room)
    left, low, right, high = (side * scale for side in plan.bed.outline.bounds)
    spare = (room.width() - (right - left)) / 2.0
    around = (left - spare, low - _NUMBERED_BELOW, right + spare, high)
    avoided = [box(left - spare, low - _UNDER, left + _WARP_WIDE, low)]
    for flaw in plan.stock.flaws:
        word = _flaw_word(flaw, scale)
        if word is not None:
            at, size = word[0], word[1] * scale
            half = width_of(flaw.kind, size) / 2.0 + 0.15 * size
            x, y = at.x * scale, at.y * scale
            avoided.append(box(x - half, y - 0.6 * size, x + half, y + 0.6 * size))
    pieces = [_to_number(one, scale) for one in plan.laid]
    return number_places(pieces, around, _width_of, avoided)


def _to_number(one: LaidPiece, scale: float) -> ToNumber:
    """A piece as a plan shows it, mm on the paper."""
    sewn = one.sewn

    def small(points: Iterable[tuple[float, float]]) -> Polyline:
        return [(x * scale, y * scale) for x, y in points]

    accuracy = _ON_PAPER / scale
    shape = _valid(Polygon(small(cut_outline_points(sewn.cut_line, accuracy))))
    seam = sewn.piece.outline.polyline(accuracy)
    grain = [(end.x, end.y) for end in sewn.grain]
    folds = [small(fold.polyline(accuracy)) for fold in folds_on(one)]
    lines = (small([*seam, seam[0]]), *folds)
    return ToNumber(shape, sewn.piece.name, lines, small(grain))


def _valid(shape: Polygon) -> Polygon:
    """A shape, or the largest part of one whose line crosses itself."""
    if shape.is_valid:
        return shape
    whole = shape.buffer(0.0)
    parts = [part for part in getattr(whole, "geoms", (whole,)) if isinstance(part, Polygon)]
    return max(parts, key=lambda part: part.area)


def _width_of(text: str, size: float, bold: bool) -> float:
    return width_of(text, size, bold=bold)


def _paint_number(painter: QPainter, place: NumberPlace) -> None:
    """A number and the name below it on white; one beside its piece with a leader to a dot."""
    middle = QPointF(place.middle.x, -place.middle.y)
    if place.leader is None:
        _write_on_plate(painter, middle, place.text, place.size, bold=True)
        if place.name_at is not None:
            below = QPointF(place.name_at.x, -place.name_at.y)
            _write_on_plate(painter, below, place.name, NAME)
        return
    start, end = (QPointF(at.x, -at.y) for at in place.leader)
    painter.setPen(QPen(QColor(_INK), _LEADER))
    painter.drawLine(start, end)
    painter.setBrush(QColor(_INK))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.drawEllipse(end, _DOT, _DOT)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QColor(_INK))
    baseline = middle + QPointF(0.0, DIGITS * place.size / 2.0)
    write(painter, baseline, place.text, place.size, bold=True, align="centre")


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
