"""The direction of a line, against the x axis or against another line.

Row: 100 mm * wrap(atan2(b - a) - atan2(d - c) - degrees). Directed, so that the line turned about
is no solution. d atan2(v) = cross(v, dv) / |v|^2.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Between, Rows, Tangent
from studio.constrain.sketch import Asked, PointRef
from studio.errors import BadInput


class Angle(Asked, frozen=True):
    """From +x, or from the direction `c` to `d`, counter-clockwise to `a` to `b`: `degrees`."""

    a: PointRef
    b: PointRef
    c: PointRef | None = None
    d: PointRef | None = None
    degrees: float = 0.0

    @property
    def value(self) -> float:
        """The angle, degrees."""
        return self.degrees

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, degrees=value)

    def write(self, rows: Rows) -> None:
        """One angle row, exact; raises BadInput when only one of `c` and `d` is given."""
        terms: list[Between | Tangent] = [Between(1.0, rows.place(self.a), rows.place(self.b))]
        if self.c is not None and self.d is not None:
            terms.append(Between(-1.0, rows.place(self.c), rows.place(self.d)))
        elif self.c is not None or self.d is not None:
            raise BadInput("An angle needs both points of the other line.")
        rows.angles(terms, self.degrees)
