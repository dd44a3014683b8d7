"""Two corners that add up, so that a seam runs on across another seam.

A corner is turned from the travel of the run it lies on to the run that leaves from it. Row:
100 mm * wrap(corner + corner - degrees), each corner atan2(end handle) - atan2(B'(t)), with its
sign turned when it is measured clockwise and half a turn added when the travel is read backwards.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Between, Rows, Tangent
from studio.constrain.sketch import Asked


class Corner(msgspec.Struct, frozen=True):
    """From `other` (read backwards if so) to the end of `run` on it, counter-clockwise or not."""

    run: str
    from_end: bool
    other: str
    clockwise: bool = False
    backwards: bool = False

    def terms(self, rows: Rows) -> tuple[list[Between | Tangent], float]:
        """Its directions, and the degrees to be added; raises BadInput when it lies on nothing."""
        sign = -1.0 if self.clockwise else 1.0
        slide = rows.slide_where(rows.end_node(self.run, self.from_end), self.other)
        return [
            rows.end_direction(self.run, self.from_end, sign),
            Tangent(-sign, rows.run(self.other), slide),
        ], 180.0 if self.backwards else 0.0


class CornerSum(Asked, frozen=True):
    """The corners `one` and `two` add up to `degrees`."""

    one: Corner
    two: Corner
    degrees: float = 180.0

    @property
    def value(self) -> float:
        """The sum, degrees."""
        return self.degrees

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, degrees=value)

    def write(self, rows: Rows) -> None:
        """One angle row, exact."""
        one, first = self.one.terms(rows)
        two, second = self.two.terms(rows)
        rows.angles([*one, *two], self.degrees - first - second)
