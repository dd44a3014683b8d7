"""A run that meets another square at the end that slides on it.

Row: 100 mm * wrap(atan2(end handle) - atan2(B'(t)) -/+ 90 degrees), directed: the run leaves to
the left of the other's travel, or to the right.
"""

from __future__ import annotations

from studio.constrain.rows import Rows, Tangent
from studio.constrain.sketch import Asked


class Square(Asked, frozen=True):
    """The start of `run`, or its end, meets `other` square, leaving to the left or the right."""

    run: str
    from_end: bool
    other: str
    left: bool = True

    def write(self, rows: Rows) -> None:
        """One angle row, exact; raises BadInput when nothing keeps that end on the other run."""
        slide = rows.slide_where(rows.end_node(self.run, self.from_end), self.other)
        rows.angles(
            [
                rows.end_direction(self.run, self.from_end, 1.0),
                Tangent(-1.0, rows.run(self.other), slide),
            ],
            90.0 if self.left else -90.0,
        )
