"""A point stands at a given place.

Rows: x = at.x and y = at.y, linear.
"""

from __future__ import annotations

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef
from studio.curves import Point


class Fixed(Asked, frozen=True):
    """`point` stands at `at`, mm."""

    point: PointRef
    at: Point

    def write(self, rows: Rows) -> None:
        """Two linear rows, exact."""
        place = rows.place(self.point)
        rows.linear([(place, 1.0 + 0j)], self.at.x)
        rows.linear([(place, 1j)], self.at.y)
