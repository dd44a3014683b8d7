"""From millimetres, y up, to the scene, y down: the one place where y is flipped."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from studio.curves import Box, Chain, Point, Vector

NO_SHIFT = Vector(0.0, 0.0)


def to_scene(point: Point, shift: Vector = NO_SHIFT) -> QPointF:
    """A place on the pattern, moved by `shift` mm, on the scene."""
    return QPointF(point.x + shift.x, -(point.y + shift.y))


def to_pattern(point: QPointF, shift: Vector = NO_SHIFT) -> Point:
    """A place on the scene as one on the pattern that was moved by `shift` mm."""
    return Point(point.x() - shift.x, -point.y() - shift.y)


def path_of(chains: Iterable[Chain], *, closed: bool = False) -> QPainterPath:
    """One painter's path for chains end to end; true cubics, nothing flattened."""
    path = QPainterPath()
    started = False
    for chain in chains:
        for cubic in chain.cubics:
            if not started:
                path.moveTo(cubic.p0.x, -cubic.p0.y)
                started = True
            if cubic.is_straight:
                path.lineTo(cubic.p3.x, -cubic.p3.y)
            else:
                path.cubicTo(
                    cubic.p1.x, -cubic.p1.y, cubic.p2.x, -cubic.p2.y, cubic.p3.x, -cubic.p3.y
                )
    if closed:
        path.closeSubpath()
    return path


def rect_of(box: Box, margin: float = 0.0) -> QRectF:
    """A box on the scene, grown by `margin` mm."""
    return QRectF(
        box.left - margin, -box.top - margin, box.width + 2 * margin, box.height + 2 * margin
    )
