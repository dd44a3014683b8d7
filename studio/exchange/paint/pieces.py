"""A piece painted with its lines, notches, grain and words, on paper or on a picture. In mm."""

from __future__ import annotations

import os

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPainter, QPainterPath, QPen, QTransform

from studio.curves import Affine, Point
from studio.exchange.arrange import Laid
from studio.exchange.paint.paths import path_of


class Ink(msgspec.Struct, frozen=True):
    """Line widths in mm and colours; `fill` is the cloth's colour or empty."""

    line: str = "#000000"
    cut: float = 0.45
    sewing: float = 0.2
    fine: float = 0.18
    fill: str = ""
    text: float = 4.2


def ensure_gui() -> QGuiApplication:
    """The application that painting needs, offscreen when there is no display."""
    known = QGuiApplication.instance()
    if isinstance(known, QGuiApplication):
        return known
    if not os.environ.get("DISPLAY") and not os.environ.get("WAYLAND_DISPLAY"):
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    return QGuiApplication(["yokewright"])


def paint_laid(painter: QPainter, laid: Laid, ink: Ink) -> None:
    """Paint a piece at its place; the painter's unit is the mm, y down."""
    piece = laid.sewn.piece
    cut = _moved(path_of((edge.chain for edge in laid.sewn.cut_line), closed=True), laid.move)
    if ink.fill:
        painter.fillPath(cut, QColor(ink.fill))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(ink, ink.sewing))
    sewing = path_of((edge.chain for edge in piece.outline), closed=True)
    painter.drawPath(_moved(sewing, laid.move))
    painter.setPen(_pen(ink, ink.fine, Qt.PenStyle.DashLine))
    for mark in piece.marks:
        painter.drawPath(_moved(path_of((mark.chain,)), laid.move))
    for dart in piece.darts:
        for end in (dart.first, dart.last):
            painter.drawLine(_at(laid.move, end), _at(laid.move, dart.point))
    painter.setPen(_pen(ink, ink.cut))
    painter.drawPath(cut)
    _paint_notches(painter, laid, ink)
    _paint_grain(painter, laid, ink)
    _paint_drills(painter, laid, ink)
    _paint_words(painter, laid, ink)


def write_words(
    painter: QPainter, place: QPointF, text: str, size: float, *, bold: bool = False
) -> float:
    """Text whose letters are `size` mm high, its base line starting at a place; returns its
    width in mm. Drawn as outlines, so that no font need be carried.
    """
    font = QFont("Sans Serif")
    font.setPixelSize(100)
    font.setBold(bold)
    path = QPainterPath()
    path.addText(0.0, 0.0, font, text)
    scale = size / 72.0
    painter.save()
    painter.translate(place)
    painter.scale(scale, scale)
    painter.fillPath(path, painter.pen().color())
    painter.restore()
    return path.boundingRect().right() * scale


def words_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width in mm of text written by `write_words`."""
    font = QFont("Sans Serif")
    font.setPixelSize(100)
    font.setBold(bold)
    path = QPainterPath()
    path.addText(0.0, 0.0, font, text)
    return path.boundingRect().right() * size / 72.0


def _paint_notches(painter: QPainter, laid: Laid, ink: Ink) -> None:
    painter.setPen(_pen(ink, ink.cut))
    for notch in laid.sewn.notches:
        along = (notch.mouth - notch.tip).unit().left() * 3.0
        painter.drawLine(_at(laid.move, notch.mouth), _at(laid.move, notch.tip))
        if notch.kind == "double":
            painter.drawLine(_at(laid.move, notch.mouth + along), _at(laid.move, notch.tip + along))


def _paint_grain(painter: QPainter, laid: Laid, ink: Ink) -> None:
    painter.setPen(_pen(ink, ink.fine))
    low, high = laid.sewn.grain
    painter.drawLine(_at(laid.move, low), _at(laid.move, high))
    head = min(8.0, low.distance_to(high) * 0.15)
    for tip, other in ((low, high), (high, low)):
        along = (other - tip).unit()
        for side in (along.left(), along.right()):
            end = tip + along * head + side * (head * 0.4)
            painter.drawLine(_at(laid.move, tip), _at(laid.move, end))


def _paint_drills(painter: QPainter, laid: Laid, ink: Ink) -> None:
    painter.setPen(_pen(ink, ink.fine))
    for place in laid.sewn.drills:
        at = _at(laid.move, place)
        painter.drawLine(at + QPointF(-2.0, 0.0), at + QPointF(2.0, 0.0))
        painter.drawLine(at + QPointF(0.0, -2.0), at + QPointF(0.0, 2.0))


def _paint_words(painter: QPainter, laid: Laid, ink: Ink) -> None:
    """Name and cutting note beside the grainline, smaller when the piece is small."""
    piece = laid.sewn.piece
    lines = (
        (piece.name, True),
        ("cut 2, mirrored" if piece.quantity == 2 and piece.cut == "pair" else _count(laid), False),
        (piece.cloth, False),
    )
    room_across, room_down = _room(laid)
    widest = max(words_width(text, 1.0, bold=bold) for text, bold in lines)
    size = min(ink.text, room_across / widest, room_down / (len(lines) * 1.6))
    painter.setPen(_pen(ink, ink.fine))
    low, high = laid.sewn.grain
    middle = _at(laid.move, low.toward(high, 0.5))
    upright = abs((_at(laid.move, high) - _at(laid.move, low)).y()) > abs(
        (_at(laid.move, high) - _at(laid.move, low)).x()
    )
    start = middle + (QPointF(2.0, -size * 1.6) if upright else QPointF(-20.0, size * 1.6))
    for number, (text, bold) in enumerate(lines):
        write_words(painter, start + QPointF(0.0, number * size * 1.6), text, size, bold=bold)


def _room(laid: Laid) -> tuple[float, float]:
    """Width to the right of the grainline's middle, and height, that words may take, mm."""
    low, high = laid.sewn.grain
    middle = _at(laid.move, low.toward(high, 0.5))
    shape = _moved(path_of((e.chain for e in laid.sewn.piece.outline), closed=True), laid.move)
    reach = 4.0
    while reach < 90.0 and shape.contains(
        QRectF(middle.x() + 1.0, middle.y() - 5.0, reach + 3.0, 12.0)
    ):
        reach += 3.0
    return max(reach, 12.0), max(9.0, min(30.0, laid.box.height * 0.4))


def _count(laid: Laid) -> str:
    piece = laid.sewn.piece
    return f"cut {piece.quantity}" + (", half of them mirrored" if piece.cut == "pair" else "")


def _pen(ink: Ink, width: float, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    pen = QPen(QColor(ink.line), width, style)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if style is Qt.PenStyle.DashLine:
        pen.setDashPattern([12.0, 8.0])
    return pen


def _at(move: Affine, point: Point) -> QPointF:
    moved = move(point)
    return QPointF(moved.x, -moved.y)


def _moved(path: QPainterPath, move: Affine) -> QPainterPath:
    """A path after a move of the pattern plane, in the painter's plane where y is flipped."""
    turn = QTransform(move.xx, -move.yx, -move.xy, move.yy, move.dx, -move.dy)
    return turn.map(path)
