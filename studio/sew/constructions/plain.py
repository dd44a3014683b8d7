"""A plain seam: two edges sewn face to face, pressed open or to one side."""

from __future__ import annotations

from studio.sew.constructions.construction import Construction, SideName


class Plain(Construction):
    """ISO 4916:1991 class 1, superimposed; widths are common practice, no source."""

    title = "Plain"
    iso_4916 = "class 1"
    astm_d6193 = "SSa"
    words = (
        "Right sides together, notches on each other. Neaten the raw edges that show inside; press "
        "the seam open, or to one side where it crosses a bulky one."
    )

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single and single."""
        return standard, standard
