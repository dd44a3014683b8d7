"""Hems: the edge turned up once or twice and stitched."""

from __future__ import annotations

from studio.sew.constructions.construction import EDGE_STITCH, EdgeFinish

HEM_DEPTH = 40.0
"""A plain hem of trousers, mm (practice)."""

TURN_IN = 10.0
"""What of a hem is turned in to hide the raw edge, mm (practice)."""

LEAST_HEM = 15.0
"""A hem turned up by less does not stay up, mm (practice)."""


class Hem(EdgeFinish):
    """Turned up once over a neatened edge; the allowance is its depth."""

    title = "Hem, turned once"
    words = "Neaten the raw edge, turn the allowance to the wrong side, press, and stitch."
    iso_4916 = "class 6"
    astm_d6193 = "EFa"
    folds_up = True

    def allowance(self, _standard: float) -> float:
        """The usual depth."""
        return HEM_DEPTH

    def least(self, allowance: float) -> float:
        """A shallow hem."""
        return min(LEAST_HEM, allowance)

    def rows(self, allowance: float) -> tuple[float, ...]:
        """One near the upper end."""
        return (allowance - 2.0 * EDGE_STITCH,) if allowance > 4.0 * EDGE_STITCH else ()


class DoubleHem(EdgeFinish):
    """Turned up twice; the allowance is its depth and the turn-in."""

    title = "Hem, turned twice"
    words = "Turn the raw edge in first, then the hem to the wrong side; press, and stitch."
    iso_4916 = "class 6"
    astm_d6193 = "EFb"
    folds_up = True

    def allowance(self, _standard: float) -> float:
        """A depth of 20 and the turn-in: nothing raw, and not bulky."""
        return 20.0 + TURN_IN

    def least(self, allowance: float) -> float:
        """As much turned in as turned up."""
        return min(2.0 * TURN_IN, allowance)

    def rows(self, allowance: float) -> tuple[float, ...]:
        """One along the inner fold."""
        depth = allowance - TURN_IN
        return (depth - EDGE_STITCH,) if depth > 2.0 * EDGE_STITCH else ()
