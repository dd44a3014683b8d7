"""A point on a run, so far from one of its ends.

Rows: B(t) - point = 0, and with s(t) the arc length from the start and L the whole:
s(t) = mm from the start; L - s(t) = mm from the end; the same with share * L for mm.
ds/dt = |B'(t)|; the gradient of a length is the integral of the unit tangent times b_i'.
"""

from __future__ import annotations

from typing import ClassVar, Self

import msgspec

from studio.constrain.rows import Along, Rows
from studio.constrain.sketch import Asked, PointRef
from studio.errors import BadInput


class FromEnd(Asked, frozen=True):
    """`point` lies on `run`, `mm` or a `share` of its length from the start, or from the end."""

    point: PointRef
    run: str
    from_end: bool = False
    mm: float | None = None
    share: float | None = None

    slides: ClassVar[bool] = True

    @property
    def value(self) -> float:
        """The distance in mm, or the share (0 to 1)."""
        return (self.mm if self.mm is not None else self.share) or 0.0

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        if self.mm is not None:
            return msgspec.structs.replace(self, mm=value)
        return msgspec.structs.replace(self, share=value)

    def write(self, rows: Rows) -> None:
        """Three rows and one slide; lengths by 16 Gauss points a cubic, put right at the end.

        Raises:
            BadInput: not exactly one of `mm` and `share` is given.
        """
        if (self.mm is None) == (self.share is None):
            raise BadInput("Give either a distance in mm or a share of the length.")
        slide, run = rows.own_slide(self), rows.run(self.run)
        rows.on_run(rows.place(self.point), slide)
        whole = (1.0 if self.from_end else 0.0) - (self.share or 0.0)
        terms = [Along(-1.0 if self.from_end else 1.0, run, slide)]
        if whole:
            terms.append(Along(whole, run))
        rows.lengths(terms, self.mm or 0.0)
