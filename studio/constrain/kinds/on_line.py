"""A point on a straight line, or beside it.

Row: cross(end - start, point - start) / |end - start| = mm, signed, left of the line positive, so
that the other side is no solution.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class OnLine(Asked, frozen=True):
    """`point` lies `mm` to the left of the line from `start` to `end`."""

    point: PointRef
    start: PointRef
    end: PointRef
    mm: float = 0.0

    @property
    def value(self) -> float:
        """The signed distance, mm."""
        return self.mm

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, mm=value)

    def write(self, rows: Rows) -> None:
        """One signed row, exact."""
        rows.offset_from_line(
            rows.place(self.point), rows.place(self.start), rows.place(self.end), self.mm
        )
