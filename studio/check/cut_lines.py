"""Cut lines that the shears can follow: simple, and as asked."""

from __future__ import annotations

import numpy as np
import shapely

from studio.check.finding import Finding
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import CutEdge

_CHORD_ERROR = 0.2
"""Chords keep this near the cut line, mm; enough to see a crossing that shears would meet."""


def judge_cut_line(
    name: str, cut_line: tuple[CutEdge, ...], trouble: tuple[str, ...]
) -> tuple[Finding, ...]:
    """Findings where a piece's cut line crosses itself or could not be made as asked."""
    found = [Finding("cut-line", "warning", name, sentence) for sentence in trouble]
    points = np.array(cut_outline_points(cut_line, _CHORD_ERROR)).round(6)
    if len(points) < 3 or not shapely.is_valid(shapely.polygons(points)):
        found.append(
            Finding(
                "cut-line",
                "grave",
                name,
                f"The cut line of {name} crosses itself. Make its allowances smaller, or the "
                "edge at the crossing longer.",
            )
        )
    return tuple(found)
