"""Two points that are each other's image in a line.

Rows, with u the unit vector of the line and m the middle of a and b: (a - b) . u = 0, the pair
stands square to the line; cross(u, m - c) = 0, its middle lies on the line.
"""

from __future__ import annotations

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class Mirror(Asked, frozen=True):
    """`a` and `b` mirror each other about the line `c` to `d`."""

    a: PointRef
    b: PointRef
    c: PointRef
    d: PointRef

    def write(self, rows: Rows) -> None:
        """Two rows, exact."""
        rows.mirror(rows.place(self.a), rows.place(self.b), rows.place(self.c), rows.place(self.d))
