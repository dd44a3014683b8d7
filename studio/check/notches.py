"""Notches that cannot be cut or found: off the cut line, or on each other; and grainlines too short
to lay a piece by.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

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
    """Warnings on the notches of a piece, and a note on its grainline."""
    return (*_off_the_line(sewn), *_on_each_other(sewn), *_too_short(sewn))


def _off_the_line(sewn: SewnPiece) -> Iterator[Finding]:
    for notch in sewn.notches:
        off = _off_line(notch.mouth, sewn.cut_line)
        if off > _ON_LINE_MM:
            yield Finding(
                "notch",
                "warning",
                sewn.piece.name,
                f"A notch of {notch.join} on {sewn.piece.name} stands {numbers.length(off)} off "
                "its cut line: it falls into a corner, a hollow, or beside a dart. Move it further "
                "from there.",
                off,
                _ON_LINE_MM,
            )


def _on_each_other(sewn: SewnPiece) -> Iterator[Finding]:
    for one, two in itertools.combinations(sewn.notches, 2):
        apart = one.mouth.distance_to(two.mouth)
        if apart < _APART_MM:
            yield Finding(
                "notch",
                "warning",
                sewn.piece.name,
                f"Two notches on {sewn.piece.name}, of {one.join} and {two.join}, stand "
                f"{numbers.length(apart)} apart: they would be cut as one. Move one of them.",
                apart,
                _APART_MM,
            )


def _too_short(sewn: SewnPiece) -> Iterator[Finding]:
    length = sewn.grain[0].distance_to(sewn.grain[1])
    if length < GRAIN_LEAST:
        yield Finding(
            "grain",
            "note",
            sewn.piece.name,
            f"The grainline of {sewn.piece.name} is only {numbers.length(length)} long: lay the "
            "piece with care.",
            length,
            GRAIN_LEAST,
        )


def _off_line(place: Point, line: Sequence[CutEdge]) -> float:
    """Distance of a place from a cut line, mm."""
    near = [edge.chain for edge in line if edge.chain.box.is_near(place, _ON_LINE_MM)]
    off = min((chain.nearest(place)[1] for chain in near), default=math.inf)
    if off <= _ON_LINE_MM:
        return off
    return min(edge.chain.nearest(place)[1] for edge in line)
