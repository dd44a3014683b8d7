"""A run as long as another, with ease.

Row: length of run - length of other = ease.
"""

from __future__ import annotations

from typing import Self

import msgspec

from studio.constrain.rows import Along, Rows
from studio.constrain.sketch import Asked


class SameLength(Asked, frozen=True):
    """`run` is `ease` mm longer than `other`."""

    run: str
    other: str
    ease: float = 0.0

    @property
    def value(self) -> float:
        """The ease, mm."""
        return self.ease

    def with_value(self, value: float) -> Self:
        """The same with another number."""
        return msgspec.structs.replace(self, ease=value)

    def write(self, rows: Rows) -> None:
        """One length row, within 1e-9 mm after a solve, 1e-4 in a drag."""
        rows.lengths([Along(1.0, rows.run(self.run)), Along(-1.0, rows.run(self.other))], self.ease)
