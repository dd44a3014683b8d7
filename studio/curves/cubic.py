"""The one curve primitive: an immutable cubic that knows its length, its box and if it is straight.

A straight edge is a cubic whose handles lie on its chord at the thirds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import msgspec
from msgspec.structs import force_setattr

from studio.curves import kernel, tolerance
from studio.curves.affine import Affine
from studio.curves.box import Box
from studio.curves.point import Point, Vector
from studio.memo import Made

CHORDS = 12
"""Chords a curve is cut into where meetings are sought."""

_SLIGHT = 1e-5
"""Of its length: a curve that bows no more off its chords is straight to the kernel's eye."""

_OFFSETS_KEPT = 4


class Offset(msgspec.Struct, frozen=True, gc=False):
    """A parallel curve as cubics; `folds` when the curve is rounder than the distance somewhere,
    so that the parallel crosses itself.
    """

    cubics: tuple[Cubic, ...]
    folds: bool


class Cubic(Made, frozen=True, eq=False, gc=False, repr_omit_defaults=True):
    """A cubic Bezier curve by its four control points, in mm.

    The underscored fields are memories of what was computed; they never change the curve. No
    value of this room can be part of a cycle, so the garbage collector need not follow them.
    """

    p0: Point
    p1: Point
    p2: Point
    p3: Point
    _twin: Any = None
    _length: float | None = None
    _box: Box | None = None
    _straight: bool | None = None
    _slight: bool | None = None
    _legs: tuple[tuple[float, float], ...] | None = None
    _stations: tuple[Point, ...] | None = None
    _offsets: tuple[tuple[float, Offset], ...] = ()
    _polyline: tuple[float, tuple[tuple[float, float], ...]] | None = None
    _whole: Cubic | None = None

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Cubic)
            and self.p0 == other.p0
            and self.p1 == other.p1
            and self.p2 == other.p2
            and self.p3 == other.p3
        )

    __hash__ = Made.__hash__  # Lost where equality is one's own.

    @staticmethod
    def straight(start: Point, end: Point) -> Cubic:
        """The straight stretch between two points, handles at the thirds."""
        x, y, third_x, third_y = start.x, start.y, (end.x - start.x) / 3.0, (end.y - start.y) / 3.0
        return Cubic(
            start,
            Point(x + third_x, y + third_y),
            Point(x + 2.0 * third_x, y + 2.0 * third_y),
            end,
            _straight=True,
        )

    @property
    def whole(self) -> Cubic:
        """The curve this one was cut from, which it runs along within 1e-6 mm; itself when it was
        not cut.
        """
        return self._whole or self

    @property
    def twin(self) -> kernel.Twin:
        """The kernel's own object for this curve; raises GeometryRefused for NaN or infinity."""
        twin = self._twin
        if twin is None:
            twin = kernel.twin(self.numbers)
            force_setattr(self, "_twin", twin)
        return twin

    @property
    def numbers(self) -> kernel.Numbers:
        """The control points as eight floats."""
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        return (p0.x, p0.y, p1.x, p1.y, p2.x, p2.y, p3.x, p3.y)

    @property
    def legs(self) -> tuple[tuple[float, float], ...]:
        """The steps between the control points, mm: the curve's directions lie between theirs."""
        known = self._legs
        if known is None:
            p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
            known = (
                (p1.x - p0.x, p1.y - p0.y),
                (p2.x - p1.x, p2.y - p1.y),
                (p3.x - p2.x, p3.y - p2.y),
            )
            force_setattr(self, "_legs", known)
        return known

    @property
    def is_straight(self) -> bool:
        """True when both handles lie on the chord at its thirds, within 1e-9 of its length."""
        known = self._straight
        if known is None:
            p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
            third_x, third_y = (p3.x - p0.x) / 3.0, (p3.y - p0.y) / 3.0
            slack = 3e-9 * (abs(third_x) + abs(third_y)) + 1e-12
            # One comparison after the other: most curves fail the first.
            known = (
                abs(p1.x - p0.x - third_x) <= slack < math.inf
                and abs(p1.y - p0.y - third_y) <= slack
                and abs(p3.x - p2.x - third_x) <= slack
                and abs(p3.y - p2.y - third_y) <= slack
            )
            force_setattr(self, "_straight", known)
        return known

    @property
    def is_slight(self) -> bool:
        """True for a curve that runs almost evenly along its chord, as a straight one does.

        The kernel takes curves for parabolas to find what is nearest. Where these are straight but
        for rounding it may give an end of them, however far that lies off.
        """
        known = self._slight
        if known is None:
            bow, far = self.sagitta, self.p0.distance_to(self.p3)
            known = self.is_straight or bow <= _SLIGHT * far < math.inf
            force_setattr(self, "_slight", known)
        return known

    @property
    def length(self) -> float:
        """Arc length in mm, within 1e-9; exact for a straight stretch."""
        known = self._length
        if known is None:
            known = self.p0.distance_to(self.p3) if self.is_straight else kernel.length(self.twin)
            force_setattr(self, "_length", known)
        return known

    @property
    def box(self) -> Box:
        """The least upright box round the curve, exact."""
        known = self._box
        if known is None:
            x0, y0, x1, y1, x2, y2, x3, y3 = self.numbers
            left, right = (x0, x3) if x0 < x3 else (x3, x0)
            bottom, top = (y0, y3) if y0 < y3 else (y3, y0)
            # A curve lies among its control points; where these lie between its ends, so does it.
            if (
                left <= x1 <= right
                and left <= x2 <= right
                and bottom <= y1 <= top
                and bottom <= y2 <= top
            ):
                known = Box(left, bottom, right, top)
            else:
                known = Box(*kernel.box(self.twin))
            force_setattr(self, "_box", known)
        return known

    @property
    def stations(self) -> tuple[Point, ...]:
        """The ends of `CHORDS` chords, evenly spaced in the parameter."""
        known = self._stations
        if known is None:
            inner = (self.at(k / CHORDS) for k in range(1, CHORDS))
            known = (self.p0, *inner, self.p3)
            force_setattr(self, "_stations", known)
        return known

    @property
    def sagitta(self) -> float:
        """How far the curve can bow off a chord between two stations, mm: an upper bound.

        A curve strays from a chord over a parameter step h by at most h^2/8 max|B''|, and
        |B''| is at most six times the larger second difference of the control points.
        """
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        largest = max(
            abs(p0.x - 2.0 * p1.x + p2.x) + abs(p0.y - 2.0 * p1.y + p2.y),
            abs(p1.x - 2.0 * p2.x + p3.x) + abs(p1.y - 2.0 * p2.y + p3.y),
        )
        return 0.75 * largest / (CHORDS * CHORDS)

    def remembered_offset(self, distance: float, make: Callable[[Cubic, float], Offset]) -> Offset:
        """What `make` gives for this curve and a distance; the last few asked for are kept: an edge
        has its cut line, perhaps a second one, and rows of topstitching.
        """
        for known, offset in self._offsets:
            if known == distance:
                return offset
        made = make(self, distance)
        force_setattr(self, "_offsets", ((distance, made), *self._offsets[: _OFFSETS_KEPT - 1]))
        return made

    def at(self, t: float) -> Point:
        """The point at parameter `t` within 0 to 1, exact."""
        u = 1.0 - t
        a, b, c, d = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        return Point(
            a * p0.x + b * p1.x + c * p2.x + d * p3.x, a * p0.y + b * p1.y + c * p2.y + d * p3.y
        )

    def derivative(self, t: float) -> Vector:
        """First derivative by the parameter, mm, exact."""
        u = 1.0 - t
        a, b, c = 3.0 * u * u, 6.0 * u * t, 3.0 * t * t
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        return Vector(
            a * (p1.x - p0.x) + b * (p2.x - p1.x) + c * (p3.x - p2.x),
            a * (p1.y - p0.y) + b * (p2.y - p1.y) + c * (p3.y - p2.y),
        )

    def second_derivative(self, t: float) -> Vector:
        """Second derivative by the parameter, mm, exact."""
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        u = 1.0 - t
        return Vector(
            6.0 * (u * (p2.x - 2.0 * p1.x + p0.x) + t * (p3.x - 2.0 * p2.x + p1.x)),
            6.0 * (u * (p2.y - 2.0 * p1.y + p0.y) + t * (p3.y - 2.0 * p2.y + p1.y)),
        )

    def tangent(self, t: float) -> Vector:
        """Unit direction of travel at `t`; at a zero handle the limit, so it is never zero.

        Raises ZeroDivisionError when the curve is a single point.
        """
        # Most are asked for at an end, where the handle says it.
        if t == 0.0:
            here, ahead = self.p0, self.p1
            x, y = ahead.x - here.x, ahead.y - here.y
        elif t == 1.0:
            here, ahead = self.p2, self.p3
            x, y = ahead.x - here.x, ahead.y - here.y
        else:
            x0, y0, x1, y1, x2, y2, x3, y3 = self.numbers
            u = 1.0 - t
            a, b, c = u * u, 2.0 * u * t, t * t
            x = a * (x1 - x0) + b * (x2 - x1) + c * (x3 - x2)
            y = a * (y1 - y0) + b * (y2 - y1) + c * (y3 - y2)
        size = math.hypot(x, y)
        if size > 1e-9:
            return Vector(x / size, y / size)
        if t < 0.5:
            far = self.p2 if self.p2.distance_to(self.p0) > 1e-9 else self.p3
            return (far - self.p0).unit()
        near = self.p1 if self.p1.distance_to(self.p3) > 1e-9 else self.p0
        return (self.p3 - near).unit()

    def curvature(self, t: float) -> float:
        """Signed curvature in 1/mm, positive when turning left; 0 where the speed is zero."""
        first, second = self.derivative(t), self.second_derivative(t)
        speed = first.length
        return first.cross(second) / (speed * speed * speed) if speed > 1e-12 else 0.0

    def parameter_at(self, distance: float) -> float:
        """Parameter at `distance` mm along from the start, clamped to the curve; to 1e-9 mm."""
        length = self.length
        if distance <= 0.0:
            return 0.0
        if distance >= length:
            return 1.0
        return distance / length if self.is_straight else kernel.parameter_at(self.twin, distance)

    def length_to(self, t: float) -> float:
        """Arc length from the start to parameter `t`, mm, within 1e-9."""
        if t <= 0.0:
            return 0.0
        if t >= 1.0:
            return self.length
        return t * self.length if self.is_straight else kernel.length_to(self.twin, t)

    def near(self, point: Point) -> tuple[float, float]:
        """Parameter of the nearest point and its distance in mm, within 1e-3: several times as
        fast as `nearest`.
        """
        if self.is_straight:
            return self._near_on_chord(point)
        if self.is_slight:
            return self.nearest(point)
        t, squared = kernel.nearest(self.twin, point.x, point.y)
        return t, math.sqrt(squared)

    def _near_on_chord(self, point: Point) -> tuple[float, float]:
        """Parameter of the nearest point of the chord, run through evenly, and its distance."""
        start, x, y = self.p0, self.p3.x - self.p0.x, self.p3.y - self.p0.y
        square = x * x + y * y
        along = (point.x - start.x) * x + (point.y - start.y) * y
        t = min(1.0, max(0.0, along / square)) if square else 0.0
        return t, math.hypot(start.x + t * x - point.x, start.y + t * y - point.y)

    def nearest(self, point: Point) -> tuple[float, float]:
        """Parameter of the nearest point and its distance in mm, polished by Newton to 1e-9."""
        if self.is_slight:
            t, _ = self._near_on_chord(point)
        else:
            t, _ = kernel.nearest(self.twin, point.x, point.y)
        for _ in range(6):
            gap = self.at(t) - point
            first, second = self.derivative(t), self.second_derivative(t)
            slope = first.dot(first) + gap.dot(second)
            if slope <= 1e-3 * first.dot(first):
                t = self._searched(point, t)
                break
            step = gap.dot(first) / slope
            t = min(1.0, max(0.0, t - step))
            if abs(step) < 1e-14:
                break
        return t, self.at(t).distance_to(point)

    def _searched(self, point: Point, about: float) -> float:
        """The nearest parameter within a hundredth of one, by ternary search: for places near a
        cusp or a centre of curvature, where Newton has nothing to hold on to.
        """
        low, high = max(0.0, about - 0.01), min(1.0, about + 0.01)
        for _ in range(80):
            one, two = low + (high - low) / 3.0, high - (high - low) / 3.0
            if self.at(one).distance_to(point) < self.at(two).distance_to(point):
                high = two
            else:
                low = one
        return (low + high) / 2.0

    def part(self, start: float, end: float) -> Cubic:
        """The stretch between two parameters, exact; ends that are 0 or 1 keep their point."""
        if start <= 0.0 and end >= 1.0:
            return self
        if self.is_straight:
            cut = Cubic.straight(
                self.p0 if start <= 0.0 else self.at(start), self.p3 if end >= 1.0 else self.at(end)
            )
            force_setattr(cut, "_whole", self)
            return cut
        x0, y0, x1, y1, x2, y2, x3, y3 = kernel.part(self.twin, start, end)
        return Cubic(
            self.p0 if start <= 0.0 else Point(x0, y0),
            Point(x1, y1),
            Point(x2, y2),
            self.p3 if end >= 1.0 else Point(x3, y3),
            _whole=self,
        )

    def reversed(self) -> Cubic:
        """The same curve, travelled the other way."""
        return Cubic(
            self.p3,
            self.p2,
            self.p1,
            self.p0,
            _length=self._length,
            _box=self._box,
            _straight=self._straight,
        )

    def transformed(self, move: Affine) -> Cubic:
        """The curve after a move of the plane, exact."""
        return Cubic(move(self.p0), move(self.p1), move(self.p2), move(self.p3))

    def with_ends(self, start: Point, end: Point) -> Cubic:
        """The curve with its ends set to given points, handles carried along with their end."""
        if start == self.p0 and end == self.p3:
            return self
        if self.is_straight:
            moved = Cubic.straight(start, end)
        else:
            moved = Cubic(start, self.p1 + (start - self.p0), self.p2 + (end - self.p3), end)
        far = max(start.distance_to(self.p0), end.distance_to(self.p3))
        if self._whole is not None and far <= tolerance.MEET_MM:
            force_setattr(moved, "_whole", self._whole)
        return moved

    def swept_area(self) -> float:
        """Signed area (mm2) swept by the ray from the origin, exact; summed, an outline's area."""
        p0, p1, p2, p3 = self.p0, self.p1, self.p2, self.p3
        return (
            6.0 * (p0.x * p1.y - p0.y * p1.x)
            + 3.0 * (p0.x * p2.y - p0.y * p2.x)
            + (p0.x * p3.y - p0.y * p3.x)
            + 3.0 * (p1.x * p2.y - p1.y * p2.x)
            + 3.0 * (p1.x * p3.y - p1.y * p3.x)
            + 6.0 * (p2.x * p3.y - p2.y * p3.x)
        ) / 20.0

    def polyline(self, accuracy: float = tolerance.FLAT_MM) -> Sequence[tuple[float, float]]:
        """Points on the curve, both ends included, whose chords keep within `accuracy` mm."""
        if self.is_straight:
            return [(self.p0.x, self.p0.y), (self.p3.x, self.p3.y)]
        known = self._polyline
        if known is None or known[0] != accuracy:
            known = accuracy, tuple(kernel.polyline(self.twin, accuracy))
            force_setattr(self, "_polyline", known)
        return known[1]
