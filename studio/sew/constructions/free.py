"""Free edges that are not hems: turned in, faced, or left raw."""

from __future__ import annotations

from studio.sew.constructions.construction import EDGE_STITCH, EdgeFinish
from studio.sew.constructions.hems import TURN_IN


class Turned(EdgeFinish):
    """Turned in twice and stitched, as the top of a patch pocket is."""

    title = "Turned in and stitched"
    words = "Turn the raw edge in, then the rest to the wrong side; press, and stitch the fold."
    iso_4916 = "class 6"

    def allowance(self, standard: float) -> float:
        """The standard one and the turn-in."""
        return standard + TURN_IN

    def rows(self, allowance: float) -> tuple[float, ...]:
        """One along the inner fold."""
        return (allowance - TURN_IN - EDGE_STITCH,) if allowance > TURN_IN + 6.0 else ()


class FacedEdge(EdgeFinish):
    """Finished by a facing that is not a piece of the pattern (common practice, no source)."""

    title = "Faced"
    words = (
        "Join the pieces of the facing, and neaten its free edge. Lay it on right sides together, "
        "sew round the edge, and clip the allowances where it curves; turn it to the inside, press "
        "with the seam a little inside the edge, and catch it down at the seams it crosses."
    )

    def allowance(self, standard: float) -> float:
        """The standard one."""
        return standard


class Caught(EdgeFinish):
    """Lies in a seam of other pieces and is caught in it, as a pocket bag is in the waist."""

    title = "Caught in another seam"

    def allowance(self, standard: float) -> float:
        """The standard one."""
        return standard


class Raw(EdgeFinish):
    """Left as it is cut."""

    title = "Raw"

    def allowance(self, _standard: float) -> float:
        """None."""
        return 0.0
