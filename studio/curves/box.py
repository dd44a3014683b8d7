"""An upright rectangle: what a curve lies within, and what is near at hand."""

from __future__ import annotations

import math
from collections.abc import Sequence

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

    @staticmethod
    def round_all(boxes: Sequence[Box]) -> Box:
        """The least box that holds all of some, one at least."""
        if len(boxes) == 1:
            return boxes[0]
        left, bottom, right, top = math.inf, math.inf, -math.inf, -math.inf
        for box in boxes:
            if box.left < left:
                left = box.left
            if box.bottom < bottom:
                bottom = box.bottom
            if box.right > right:
                right = box.right
            if box.top > top:
                top = box.top
        return Box(left, bottom, right, top)

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
