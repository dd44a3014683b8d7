"""A moment of a walked seam, painted: the side that lies still, the side that rolls along it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from studio.curves import Affine, Box, Vector
from studio.exchange.paint.paths import path_of, paths_of, transform_of
from studio.exchange.paint.pens import take_pen
from studio.sew.sewn import SewnPiece
from studio.sew.walk import Laid, Step, Walk

_BESIDE = 0.35
"""So much of the size of what is laid on a piece is shown on every side of it."""

_CROSS = 2.0
"""Half of the cross at a drilled place, mm."""


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
    """Paint in mm, y down: what rolls lies over what is still, the place they touch is ringed.
    Where one is laid on the other, stitching and drilled places are painted too.
    """
    for side, last, fill in (
        (step.still, Affine(), style.still),
        (step.rolling, step.move, style.rolling),
    ):
        for laid in side:
            _paint_piece(painter, pieces[laid.piece], laid.move.then(last), fill, style)
    if walk.lays_on:
        # Over both: what is laid on hides what it must meet.
        for side, last in ((step.still, Affine()), (step.rolling, step.move)):
            for laid in side:
                _paint_stitching(painter, pieces[laid.piece], laid.move.then(last), style)
    take_pen(painter, style.work, 2.2)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    scale = abs(painter.worldTransform().m11()) or 1.0
    painter.drawEllipse(QPointF(step.at.x, -step.at.y), 8.0 / scale, 8.0 / scale)


def box_of_walk(walk: Walk, pieces: Mapping[str, SewnPiece]) -> QRectF:
    """The part of the plane (y down) that holds a whole walk."""
    still = [_box_of(step.still, Affine(), pieces) for step in _moments(walk)]
    box = Box.round_all([*still, _rolled(walk, pieces)])
    return QRectF(box.left, -box.top, box.width, box.height)


def looked_at(walk: Walk, pieces: Mapping[str, SewnPiece]) -> QRectF:
    """The part of the plane (y down) in which a walk is seen best: all of it, or what is laid on
    a larger piece with enough of that piece to know the place.
    """
    whole = box_of_walk(walk, pieces)
    if not walk.lays_on:
        return whole
    box = _rolled(walk, pieces)
    beside = max(box.width, box.height) * _BESIDE
    near = QRectF(box.left, -box.top, box.width, box.height)
    return near.adjusted(-beside, -beside, beside, beside).intersected(whole)


def _rolled(walk: Walk, pieces: Mapping[str, SewnPiece]) -> Box:
    """What the side that rolls passes over."""
    return Box.round_all([_box_of(step.rolling, step.move, pieces) for step in _moments(walk)])


def _moments(walk: Walk) -> list[Step]:
    return [walk.at(walk.length_a * k / 8.0) for k in range(9)]


def _box_of(side: tuple[Laid, ...], move: Affine, pieces: Mapping[str, SewnPiece]) -> Box:
    boxes = [
        edge.chain.transformed(laid.move.then(move)).box
        for laid in side
        for edge in pieces[laid.piece].cut_line
    ]
    return Box.round_all(boxes)


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
    take_pen(painter, style.faint, 0.8)
    painter.drawPath(cut)
    take_pen(painter, style.ink, 1.4)
    painter.drawPath(sewing)
    notches = QPainterPath()
    for notch in sewn.notches:
        notches.moveTo(notch.mouth.x, -notch.mouth.y)
        notches.lineTo(notch.at.x, -notch.at.y)
    take_pen(painter, style.work, 1.6)
    painter.drawPath(notches)
    marks = QPainterPath()
    for mark in sewn.piece.marks:
        marks.addPath(path_of((mark.chain,)))
    take_pen(painter, style.faint, 1.0)
    painter.drawPath(marks)
    painter.restore()


def _paint_stitching(painter: QPainter, sewn: SewnPiece, move: Affine, style: WalkStyle) -> None:
    """Rows of stitches, and crosses where the piece is drilled."""
    painter.save()
    painter.setTransform(transform_of(move), True)
    take_pen(painter, style.faint, 1.0)
    rows = painter.pen()
    rows.setDashPattern([3.0, 3.0])
    painter.setPen(rows)
    painter.drawPath(paths_of(sewn.rows))
    crosses = QPainterPath()
    for place in sewn.drills:
        for step in (Vector(_CROSS, 0.0), Vector(0.0, _CROSS)):
            one, two = place + step, place + -step
            crosses.moveTo(one.x, -one.y)
            crosses.lineTo(two.x, -two.y)
    take_pen(painter, style.work, 1.2)
    painter.drawPath(crosses)
    painter.restore()
