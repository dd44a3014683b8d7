"""A line beside another.

Rows: the signed distance of a, and of b, from the line c to d is mm. Two equal signed distances
make the lines parallel, and the sign keeps the side.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class Parallel(Asked, frozen=True):
    """The line `a` to `b` runs `mm` to the left of the line `c` to `d`."""

    a: PointRef
    b: PointRef
    c: PointRef
    d: PointRef
    mm: float

    @property
    def value(self) -> float:
        """The signed distance, mm."""
        return self.mm

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, mm=value)

    def write(self, rows: Rows) -> None:
        """Two signed rows, exact."""
        start, end = rows.place(self.c), rows.place(self.d)
        rows.offset_from_line(rows.place(self.a), start, end, self.mm)
        rows.offset_from_line(rows.place(self.b), start, end, self.mm)
