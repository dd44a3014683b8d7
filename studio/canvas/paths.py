"""From millimetres, y up, to the scene, y down, and back: where the canvas flips y."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF

from studio.curves import Box, Point, Vector
from studio.exchange.paint.paths import path_of, path_of_area, paths_of, transform_of

__all__ = [
    "NO_SHIFT",
    "path_of",
    "path_of_area",
    "paths_of",
    "rect_of",
    "to_pattern",
    "to_scene",
    "transform_of",
]

NO_SHIFT = Vector(0.0, 0.0)


def to_scene(point: Point, shift: Vector = NO_SHIFT) -> QPointF:
    """A place on the pattern, moved by `shift` mm, on the scene."""
    return QPointF(point.x + shift.x, -(point.y + shift.y))


def to_pattern(point: QPointF, shift: Vector = NO_SHIFT) -> Point:
    """A place on the scene as one on the pattern that was moved by `shift` mm."""
    return Point(point.x() - shift.x, -point.y() - shift.y)


def rect_of(box: Box, margin: float = 0.0) -> QRectF:
    """A box on the scene, grown by `margin` mm."""
    return QRectF(
        box.left - margin, -box.top - margin, box.width + 2 * margin, box.height + 2 * margin
    )
