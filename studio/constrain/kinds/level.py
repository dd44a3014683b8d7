"""Two points at one height.

Row: b.y - a.y = 0, linear.
"""

from __future__ import annotations

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class Level(Asked, frozen=True):
    """`a` and `b` are level."""

    a: PointRef
    b: PointRef

    def write(self, rows: Rows) -> None:
        """One linear row, exact."""
        rows.linear([(rows.place(self.b), 1j), (rows.place(self.a), -1j)], 0.0)
