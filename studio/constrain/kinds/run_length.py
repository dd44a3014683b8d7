"""A run of a given length.

Row: sum of the arc lengths of its cubics = mm; ds/dP_i is the integral of the unit tangent times
b_i', by 16 Gauss points.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Along, Rows
from studio.constrain.sketch import Asked


class RunLength(Asked, frozen=True):
    """`run` is `mm` long."""

    run: str
    mm: float

    @property
    def value(self) -> float:
        """The length, mm."""
        return self.mm

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, mm=value)

    def write(self, rows: Rows) -> None:
        """One length row, within 1e-9 mm after a solve, 1e-4 in a drag."""
        rows.lengths([Along(1.0, rows.run(self.run))], self.mm)
