"""Darts whose legs are sewn together: they agree in length, and lie in one piece."""

from __future__ import annotations

from collections.abc import Collection

from studio import numbers
from studio.block.panel import Dart
from studio.check.finding import Finding
from studio.curves import Chain, Outline, meetings
from studio.cut.piece import Piece

LEGS_AGREE = 0.5
"""How far the legs of a dart may differ, mm (practice)."""


def judge_darts(piece: Piece, seams: Collection[str] = ()) -> list[Finding]:
    """Findings where a dart that is left in a piece has unequal legs, or one of the `seams` (lines
    that cut a panel in two) cuts off its point; through a pocket's bag a dart may run, as a pleat.
    A pleat is not sewn to its point.
    """
    found = []
    for dart in piece.darts:
        if dart.pleat is None and _is_cut(dart, piece.outline, seams):
            found.append(
                Finding(
                    "dart-cut",
                    "grave",
                    f"{piece.name} {dart.name}",
                    f"A seam cuts through {dart.name}: its point lies outside {piece.name}. Close "
                    "it there, shorten it, or lead the seam past its point.",
                )
            )
        if dart.pleat is not None:
            continue
        gap = abs(dart.point.distance_to(dart.first) - dart.point.distance_to(dart.last))
        if gap > LEGS_AGREE:
            found.append(
                Finding(
                    "dart-legs",
                    "grave",
                    f"{piece.name} {dart.name}",
                    f"The legs of {dart.name} differ by {numbers.length(gap)}: move its point "
                    "over the middle of its mouth.",
                    gap,
                    LEGS_AGREE,
                )
            )
    return found


def _is_cut(dart: Dart, outline: Outline, seams: Collection[str]) -> bool:
    cuts = [edge for edge in outline if edge.name.partition(".")[0] in seams]
    legs = Chain.straight(dart.first, dart.point, dart.last)
    return any(meetings(legs, edge.chain) for edge in cuts) and not outline.contains(dart.point)
