"""A moment of a walked seam, painted: the side that lies still, the side that rolls along it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from studio.curves import Affine, Box
from studio.exchange.paint.paths import path_of, transform_of
from studio.sew.sewn import SewnPiece
from studio.sew.walk import Laid, Step, Walk


class WalkStyle(msgspec.Struct, frozen=True):
    """Colours as #rrggbb. Widths are in pixels of the device: pens are cosmetic."""

    ink: str = "#26323c"
    still: str = "#d7e0e5"
    rolling: str = "#f2dcc8"
    faint: str = "#66707a"
    work: str = "#ad4a12"


def paint_walk(
    painter: QPainter,
    walk: Walk,
    step: Step,
    pieces: Mapping[str, SewnPiece],
    style: WalkStyle,
) -> None:
    """Paint in mm, y down: what rolls lies over what is still, the place they touch is ringed."""
    for laid in walk.a:
        _paint_piece(painter, pieces[laid.piece], laid.move, style.still, style)
    for laid in walk.b:
        move = laid.move.then(step.move)
        _paint_piece(painter, pieces[laid.piece], move, style.rolling, style)
    ring = QPen(QColor(style.work), 2.2)
    ring.setCosmetic(True)
    painter.setPen(ring)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    scale = abs(painter.worldTransform().m11()) or 1.0
    painter.drawEllipse(QPointF(step.at.x, -step.at.y), 8.0 / scale, 8.0 / scale)


def box_of_walk(walk: Walk, pieces: Mapping[str, SewnPiece]) -> QRectF:
    """The part of the plane (y down) that holds a whole walk."""
    box = _box_of(walk.a, Affine(), pieces)
    for k in range(9):
        step = walk.at(walk.length_a * k / 8.0)
        box = box.with_(_box_of(walk.b, step.move, pieces))
    return QRectF(box.left, -box.top, box.width, box.height)


def _box_of(side: tuple[Laid, ...], move: Affine, pieces: Mapping[str, SewnPiece]) -> Box:
    boxes = [
        pieces[laid.piece].piece.outline.transformed(laid.move.then(move)).box for laid in side
    ]
    box = boxes[0]
    for other in boxes[1:]:
        box = box.with_(other)
    return box


def _paint_piece(
    painter: QPainter, sewn: SewnPiece, move: Affine, fill: str, style: WalkStyle
) -> None:
    painter.save()
    painter.setTransform(transform_of(move), True)
    cut = path_of((edge.chain for edge in sewn.cut_line), closed=True)
    sewing = path_of((edge.chain for edge in sewn.piece.outline), closed=True)
    tint = QColor(fill)
    tint.setAlphaF(0.75)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(tint)
    painter.drawPath(sewing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(style.faint, 0.8))
    painter.drawPath(cut)
    painter.setPen(_pen(style.ink, 1.4))
    painter.drawPath(sewing)
    notches = QPainterPath()
    for notch in sewn.notches:
        notches.moveTo(notch.mouth.x, -notch.mouth.y)
        notches.lineTo(notch.at.x, -notch.at.y)
    painter.setPen(_pen(style.work, 1.6))
    painter.drawPath(notches)
    marks = QPainterPath()
    for mark in sewn.piece.marks:
        marks.addPath(path_of((mark.chain,)))
    painter.setPen(_pen(style.faint, 1.0))
    painter.drawPath(marks)
    painter.restore()


def _pen(colour: str, width: float) -> QPen:
    pen = QPen(QColor(colour), width)
    pen.setCosmetic(True)
    return pen
