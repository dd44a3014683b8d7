"""Edges that run on across a seam: their corner angles add to a straight angle."""

from __future__ import annotations

from studio import numbers
from studio.block.panel import Panel
from studio.check.finding import Finding

ALLOWED_DEGREES = 2.0
"""How far from 180 degrees two corners that run on may add up (practice)."""

_RUNS = (
    ("waist", "side", "the waist over the side seam"),
    ("hem", "side", "the hem over the side seam"),
    ("hem", "inseam", "the hem over the inseam"),
    ("rise", "inseam", "the crotch curve over the inseam"),
)


def judge_run_on(front: Panel, back: Panel) -> list[Finding]:
    """Findings where waist, hem or crotch curve would kink at a seam between two panels."""
    found = []
    for edge, seam, words in _RUNS:
        angles = [_corner(panel, edge, seam) for panel in (front, back)]
        if None in angles:
            continue
        total = sum(angle for angle in angles if angle is not None)
        if abs(total - 180.0) > ALLOWED_DEGREES:
            shape = "a dip" if total > 180.0 else "a peak"
            found.append(
                Finding(
                    "run-on",
                    "warning",
                    f"{edge} at {seam}",
                    f"{words[0].upper()}{words[1:]} makes {shape} of "
                    f"{numbers.plain(abs(total - 180.0), 1)} degrees: redraw the ends so that they "
                    "run on.",
                    abs(total - 180.0),
                    ALLOWED_DEGREES,
                    "degrees",
                )
            )
    return found


def _corner(panel: Panel, edge: str, seam: str) -> float | None:
    names = {f"{panel.name}.{edge}", f"{panel.name}.{seam}"}
    for corner in panel.outline.corners():
        if {corner.before, corner.after} == names:
            return corner.inner
    return None
