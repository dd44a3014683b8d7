"""A point that slides along a run, across the joints of its cubics.

Rows: B(t) - point = 0, x and y, with the slide parameter t a further unknown; dB/dP_i is the
Bernstein weight of control point i, dB/dt the derivative.
"""

from __future__ import annotations

from typing import ClassVar

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked, PointRef


class OnRun(Asked, frozen=True):
    """`point` lies on the run named `run`."""

    point: PointRef
    run: str

    slides: ClassVar[bool] = True

    def write(self, rows: Rows) -> None:
        """Two rows and one slide, exact."""
        rows.on_run(rows.place(self.point), rows.own_slide(self))
