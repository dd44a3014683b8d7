"""A node without a corner.

Row: 100 mm * wrap(atan2(handle out) - atan2(handle in) - 180 degrees). A missing handle is the
straight stretch on that side.
"""

from __future__ import annotations

from studio.constrain.rows import Rows
from studio.constrain.sketch import Asked


class Smooth(Asked, frozen=True):
    """The run passes `node` without a corner; its handles keep their own lengths."""

    node: int

    def write(self, rows: Rows) -> None:
        """One angle row, exact; raises BadInput when a side has no direction."""
        rows.angles(
            [
                rows.handle_direction(self.node, "out", 1.0),
                rows.handle_direction(self.node, "in", -1.0),
            ],
            180.0,
        )
