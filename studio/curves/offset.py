"""Parallel curves, cubic by cubic; joining them at corners is the cut line's work."""

from __future__ import annotations

import math

from studio.curves import kernel, tolerance
from studio.curves.cubic import Cubic, Offset
from studio.curves.point import Point
from studio.errors import GeometryRefused

_FEW, _MANY = 17, 65
"""Places at which roundness is measured: few settle it where the curve is nowhere half as round
as the distance, unless it turns back."""


def offset_left(cubic: Cubic, distance: float) -> Offset:
    """The parallel at `distance` mm to the left of travel (negative: to the right).

    Within 0.01 mm of the true parallel (measured); exact for a straight stretch. Where the curve
    is rounder than the distance on its hollow side the parallel crosses itself and `folds` is
    true: measured at 65 places.

    Raises:
        GeometryRefused: the curve has no length, or its handles fold back on themselves; a fold
            by less than a fiftieth of the curve may be passed over (measured).
    """
    if distance == 0.0:
        return Offset((cubic,), False)
    return cubic.remembered_offset(distance, _parallel)


def _parallel(cubic: Cubic, distance: float) -> Offset:
    if cubic.is_straight:
        left = cubic.tangent(0.0).left()
        ends = cubic.p0.off(left, distance), cubic.p3.off(left, distance)
        return Offset((Cubic.straight(*ends),), False)
    if cubic.length <= tolerance.NOTHING_MM:
        raise GeometryRefused("A curve could not be offset: it has no length.")
    pieces = kernel.offset(cubic.twin, distance, tolerance.OFFSET_ASKED_MM)
    moved = tuple(
        Cubic(Point(n[0], n[1]), Point(n[2], n[3]), Point(n[4], n[5]), Point(n[6], n[7]))
        for n in pieces
    )
    return Offset(moved, _folds(cubic, distance))


def _folds(cubic: Cubic, distance: float) -> bool:
    slowest = _slowest(cubic)
    if _cannot_fold(cubic, slowest, distance):
        return False
    twin = cubic.twin
    # A curve that turns back along its chord may be sharp between few places.
    if slowest > 0.0 and max(distance * bend for bend in kernel.curvatures(twin, _FEW)) < 0.5:
        return False
    return max(distance * bend for bend in kernel.curvatures(twin, _MANY)) >= 1.0


def _slowest(cubic: Cubic) -> float:
    """The least of its control legs along its chord, mm: a curve is run through at no less than
    three times that. Nothing or less where a leg turns back.
    """
    (x0, y0), (x1, y1), (x2, y2) = cubic.legs
    x, y = x0 + x1 + x2, y0 + y1 + y2
    least = min(x0 * x + y0 * y, x1 * x + y1 * y, x2 * x + y2 * y)
    return least / math.hypot(x, y) if least > 0.0 else 0.0


def _cannot_fold(cubic: Cubic, slowest: float, distance: float) -> bool:
    """True for a curve that its control points show to be nowhere half as round as a distance: its
    speed turns by no more than six times the greatest step from one leg to the next.
    """
    if slowest <= 0.0:
        return False
    (x0, y0), (x1, y1), (x2, y2) = cubic.legs
    turn = max(math.hypot(x1 - x0, y1 - y0), math.hypot(x2 - x1, y2 - y1))
    return abs(distance) * 6.0 * turn < 0.5 * 9.0 * slowest * slowest
