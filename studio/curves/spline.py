"""Smooth cubics through given points: the curves a maker draws with a french curve."""

from __future__ import annotations

from collections.abc import Sequence

from studio.curves.cubic import Cubic
from studio.curves.point import Point, Vector


def through(
    points: Sequence[Point],
    start_direction: Vector | None = None,
    end_direction: Vector | None = None,
) -> tuple[Cubic, ...]:
    """A smooth curve through two or more points, one cubic a stretch.

    Directions inside are those of the circle through each point and its neighbours; a free end
    mirrors its neighbour's direction about the chord. Handles are those of a circular arc, so
    points on a circle give that circle within 3 in 10 000 of its radius at a quarter turn, and
    two points without directions give a straight stretch.
    """
    count = len(points)
    if count == 2 and start_direction is None and end_direction is None:
        return (Cubic.straight(points[0], points[1]),)
    inner = [
        _circle_direction(points[i - 1], points[i], points[i + 1]) for i in range(1, count - 1)
    ]
    first = start_direction or _mirrored(points[0], points[1], inner[0] if inner else end_direction)
    last = end_direction or _mirrored(points[-2], points[-1], inner[-1] if inner else first)
    directions = [first.unit(), *inner, last.unit()]
    return tuple(
        between(points[i], directions[i], points[i + 1], directions[i + 1])
        for i in range(count - 1)
    )


def between(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    """One cubic from a point to another with given unit directions, handles as on an arc."""
    chord = end - start
    length = chord.length
    return Cubic(
        start,
        start + leaving * _arc_handle(chord, length, leaving),
        end + arriving * -_arc_handle(chord, length, arriving),
        end,
    )


def _arc_handle(chord: Vector, length: float, direction: Vector) -> float:
    """4/3 tan(a/2) r for an arc that turns 2a, written by its chord: 2/3 chord / (1 + cos a)."""
    cosine = chord.dot(direction) / length
    return 2.0 / 3.0 * length / (1.0 + max(0.0, cosine))


def _circle_direction(before: Point, here: Point, after: Point) -> Vector:
    one, two = here - before, after - here
    length_one, length_two = one.length, two.length
    mixed = one * (length_two / length_one) + two * (length_one / length_two)
    return mixed.unit() if mixed.length > 1e-9 else (after - before).unit()


def _mirrored(start: Point, end: Point, direction: Vector | None) -> Vector:
    chord = (end - start).unit()
    if direction is None:
        return chord
    return chord * (2.0 * chord.dot(direction)) - direction
