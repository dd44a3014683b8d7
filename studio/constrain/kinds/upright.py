"""Two points one above the other.

Row: b.x - a.x = 0, linear.
"""

from __future__ import annotations

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class Upright(Asked, frozen=True):
    """`a` and `b` are plumb."""

    a: PointRef
    b: PointRef

    def write(self, rows: Rows) -> None:
        """One linear row, exact."""
        rows.linear([(rows.place(self.b), 1.0 + 0j), (rows.place(self.a), -1.0 + 0j)], 0.0)
