"""Notches that cannot be cut or found: off the cut line, on each other, past the sewing line; and
grainlines too short to lay a piece by.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from studio import numbers
from studio.check.finding import Finding
from studio.curves import Point
from studio.sew.sewn import CutEdge, SewnPiece

_ON_LINE_MM = 0.2
_APART_MM = 4.0
"""Two notches nearer than this are cut as one (practice)."""

GRAIN_LEAST = 25.0
"""A grainline shorter than this cannot be measured to the selvedge (practice), mm."""


def judge_marks(sewn: SewnPiece) -> tuple[Finding, ...]:
    """Warnings on the notches and the grainline of a piece."""
    name = sewn.piece.name
    found = []
    for notch in sewn.notches:
        off = _off_line(notch.mouth, sewn.cut_line)
        if off > _ON_LINE_MM:
            found.append(
                Finding(
                    "notch",
                    "warning",
                    name,
                    f"A notch of {notch.join} on {name} stands {numbers.length(off)} off its "
                    "cut line: it falls into a corner, a hollow, or beside a dart. Move it further "
                    "from there.",
                    off,
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
                    f"Two notches on {name}, of {one.join} and {two.join}, stand "
                    f"{numbers.length(apart)} apart: they would be cut as one. Move one of them.",
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
                f"The grainline of {name} is only {numbers.length(length)} long: lay the piece "
                "with care.",
                length,
                GRAIN_LEAST,
            )
        )
    return tuple(found)


def _off_line(place: Point, line: Sequence[CutEdge]) -> float:
    """Distance of a place from a cut line, mm."""
    near = [edge.chain for edge in line if edge.chain.box.is_near(place, _ON_LINE_MM)]
    off = min((chain.nearest(place)[1] for chain in near), default=math.inf)
    if off <= _ON_LINE_MM:
        return off
    return min(edge.chain.nearest(place)[1] for edge in line)
