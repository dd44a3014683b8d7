"""A flat-felled seam: one allowance wraps the other and is stitched down, nothing raw is left."""

from __future__ import annotations

from studio.sew.constructions.construction import (
    EDGE_STITCH,
    LEAST,
    Construction,
    Row,
    SideName,
)


class Felled(Construction):
    """ISO 4916:1991 class 2, lapped; LSc of ASTM D6193; widths are common practice, no source."""

    title = "Flat-felled"
    iso_4916 = "class 2"
    astm_d6193 = "LSc"
    chooses_wrap = True
    words = (
        "Right sides together, the sewing lines and not the edges on each other. Press both "
        "allowances to the side of the single one, fold the double one round it so that nothing "
        "raw shows, and stitch the fold down."
    )

    def allowances(self, standard: float, wraps: SideName) -> tuple[float, float]:
        """Double where it wraps, single where it is wrapped."""
        return (2.0 * standard, standard) if wraps == "a" else (standard, 2.0 * standard)

    def least(self, standard: float, wraps: SideName) -> tuple[float, float]:
        """The wrapping side reaches round the single one and is turned under (practice)."""
        return (standard + LEAST, LEAST) if wraps == "a" else (LEAST, standard + LEAST)

    def rows(self, standard: float, wraps: SideName) -> tuple[Row, ...]:
        """The fold lies one allowance from the seam, on the side that is wrapped; a row keeps it
        down there (practice).
        """
        return (Row("b" if wraps == "a" else "a", standard - EDGE_STITCH),)
