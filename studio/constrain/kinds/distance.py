"""Two points a given way apart.

Row: |b - a| = mm. Its gradient is the unit vector from a to b, at b, and the opposite at a.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef
from studio.errors import BadInput


class Distance(Asked, frozen=True):
    """`a` and `b` are `mm` apart."""

    a: PointRef
    b: PointRef
    mm: float

    @property
    def value(self) -> float:
        """The distance, mm."""
        return self.mm

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, mm=value)

    def write(self, rows: Rows) -> None:
        """One distance row, exact."""
        if self.mm < 0.0:
            raise BadInput("A distance can not be below zero.")
        rows.distance(rows.place(self.a), rows.place(self.b), self.mm)
