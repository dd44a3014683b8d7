"""A bagged edge: two pieces sewn face to face and turned through, as a lined flap is."""

from __future__ import annotations

from studio.sew.constructions.construction import Construction, SideName


class Bagged(Construction):
    """Common practice, no source."""

    title = "Bagged out"
    words = "Trim the two allowances to different widths; press the edge once it is turned."

    def allowances(self, standard: float, _wraps: SideName) -> tuple[float, float]:
        """Single and single."""
        return standard, standard
