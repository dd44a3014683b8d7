"""A turn-up: the leg goes on below its hem, is hemmed, and turned up again on the outside."""

from __future__ import annotations

from studio.sew.constructions.construction import EDGE_STITCH, EdgeFinish

TURN_UP = 40.0
"""How high a turn-up usually stands, mm (practice)."""

TURNED_IN = 30.0
"""What of it is turned in and stitched inside the leg, mm (practice)."""

LEAST_TURNED_IN = 15.0
"""What is turned in by less does not stay, mm (practice)."""


class TurnUp(EdgeFinish):
    """Folded three times: at its own height below the hem, where the cloth goes inwards; at twice
    that, where it comes to lie at the foot of the leg again; and at the hem itself, where all of it
    is turned up outside. The allowance is twice its height and what is turned in.
    """

    title = "Turn-up"
    folds_up = True
    words = (
        "Neaten the raw edge. Fold to the wrong side along the upper of the two lines below the "
        "hem, and press: the lower one now lies on the hem. Stitch what is turned in, inside the "
        "leg. Then turn the foot of the leg up to the right side along the hem, press, and catch "
        "it down with a few stitches at side seam and inseam."
    )

    def __init__(self, high: float = TURN_UP) -> None:
        self.turn_up = high

    def standing(self, turn_up: float | None) -> TurnUp:
        """So high, mm; as is usual with None."""
        return self if turn_up is None else TurnUp(turn_up)

    def allowance(self, _standard: float) -> float:
        """Both layers of it, and what is turned in."""
        return 2.0 * self.turn_up + TURNED_IN

    def least(self, allowance: float) -> float:
        """Both layers, and as much turned in as stays there."""
        return min(2.0 * self.turn_up + LEAST_TURNED_IN, allowance)

    def rows(self, allowance: float) -> tuple[float, ...]:
        """One near the raw edge, above the hem; the turn-up covers it when it stands higher."""
        inside = allowance - 2.0 * self.turn_up
        return (inside - 2.0 * EDGE_STITCH,) if inside > 4.0 * EDGE_STITCH else ()
