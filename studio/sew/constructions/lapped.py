"""A lapped edge, topstitched: the upper side is turned under and laid on a line of the other."""

from __future__ import annotations

from studio.sew.constructions.construction import (
    EDGE_STITCH,
    LEAST,
    Construction,
    Row,
    SideName,
)


class Lapped(Construction):
    """ISO 4916:1991 class 2; widths are common practice, no source."""

    title = "Lapped and topstitched"
    iso_4916 = "class 2"
    is_notched = False
    words = (
        "Turn the allowances of the first piece to its wrong side and press, corners folded flat. "
        "Lay it, right side up, on the drilled line of the second, baste, and stitch along its "
        "edge from the right side; secure both ends of the stitching at an open mouth, to and fro."
    )

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single, turned under, on side a; none on side b, which is a line on its piece."""
        return standard, 0.0

    def least(self, _standard: float, _wraps: SideName) -> tuple[float, float]:
        """Side a is turned under (practice)."""
        return LEAST, 0.0

    def rows(self, _standard: float, _wraps: SideName) -> tuple[Row, ...]:
        """One along the edge."""
        return (Row("a", EDGE_STITCH),)
