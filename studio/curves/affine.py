"""Moves of the plane that keep shape: shift, turn, mirror; and scale for paper and shrinkage."""

from __future__ import annotations

import math

import msgspec

from studio.curves.point import Point, Vector


class Affine(msgspec.Struct, frozen=True, gc=False):
    """x' = xx*x + xy*y + dx, y' = yx*x + yy*y + dy; dx and dy in mm."""

    xx: float = 1.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    dx: float = 0.0
    dy: float = 0.0

    def __call__(self, point: Point) -> Point:
        """Where a point goes."""
        return Point(
            self.xx * point.x + self.xy * point.y + self.dx,
            self.yx * point.x + self.yy * point.y + self.dy,
        )

    def vector(self, vector: Vector) -> Vector:
        """The same move applied to a direction."""
        return Vector(
            self.xx * vector.x + self.xy * vector.y, self.yx * vector.x + self.yy * vector.y
        )

    @property
    def flips(self) -> bool:
        """True when the move turns left into right."""
        return self.xx * self.yy - self.xy * self.yx < 0.0

    def then(self, after: Affine) -> Affine:
        """This move, followed by `after`."""
        return Affine(
            after.xx * self.xx + after.xy * self.yx,
            after.xx * self.xy + after.xy * self.yy,
            after.yx * self.xx + after.yy * self.yx,
            after.yx * self.xy + after.yy * self.yy,
            after.xx * self.dx + after.xy * self.dy + after.dx,
            after.yx * self.dx + after.yy * self.dy + after.dy,
        )

    def inverse(self) -> Affine:
        """The move that undoes this one; raises ZeroDivisionError when it flattens the plane."""
        area = self.xx * self.yy - self.xy * self.yx
        xx, xy, yx, yy = self.yy / area, -self.xy / area, -self.yx / area, self.xx / area
        return Affine(
            xx, xy, yx, yy, -(xx * self.dx + xy * self.dy), -(yx * self.dx + yy * self.dy)
        )

    @staticmethod
    def frame(origin: Point, x_axis: Vector) -> Affine:
        """Takes (1, 0) to `x_axis` and (0, 1) to its left, from `origin`: the frame of a chord."""
        return Affine(x_axis.x, -x_axis.y, x_axis.y, x_axis.x, origin.x, origin.y)

    @staticmethod
    def shift(step: Vector) -> Affine:
        """Move by `step` mm."""
        return Affine(dx=step.x, dy=step.y)

    @staticmethod
    def turn(degrees: float, about: Point) -> Affine:
        """Turn counter-clockwise by `degrees` about a point."""
        cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        return Affine(
            cosine,
            -sine,
            sine,
            cosine,
            about.x - cosine * about.x + sine * about.y,
            about.y - sine * about.x - cosine * about.y,
        )

    @staticmethod
    def scale(factor: float, factor_y: float | None = None) -> Affine:
        """Scale about the origin, by `factor_y` along y when given."""
        return Affine(xx=factor, yy=factor if factor_y is None else factor_y)

    @staticmethod
    def mirror_x(x: float = 0.0) -> Affine:
        """Mirror left and right about the upright line at `x`."""
        return Affine(xx=-1.0, dx=2.0 * x)

    @staticmethod
    def mirror(start: Point, end: Point) -> Affine:
        """Mirror about the line through two points that are not one."""
        along = (end - start).unit()
        xx = along.x * along.x - along.y * along.y
        xy = 2.0 * along.x * along.y
        return Affine(
            xx,
            xy,
            xy,
            -xx,
            start.x - xx * start.x - xy * start.y,
            start.y - xy * start.x + xx * start.y,
        )
