"""The one door to kurbopy, with its traps closed: finite, long enough, tolerances bounded below.

kurbopy hangs on a zero tolerance, turns NaN into junk in silence and panics with a
BaseException; none of that passes this module.
"""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import kurbopy

from studio.curves import tolerance
from studio.errors import GeometryRefused

Twin: TypeAlias = Any
"""A kurbopy CubicBez; opaque to the rest of the program."""

Numbers: TypeAlias = tuple[float, float, float, float, float, float, float, float]
"""x0, y0 ... x3, y3 of a cubic's four control points."""

_LEAST_TOLERANCE = 1e-12
_OFFSET_MOST_CUBICS = 64


def twin(numbers: Numbers) -> Twin:
    """Make the kernel's own cubic.

    Raises:
        GeometryRefused: a control point is not a finite number.
    """
    if not math.isfinite(sum(numbers)):
        raise GeometryRefused("A curve has a point that is not a number.")
    point = kurbopy.Point
    x0, y0, x1, y1, x2, y2, x3, y3 = numbers
    return kurbopy.CubicBez(point(x0, y0), point(x1, y1), point(x2, y2), point(x3, y3))


def length(cubic: Twin) -> float:
    """Arc length in mm, within `tolerance.LENGTH_MM`."""
    return float(cubic.arclen(tolerance.LENGTH_MM))


def length_to(cubic: Twin, end: float) -> float:
    """Arc length from the start to a parameter, mm, within `tolerance.LENGTH_MM`."""
    return float(cubic.subsegment((0.0, end)).arclen(tolerance.LENGTH_MM))


def parameter_at(cubic: Twin, distance: float) -> float:
    """Parameter at an arc length from the start, within 1e-9 mm along the curve."""
    return float(cubic.inv_arclen(distance, tolerance.LENGTH_MM))


def nearest(cubic: Twin, x: float, y: float) -> tuple[float, float]:
    """Parameter of the nearest point and its squared distance (mm2), best effort to 1e-6 mm."""
    found = cubic.nearest(kurbopy.Point(x, y), 1e-6)
    return float(found.get_t()), float(found.get_distance_sq())


def part(cubic: Twin, start: float, end: float) -> Numbers:
    """Control points of the stretch between two parameters, exact."""
    piece = cubic.subsegment((start, end))
    return _numbers(piece)


def box(cubic: Twin) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of the curve itself, exact."""
    bounds = cubic.bounding_box()
    return (
        float(bounds.min_x()),
        float(bounds.min_y()),
        float(bounds.max_x()),
        float(bounds.max_y()),
    )


def offset(cubic: Twin, distance: float, accuracy: float) -> list[Numbers]:
    """Parallel curve at `distance` mm to the left of travel, as cubics, within `accuracy`.

    Where the curve is rounder than the distance the result crosses itself; the caller trims.

    Raises:
        GeometryRefused: the kernel gave up or gave no numbers.
    """
    try:
        path = kurbopy.offset_cubic(cubic, distance, max(accuracy, _LEAST_TOLERANCE))
        pieces = [_numbers(segment) for segment in path.segments() if hasattr(segment, "p3")]
    except Exception as problem:
        raise GeometryRefused("A curve could not be offset.") from problem
    except BaseException as panic:
        if type(panic).__name__ != "PanicException":
            raise
        raise GeometryRefused("A curve could not be offset.") from panic
    if not pieces or len(pieces) > _OFFSET_MOST_CUBICS:
        raise GeometryRefused("A curve could not be offset: its handles fold back on themselves.")
    if not math.isfinite(sum(sum(numbers) for numbers in pieces)):
        raise GeometryRefused("A curve could not be offset: it has no length.")
    return pieces


def curvatures(cubic: Twin, samples: int) -> list[float]:
    """Signed curvature (1/mm, left positive) at evenly spaced parameters, both ends included.

    The kernel counts right as positive.
    """
    return [-cubic.curvature(k / (samples - 1)) for k in range(samples)]


def polyline(cubic: Twin, accuracy: float) -> list[tuple[float, float]]:
    """Points on the curve whose chords keep within `accuracy` mm, both ends included."""
    path = cubic.to_path(1e-6)
    points = [(point.x, point.y) for point in path.flatten(max(accuracy, 1e-6))]
    # The kernel may give the end twice, a rounding error apart; that would fold an outline.
    if len(points) > 2 and math.dist(points[-2], points[-1]) < tolerance.LENGTH_MM:
        del points[-2]
    return points


def crossings_with_line(
    cubic: Twin, x0: float, y0: float, x1: float, y1: float
) -> list[tuple[float, float]]:
    """Where a straight stretch crosses the curve: (parameter on the line, on the curve)."""
    segment = cubic.to_path(1e-6).get_seg(1)
    line = kurbopy.Line(kurbopy.Point(x0, y0), kurbopy.Point(x1, y1))
    return [(hit.line_t, hit.segment_t) for hit in segment.intersect_line(line)]


def _numbers(cubic: Twin) -> Numbers:
    p0, p1, p2, p3 = cubic.p0, cubic.p1, cubic.p2, cubic.p3
    return (p0.x, p0.y, p1.x, p1.y, p2.x, p2.y, p3.x, p3.y)
