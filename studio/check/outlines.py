"""Sewing lines that enclose one piece, and what is drawn on it lies on it."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from studio import numbers
from studio.check.finding import Finding
from studio.cut.piece import Mark, Piece

_CHORD_ERROR = 0.2
"""Chords keep this near the lines, mm; enough to see what a maker would."""

BEYOND_MM = 1.0
"""What reaches no further over an edge is taken up in the seam there (practice)."""


def judge_outline(piece: Piece) -> tuple[Finding, ...]:
    """Findings where a piece's sewing line crosses itself, or where a line drawn on it, such as
    that of a patch, reaches over its edge.
    """
    name = piece.name
    ground = shapely.Polygon(piece.outline.polyline(_CHORD_ERROR))
    if not ground.is_valid:
        return (
            Finding(
                "outline",
                "grave",
                name,
                f"The sewing line of {name} crosses itself. Move the lines that bound it apart, or "
                "the corner of it that lies beyond another edge.",
            ),
        )
    shapely.prepare(ground)
    return _beyond(name, ground, piece.marks)


def _beyond(name: str, ground: shapely.Polygon, marks: Sequence[Mark]) -> tuple[Finding, ...]:
    """A warning for each line that reaches over the edge."""
    found: dict[str, float] = {}
    for mark in marks:
        drawn = shapely.LineString(mark.chain.polyline(_CHORD_ERROR))
        if ground.covers(drawn):
            continue
        places = shapely.points(shapely.get_coordinates(drawn))
        far = float(shapely.distance(ground, places).max())
        line = mark.name.rpartition(".")[0] or mark.name
        found[line] = max(found.get(line, 0.0), far)
    return tuple(
        Finding(
            "beyond-edge",
            "warning",
            f"{name} {line}",
            f"{line} reaches {numbers.length(far)} over the edge of {name}. Move it inward, or "
            "make it smaller; where it is to lie over the seam, let it stand.",
            far,
            BEYOND_MM,
        )
        for line, far in found.items()
        if far > BEYOND_MM
    )
