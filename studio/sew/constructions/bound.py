"""A bound edge: a strip wraps the raw edge, which needs no allowance."""

from __future__ import annotations

from studio.sew.constructions.construction import Construction, EdgeFinish, SideName


class BoundEdge(EdgeFinish):
    """ISO 4916:1991 class 3; common practice, no source, that it takes no allowance."""

    title = "Bound"
    words = "Fold the binding round the raw edge, its own edges turned in, and stitch through all."
    iso_4916 = "class 3"
    astm_d6193 = "BS"

    def allowance(self, _standard: float) -> float:
        """None."""
        return 0.0


class BoundSeam(Construction):
    """Two edges sewn together and bound as one inside, single and single."""

    title = "Plain, edges bound"
    words = (
        "Right sides together. Press both allowances to one side as one, trim them until the "
        "binding covers them, fold it round both raw edges, its own edges turned in, and stitch "
        "it down through all."
    )
    iso_4916 = "class 3"
    astm_d6193 = "BS"

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single and single."""
        return standard, standard
