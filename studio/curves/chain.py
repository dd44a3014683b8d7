"""A chain: cubics joined end to end, measured along as one curve."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator

from msgspec.structs import force_setattr

from studio import numbers
from studio.curves import tolerance
from studio.curves.affine import Affine
from studio.curves.box import Box
from studio.curves.cubic import Cubic
from studio.curves.point import Point, Vector
from studio.errors import GeometryRefused
from studio.memo import Made

_NOT_BESIDE = 0.05
"""A point so near to a chain, mm, is judged by the very nearest place."""


class Chain(Made, frozen=True, gc=False, repr_omit_defaults=True):
    """One or more cubics, each starting where the last one ends; distances in mm along it."""

    cubics: tuple[Cubic, ...]
    _starts: tuple[float, ...] | None = None
    _length: float | None = None
    _box: Box | None = None
    _sides: tuple[tuple[float, float, float, float], ...] | None = None

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Chain) and self.cubics == other.cubics

    __hash__ = Made.__hash__  # Lost where equality is one's own.

    @staticmethod
    def of(cubics: Iterable[Cubic]) -> Chain:
        """A chain of cubics that meet within `tolerance.CLOSE_MM`.

        Raises:
            GeometryRefused: there is no cubic, or two neighbours leave a gap.
        """
        given = tuple(cubics)
        if not given:
            raise GeometryRefused("A chain needs at least one curve.")
        for one, two in itertools.pairwise(given):
            if one.p3.distance_to(two.p0) > tolerance.CLOSE_MM:
                gap, at = one.p3.distance_to(two.p0), one.p3
                raise GeometryRefused(
                    f"Two curves of a chain leave a gap of {numbers.short(gap, 6)} mm "
                    f"at ({numbers.plain(at.x, 1)}, {numbers.plain(at.y, 1)}).",
                    exact=(gap,),
                )
        return Chain(given)

    @staticmethod
    def straight(*points: Point) -> Chain:
        """Straight stretches through two or more points."""
        return Chain.of(Cubic.straight(one, two) for one, two in itertools.pairwise(points))

    @property
    def start(self) -> Point:
        """Where it starts."""
        return self.cubics[0].p0

    @property
    def end(self) -> Point:
        """Where it ends."""
        return self.cubics[-1].p3

    @property
    def start_tangent(self) -> Vector:
        """Unit direction of travel at the start."""
        return self.cubics[0].tangent(0.0)

    @property
    def end_tangent(self) -> Vector:
        """Unit direction of travel at the end."""
        return self.cubics[-1].tangent(1.0)

    @property
    def starts(self) -> tuple[float, ...]:
        """Distance along at which each cubic starts, mm."""
        known = self._starts
        if known is None:
            distances, total = [], 0.0
            for cubic in self.cubics:
                distances.append(total)
                total += cubic.length
            known = tuple(distances)
            force_setattr(self, "_starts", known)
        return known

    @property
    def length(self) -> float:
        """Arc length in mm, within 1e-9 a cubic."""
        known = self._length
        if known is None:
            # Not summed one by one: a chain and the same one reversed are equally long to the bit.
            known = math.fsum([cubic.length for cubic in self.cubics])
            force_setattr(self, "_length", known)
        return known

    @property
    def is_straight(self) -> bool:
        """True when the whole chain is one straight stretch."""
        return len(self.cubics) == 1 and self.cubics[0].is_straight

    @property
    def box(self) -> Box:
        """The least upright box, exact."""
        known = self._box
        if known is None:
            known = Box.round_all([cubic.box for cubic in self.cubics])
            force_setattr(self, "_box", known)
        return known

    def curves_near(self, box: Box, gap: float = 0.0) -> list[tuple[int, Cubic]]:
        """Its cubics whose boxes overlap a box or lie within `gap` mm of it, with their indices."""
        left, right = box.left - gap, box.right + gap
        bottom, top = box.bottom - gap, box.top + gap
        return [
            (index, cubic)
            for index, cubic in enumerate(self.cubics)
            if (own := cubic.box).left <= right
            and left <= own.right
            and own.bottom <= top
            and bottom <= own.top
        ]

    def place(self, distance: float) -> tuple[int, float]:
        """Index of the cubic and parameter on it at `distance` mm along, clamped to the ends."""
        if len(self.cubics) == 1:
            return 0, self.cubics[0].parameter_at(distance)
        starts = self.starts
        index = bisect_right(starts, distance, 1) - 1  # Not before the first.
        return index, self.cubics[index].parameter_at(distance - starts[index])

    def distance_at(self, index: int, t: float) -> float:
        """Distance along, mm, of parameter `t` on cubic `index`."""
        return self.starts[index] + self.cubics[index].length_to(t)

    def at(self, distance: float) -> Point:
        """The point at `distance` mm along, within 1e-9."""
        index, t = self.place(distance)
        if t <= 0.0:
            return self.cubics[index].p0
        return self.cubics[index].p3 if t >= 1.0 else self.cubics[index].at(t)

    def tangent(self, distance: float) -> Vector:
        """Unit direction of travel at `distance` mm along; at a corner, of the stretch after."""
        index, t = self.place(distance)
        return self.cubics[index].tangent(t)

    def at_and_along(self, distance: float) -> tuple[Point, Vector]:
        """The point at `distance` mm along and the unit direction of travel there."""
        index, t = self.place(distance)
        cubic = self.cubics[index]
        return cubic.p0 if t <= 0.0 else cubic.p3 if t >= 1.0 else cubic.at(t), cubic.tangent(t)

    def nearest(self, point: Point) -> tuple[float, float]:
        """Distance along of the nearest point, and how far off it lies; both mm, to 1e-9."""
        best_index, best_t, best_gap = 0, 0.0, float("inf")
        for index, cubic in enumerate(self.cubics):
            if not cubic.box.is_near(point, best_gap):
                continue
            t, gap = cubic.nearest(point)
            if gap < best_gap:
                best_index, best_t, best_gap = index, t, gap
        return self.distance_at(best_index, best_t), best_gap

    def side_of(self, point: Point) -> float:
        """How far left of the chain a point lies, negative to the right, mm: judged where the chain
        is nearest, the sign exact, the distance within 1e-3.
        """
        best, best_t, best_gap = self.cubics[0], 0.0, float("inf")
        for cubic in self.cubics:
            if cubic.box.is_near(point, best_gap):
                t, gap = cubic.near(point)
                if gap < best_gap:
                    best, best_t, best_gap = cubic, t, gap
        if best_gap < _NOT_BESIDE:
            best_t, best_gap = best.nearest(point)
        turn = best.tangent(best_t).cross(point - best.at(best_t))
        return best_gap if turn > 0.0 else -best_gap

    def surely_left(self, point: Point) -> bool | None:
        """Whether a point lies left of the chain, or right of it, where that shows at a glance: all
        of the chain turns it the same side, more than `CORNER_MM` off. None where it does not.
        """
        lefts = 0
        for x, y, least, most in self.sides:
            off = x * point.y - y * point.x
            if off > most:
                lefts += 1
            elif off >= least:
                return None
        return lefts > 0 if lefts in (0, len(self.sides)) else None

    @property
    def sides(self) -> tuple[tuple[float, float, float, float], ...]:
        """For every control leg of its cubics: the leg (x and y, mm), and the least and the
        greatest moment about the origin (mm2) of its direction in a place of the cubic, with some
        room. A point whose moment is beyond these for all legs lies on one side of the cubic, for
        every tangent lies between the legs and every place among the control points.
        """
        known = self._sides
        if known is None:
            known = tuple([side for cubic in self.cubics for side in _sides_of(cubic)])
            force_setattr(self, "_sides", known)
        return known

    def distance_of(self, point: Point) -> float:
        """Distance along of a point on the chain, mm; within 1e-6 of a joint that joint's."""
        for start, cubic in zip(self.starts, self.cubics, strict=True):
            at = cubic.p0
            # Few are level with it: the others need not be measured.
            if abs(at.y - point.y) < tolerance.MEET_MM > at.distance_to(point):
                return start
        if self.end.distance_to(point) < tolerance.MEET_MM:
            return self.length
        return self.nearest(point)[0]

    def passes(self, point: Point) -> float | None:
        """Distance along, mm, at which the chain passes a point within `CORNER_MM`; None when it
        does not.
        """
        if not self.box.is_near(point, tolerance.CORNER_MM):
            return None
        along = self.distance_of(point)
        return along if self.at(along).distance_to(point) < tolerance.CORNER_MM else None

    def between(self, start: float, end: float) -> Chain:
        """The stretch from `start` to `end` mm along, within 1e-6 at its ends.

        An end that near a joint of two cubics goes to the joint, so that no sliver is left.

        Raises:
            GeometryRefused: the stretch is empty.
        """
        length = self.length
        start, end = start if start > 0.0 else 0.0, end if end < length else length
        if end - start <= tolerance.NOTHING_MM:
            raise GeometryRefused("A stretch of an edge has no length.")
        starts, last_index = self.starts, len(self.cubics) - 1
        first, t_first = self.place(start)
        last, t_last = self.place(end)
        if first < last_index and starts[first + 1] - start <= tolerance.NOTHING_MM:
            first, t_first = first + 1, 0.0
        elif start - starts[first] <= tolerance.NOTHING_MM:
            t_first = 0.0
        if last > 0 and end - starts[last] <= tolerance.NOTHING_MM:
            last, t_last = last - 1, 1.0
        elif starts[last] + self.cubics[last].length - end <= tolerance.NOTHING_MM:
            t_last = 1.0
        if first == last:
            return Chain((self.cubics[first].part(t_first, t_last),))
        return Chain(
            (
                self.cubics[first].part(t_first, 1.0),
                *self.cubics[first + 1 : last],
                self.cubics[last].part(0.0, t_last),
            )
        )

    def split(self, distance: float) -> tuple[Chain, Chain]:
        """The stretches before and after `distance` mm along; they share one stored point."""
        before, after = self.between(0.0, distance), self.between(distance, self.length)
        return before, after.with_ends(before.end, after.end)

    def reversed(self) -> Chain:
        """The same chain, travelled the other way."""
        return Chain(
            tuple(cubic.reversed() for cubic in reversed(self.cubics)),
            _length=self._length,
            _box=self._box,
        )

    def transformed(self, move: Affine) -> Chain:
        """The chain after a move of the plane, exact."""
        return Chain(tuple(cubic.transformed(move) for cubic in self.cubics))

    def with_ends(self, start: Point, end: Point) -> Chain:
        """The chain with its two ends set to given points, their handles carried along."""
        if start == self.start and end == self.end:
            return self
        if len(self.cubics) == 1:
            return Chain((self.cubics[0].with_ends(start, end),))
        first, last = self.cubics[0], self.cubics[-1]
        return Chain(
            (
                first.with_ends(start, first.p3),
                *self.cubics[1:-1],
                last.with_ends(last.p0, end),
            )
        )

    def prolonged(self, before: float, after: float) -> Chain:
        """The chain with straight stretches so long, mm, along its end directions; none where 0."""
        cubics = list(self.cubics)
        if before > 0.0:
            far = self.start.off(self.start_tangent, -before)
            cubics.insert(0, Cubic.straight(far, self.start))
        if after > 0.0:
            cubics.append(Cubic.straight(self.end, self.end.off(self.end_tangent, after)))
        return Chain(tuple(cubics))

    def then(self, after: Chain) -> Chain:
        """This chain followed by another that starts where it ends; raises GeometryRefused."""
        return Chain.of((*self.cubics, *after.cubics))

    def swept_area(self) -> float:
        """Signed area (mm2) swept by the ray from the origin, exact."""
        total = 0.0
        for cubic in self.cubics:
            total += cubic.swept_area()
        return total

    def polyline(self, accuracy: float = tolerance.FLAT_MM) -> list[tuple[float, float]]:
        """Points on the chain, both ends included, whose chords keep within `accuracy` mm."""
        points = list(self.cubics[0].polyline(accuracy))
        for cubic in self.cubics[1:]:
            points.extend(cubic.polyline(accuracy)[1:])
        return points


def _sides_of(cubic: Cubic) -> Iterator[tuple[float, float, float, float]]:
    x0, y0, x1, y1, x2, y2, x3, y3 = cubic.numbers
    for x, y in cubic.legs[:1] if cubic.is_straight else cubic.legs:
        a, b, c, d = x * y0 - y * x0, x * y1 - y * x1, x * y2 - y * x2, x * y3 - y * x3
        room = tolerance.CORNER_MM * math.hypot(x, y)
        yield x, y, min(a, b, c, d) - room, max(a, b, c, d) + room
