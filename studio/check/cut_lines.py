"""Cut lines that the shears can follow: simple, and as asked."""

from __future__ import annotations

import shapely

from studio.check.finding import Finding
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece


def judge_cut_line(sewn: SewnPiece) -> tuple[Finding, ...]:
    """Findings where a piece's cut line crosses itself or could not be made as asked."""
    name = sewn.piece.name
    found = [Finding("cut-line", "warning", name, sentence) for sentence in sewn.trouble]
    points = [(round(x, 6), round(y, 6)) for x, y in cut_outline_points(sewn.cut_line, 0.1)]
    if len(points) < 3 or not shapely.Polygon(points).is_valid:
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
