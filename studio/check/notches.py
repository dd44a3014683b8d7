"""Notches that cannot be cut or found: off the cut line, on each other, past the sewing line; and
grainlines too short to lay a piece by.
"""

from __future__ import annotations

import itertools

import numpy as np
import shapely

from studio.check.finding import Finding
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece

_NEAR_CORNER_MM = 60.0
"""Only so near a corner of the sewing line can the cut line have left a notch behind."""

_ON_LINE_MM = 0.2
_APART_MM = 4.0
"""Two notches nearer than this are cut as one (practice)."""

GRAIN_LEAST = 25.0
"""A grainline shorter than this cannot be measured to the selvedge (practice), mm."""


def judge_marks(sewn: SewnPiece) -> tuple[Finding, ...]:
    """Warnings on the notches and the grainline of a piece."""
    name = sewn.piece.name
    found = []
    corners = [edge.chain.start for edge in sewn.piece.outline]
    near = [n for n in sewn.notches if min(n.at.distance_to(c) for c in corners) < _NEAR_CORNER_MM]
    if near:
        points = cut_outline_points(sewn.cut_line, 0.05)
        line = shapely.linearrings(np.array(points))
        mouths = shapely.points([(n.mouth.x, n.mouth.y) for n in near])
        for notch, off in zip(near, shapely.distance(line, mouths), strict=True):
            if off > _ON_LINE_MM:
                found.append(
                    Finding(
                        "notch",
                        "warning",
                        name,
                        f"A notch of {notch.join} on {name} stands {off:.1f} mm off its cut line: "
                        "it falls into a corner. Move it further from the end of the seam.",
                        float(off),
                        _ON_LINE_MM,
                    )
                )
    for one, two in itertools.combinations(sewn.notches, 2):
        apart = one.mouth.distance_to(two.mouth)
        if apart < _APART_MM:
            found.append(
                Finding(
                    "notch",
                    "warning",
                    name,
                    f"Two notches on {name}, of {one.join} and {two.join}, stand {apart:.1f} mm "
                    "apart: they would be cut as one. Move one of them.",
                    apart,
                    _APART_MM,
                )
            )
    length = sewn.grain[0].distance_to(sewn.grain[1])
    if length < GRAIN_LEAST:
        found.append(
            Finding(
                "grain",
                "note",
                name,
                f"The grainline of {name} is only {length:.0f} mm long: lay the piece with care.",
                length,
                GRAIN_LEAST,
            )
        )
    return tuple(found)
