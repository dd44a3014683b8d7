"""Sewing lines that enclose one piece."""

from __future__ import annotations

import shapely

from studio.check.finding import Finding
from studio.cut.piece import Piece

_CHORD_ERROR = 0.2
"""Chords keep this near the sewing line, mm; enough to see a crossing that a maker would."""


def judge_outline(piece: Piece) -> tuple[Finding, ...]:
    """A grave finding where a piece's sewing line crosses itself."""
    points = shapely.get_coordinates(shapely.linearrings(piece.outline.polyline(_CHORD_ERROR)))
    if shapely.is_valid(shapely.polygons(points.round(6))):
        return ()
    return (
        Finding(
            "outline",
            "grave",
            piece.name,
            f"The sewing line of {piece.name} crosses itself. Move the lines that bound it apart, "
            "or the corner of it that lies beyond another edge.",
        ),
    )
