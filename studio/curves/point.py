"""Places and directions on the pattern plane: millimetres, y up (up the grain)."""

from __future__ import annotations

import math

import msgspec


class Vector(msgspec.Struct, frozen=True, gc=False, array_like=True):
    """A step on the plane, in mm; a direction when its length is one."""

    x: float
    y: float

    def __add__(self, other: Vector) -> Vector:
        return Vector(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Vector:
        return Vector(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __neg__(self) -> Vector:
        return Vector(-self.x, -self.y)

    @property
    def length(self) -> float:
        """Length in mm, exact."""
        return math.hypot(self.x, self.y)

    @property
    def angle(self) -> float:
        """Direction in degrees, counter-clockwise from +x, within -180 to 180."""
        return math.degrees(math.atan2(self.y, self.x))

    def dot(self, other: Vector) -> float:
        """Scalar product, mm2."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Vector) -> float:
        """Signed area of the parallelogram, mm2; positive when `other` lies to the left."""
        return self.x * other.y - self.y * other.x

    def unit(self) -> Vector:
        """The same direction with length one; raises ZeroDivisionError for no direction."""
        size = math.hypot(self.x, self.y)
        return Vector(self.x / size, self.y / size)

    def left(self) -> Vector:
        """Turned a quarter counter-clockwise."""
        return Vector(-self.y, self.x)

    def right(self) -> Vector:
        """Turned a quarter clockwise: outward, for the tangent of an outline."""
        return Vector(self.y, -self.x)

    def turned(self, degrees: float) -> Vector:
        """Turned counter-clockwise by `degrees`."""
        cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
        return Vector(self.x * cosine - self.y * sine, self.x * sine + self.y * cosine)

    @staticmethod
    def at_angle(degrees: float) -> Vector:
        """Unit vector at `degrees` counter-clockwise from +x."""
        return Vector(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))


class Point(msgspec.Struct, frozen=True, gc=False, array_like=True):
    """A place on the plane, in mm."""

    x: float
    y: float

    def __add__(self, step: Vector) -> Point:
        return Point(self.x + step.x, self.y + step.y)

    def __sub__(self, other: Point) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def distance_to(self, other: Point) -> float:
        """Straight distance in mm, exact."""
        return math.hypot(self.x - other.x, self.y - other.y)

    def off(self, direction: Vector, distance: float) -> Point:
        """The point `distance` mm off in a direction (a vector of length one)."""
        return Point(self.x + direction.x * distance, self.y + direction.y * distance)

    def toward(self, other: Point, share: float) -> Point:
        """The point `share` of the way to `other` (0 here, 1 there)."""
        return Point(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)


UP = Vector(0.0, 1.0)
"""The grain."""


def turn_between(first: Vector, second: Vector) -> float:
    """Signed angle in degrees from `first` to `second`, within -180 to 180, left positive."""
    return math.degrees(math.atan2(first.cross(second), first.dot(second)))
