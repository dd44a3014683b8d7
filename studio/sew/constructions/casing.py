"""A casing: turned in wide enough for an elastic or a cord."""

from __future__ import annotations

from studio.sew.constructions.construction import EDGE_STITCH, EdgeFinish
from studio.sew.constructions.hems import TURN_IN


class Casing(EdgeFinish):
    """Turned twice like a hem; the allowance is the band's width, its room and the turn-in."""

    title = "Casing"
    words = "Leave a gap in the inner row, draw elastic or cord in, and close the gap."
    folds_up = True

    def allowance(self, _standard: float) -> float:
        """For a band 40 wide with 5 of room (practice)."""
        return 40.0 + 5.0 + TURN_IN

    def least(self, allowance: float) -> float:
        """All of it: the band must pass."""
        return allowance

    def rows(self, allowance: float) -> tuple[float, ...]:
        """One along the upper fold and one along the inner one, the band between them."""
        return (EDGE_STITCH, allowance - TURN_IN - EDGE_STITCH)
