"""An upright rectangle: what a curve lies within, and what is near at hand."""

from __future__ import annotations

import msgspec

from studio.curves.point import Point, Vector


class Box(msgspec.Struct, frozen=True, gc=False):
    """An upright rectangle, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width in mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height in mm."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """The middle."""
        return Point((self.left + self.right) / 2.0, (self.bottom + self.top) / 2.0)

    def with_(self, other: Box) -> Box:
        """The least box that holds both."""
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def moved(self, by: Vector) -> Box:
        """The box after a shift."""
        return Box(self.left + by.x, self.bottom + by.y, self.right + by.x, self.top + by.y)

    def is_near(self, point: Point, reach: float) -> bool:
        """True when a point lies in the box or within `reach` mm of it, measured upright."""
        return (
            self.left - reach <= point.x <= self.right + reach
            and self.bottom - reach <= point.y <= self.top + reach
        )

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """True when the boxes overlap or lie within `gap` mm of each other."""
        return (
            self.left <= other.right + gap
            and other.left <= self.right + gap
            and self.bottom <= other.top + gap
            and other.bottom <= self.top + gap
        )
