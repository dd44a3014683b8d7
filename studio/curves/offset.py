"""Parallel curves, cubic by cubic; joining them at corners is the cut line's work."""

from __future__ import annotations

from studio.curves import kernel, tolerance
from studio.curves.cubic import Cubic
from studio.curves.point import Point


def offset_left(
    cubic: Cubic, distance: float, accuracy: float = tolerance.OFFSET_MM
) -> tuple[Cubic, ...]:
    """The parallel at `distance` mm to the left of travel, within `accuracy` mm of the true one.

    Exact for a straight stretch. Where `distance` is larger than the radius on the hollow side
    the result crosses itself (see `too_round`).

    Raises:
        GeometryRefused: the curve has no length, or its handles fold back on themselves.
    """
    if distance == 0.0:
        return (cubic,)
    if cubic.is_straight:
        step = cubic.tangent(0.0).left() * distance
        return (Cubic.straight(cubic.p0 + step, cubic.p3 + step),)
    pieces = kernel.offset(cubic.twin, distance, accuracy)
    return tuple(
        Cubic(Point(n[0], n[1]), Point(n[2], n[3]), Point(n[4], n[5]), Point(n[6], n[7]))
        for n in pieces
    )


def too_round(cubic: Cubic, distance: float, samples: int = 65) -> bool:
    """True when an offset to the left by `distance` mm would fold: measured at `samples` places."""
    if cubic.is_straight or distance == 0.0:
        return False
    return any(
        1.0 - distance * curvature <= 0.0 for curvature in kernel.curvatures(cubic.twin, samples)
    )
