"""A faced edge: sewn face to face with its facing, turned, and topstitched."""

from __future__ import annotations

from studio.sew.constructions.construction import Construction, Row, SideName

_FROM_EDGE = 6.0
"""A pocket mouth is topstitched about this far from its edge, mm (practice)."""


class Faced(Construction):
    """A plain seam that becomes an edge (common practice, no source)."""

    title = "Faced edge"
    words = (
        "Right sides together; clip the allowances where the line curves, turn the facing to the "
        "inside, and press with the seam a little inside the edge."
    )

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single and single."""
        return standard, standard

    def rows(self, _standard: float, _wraps: SideName) -> tuple[Row, ...]:
        """One on the outer side, which is side a."""
        return (Row("a", _FROM_EDGE),)
