"""Lines drawn on a piece, such as those along which patches are laid, that leave the piece."""

from __future__ import annotations

import numpy as np
import shapely

from studio.check.finding import Finding
from studio.curves import Point, tolerance
from studio.cut.piece import Piece

OVER_MM = 0.5
"""A line may leave its piece by so much: less than the breadth of a stitch (practice)."""


def judge_laid(piece: Piece) -> tuple[Finding, ...]:
    """A warning for each line on a piece that leaves its sewing line by more than `OVER_MM`,
    measured at places whose chords keep within `FLAT_MM`: what is laid there would be caught in a
    seam it does not belong to, or stand out beyond it.
    """
    over: dict[str, tuple[float, Point]] = {}
    if piece.marks:
        ground = shapely.Polygon(piece.outline.polyline(tolerance.FLAT_MM))
        shapely.prepare(ground)
    for mark in piece.marks:
        places = np.array(mark.chain.polyline(tolerance.FLAT_MM))
        off = shapely.distance(ground, shapely.points(places))
        worst = int(off.argmax())
        line = mark.name.partition(".")[0]
        if off[worst] > max(OVER_MM, over.get(line, (0.0,))[0]):
            over[line] = float(off[worst]), Point(*map(float, places[worst]))
    return tuple(_finding(piece, line, off, at) for line, (off, at) in over.items())


def _finding(piece: Piece, line: str, off: float, at: Point) -> Finding:
    edge = min(piece.outline, key=lambda one: one.chain.nearest(at)[1])
    return Finding(
        "laid-over",
        "warning",
        piece.name,
        f"{line} leaves {piece.name} over {edge.name} by {off:.1f} mm: what is laid there would be "
        "caught in that seam or stand out beyond it. Move it further in.",
        off,
        OVER_MM,
    )
