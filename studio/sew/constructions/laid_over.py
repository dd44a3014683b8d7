"""The free edge of an inner layer, laid over a seam sewn before and caught from outside."""

from __future__ import annotations

from studio.sew.constructions.construction import (
    EDGE_STITCH,
    LEAST,
    Construction,
    Row,
    SideName,
)

BELOW_SEAM = 2.0
"""The fold lies so far beyond the seam it covers, mm, or the stitching would miss it (practice)."""

LONGER = 10.0
"""A bound edge hangs so far beyond the seam it covers, mm (practice)."""


class LaidOver(Construction):
    """The edge of a facing turned under, as that of a waistband is (common practice, no source).

    Side b is the seam's own edge: what it is cut with is for that seam to say.
    """

    title = "Turned under, over a seam"
    is_notched = False
    lies_over = True
    words = (
        "Turn the edge of the inner layer under so that its fold lies a little beyond the seam and "
        "covers it, baste it, and stitch from the outside so that the fold is caught."
    )

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single on side a; side b brings its own."""
        return standard, 0.0

    def least(self, _standard: float, _wraps: SideName) -> tuple[float, float]:
        """Enough to cover the seam and to turn under."""
        return LEAST + BELOW_SEAM, 0.0

    def rows(self, _standard: float, _wraps: SideName) -> tuple[Row, ...]:
        """One along the seam, on the outer layer."""
        return (Row("b", EDGE_STITCH),)


class BoundOver(Construction):
    """The same edge bound and left longer: less thick (common practice, no source)."""

    title = "Bound, over a seam"
    is_notched = False
    lies_over = True
    words = (
        "Bind or overlock the edge of the inner layer, let it hang flat over the seam, baste it, "
        "and stitch from the outside so that it is caught."
    )

    def allowances(self, _standard: float, _wraps: SideName) -> tuple[float, float]:
        """What hangs beyond the seam on side a; side b brings its own."""
        return LONGER, 0.0

    def least(self, _standard: float, _wraps: SideName) -> tuple[float, float]:
        """As any seam."""
        return LEAST, 0.0

    def rows(self, _standard: float, _wraps: SideName) -> tuple[Row, ...]:
        """One in the ditch of the seam."""
        return (Row("b", 0.0),)
