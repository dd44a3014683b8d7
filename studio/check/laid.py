"""Lines drawn on a piece, such as those along which patches are laid, that leave the piece."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
import numpy as np
import shapely
from msgspec.structs import replace

from studio import numbers
from studio.check.finding import Finding, Gravity
from studio.curves import Chain, Point, tolerance
from studio.cut.piece import Mark, Piece

RULE = "laid-over"

OVER_MM = 0.5
"""A line may leave its piece by so much: less than the breadth of a stitch (practice)."""


class _Over(msgspec.Struct, frozen=True):
    """How far a line leaves its piece at the most, where that is, and whether all of it does."""

    off: float
    at: Point
    wholly: bool


def judge_laid(piece: Piece) -> tuple[Finding, ...]:
    """A warning for each line on a piece that leaves its sewing line by more than `OVER_MM`,
    measured at places whose chords keep within `FLAT_MM`: what is laid there would be caught in a
    seam it does not belong to, or stand out beyond it. Grave for one that lies wholly off it.
    """
    over: dict[str, _Over] = {}
    if piece.marks:
        ground = shapely.Polygon(piece.outline.polyline(tolerance.FLAT_MM))
        shapely.prepare(ground)
    for mark in piece.marks:
        line = mark.name.partition(".")[0]
        here = _over_here(mark.chain, ground)
        known = over.get(line, here)
        worst = max(known, here, key=lambda one: one.off)
        over[line] = replace(worst, wholly=known.wholly and here.wholly)
    return tuple(_finding(piece, line, one) for line, one in over.items() if one.off > OVER_MM)


def lines_on(marks: Iterable[Mark]) -> frozenset[str]:
    """The names of the lines that marks are of."""
    return frozenset(mark.name.partition(".")[0] for mark in marks)


def judge_unlaid(
    asked: Iterable[tuple[str, str]], laid: Iterable[frozenset[str]]
) -> tuple[Finding, ...]:
    """A grave finding for each line that is to be drawn on pieces, and of which nothing lies on any
    of them: beyond the lines that bound them. `asked` are pairs of a piece and a line, `laid` the
    `lines_on` every piece.
    """
    there = frozenset().union(*laid)
    wanting: dict[str, str] = {}
    for piece, line in asked:
        if line not in there:
            wanting.setdefault(line, piece)
    return tuple(
        Finding(
            RULE,
            "grave",
            line,
            f"Nothing of {line} lies on {piece}, on which it is to be drawn: what is laid along it "
            f"has no place. Move it onto {piece}, or lay it on another piece.",
        )
        for line, piece in wanting.items()
    )


def _over_here(chain: Chain, ground: shapely.Polygon) -> _Over:
    places = np.array(chain.polyline(tolerance.FLAT_MM))
    off = shapely.distance(ground, shapely.points(places))
    worst = int(off.argmax())
    at = Point(*map(float, places[worst]))
    # Between two places off it a line may cross the piece.
    wholly = bool(off.min() > 0.0) and not ground.intersects(shapely.LineString(places))
    return _Over(float(off[worst]), at, wholly)


def _finding(piece: Piece, line: str, over: _Over) -> Finding:
    edge = min(piece.outline, key=lambda one: one.chain.nearest(over.at)[1])
    if over.wholly:
        said = (
            f"{line} lies wholly off {piece.name}, over {edge.name} by "
            f"{numbers.length(over.off)}: what is laid there has no place. Move it onto "
            f"{piece.name}."
        )
    else:
        said = (
            f"{line} leaves {piece.name} over {edge.name} by {numbers.length(over.off)}: what is "
            "laid there would be caught in that seam or stand out beyond it. Move it further in."
        )
    gravity: Gravity = "grave" if over.wholly else "warning"
    return Finding(RULE, gravity, piece.name, said, over.off, OVER_MM)
