"""Darts whose legs are sewn together: they agree in length."""

from __future__ import annotations

from studio.check.finding import Finding
from studio.cut.piece import Piece

LEGS_AGREE = 0.5
"""How far the legs of a dart may differ, mm (practice)."""


def judge_darts(piece: Piece) -> list[Finding]:
    """Findings where a dart that is left in a piece has unequal legs."""
    found = []
    for dart in piece.darts:
        gap = abs(dart.point.distance_to(dart.first) - dart.point.distance_to(dart.last))
        if gap > LEGS_AGREE:
            found.append(
                Finding(
                    "dart-legs",
                    "grave",
                    f"{piece.name} {dart.name}",
                    f"The legs of {dart.name} differ by {gap:.1f} mm: move its point over the "
                    "middle of its mouth.",
                    gap,
                    LEGS_AGREE,
                )
            )
    return found
