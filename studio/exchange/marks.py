"""What is drawn and written on every piece, whatever the file: slits, dart legs, the label."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator

from studio.block.panel import Dart
from studio.curves import Chain, Point, Vector
from studio.cut.piece import Piece
from studio.exchange.clear_place import Polyline
from studio.numbers import LengthUnit
from studio.sew.notches import WIDE
from studio.sew.sewn import Notch, SewnPiece
from studio.sew.short import short_in

LINE_ACCURACY = 0.2
"""Chord error of the lines that text keeps clear of, mm."""

SLIT_APART = 3.0
"""Between the two slits of a double notch, mm (common practice)."""

_U_STEPS = 6


def slits(notch: Notch) -> tuple[tuple[Point, Point], ...]:
    """The strokes of a notch, each between two places; a double one is cut twice, on either side
    of its place.

    A slit runs from the cut line to its tip. The two of a double notch start on the tangent at its
    place: off a cut line of radius r by 1.1/r mm, for slits.
    """
    if notch.mouth == notch.tip:
        return ((notch.mouth, notch.tip),)
    across = (notch.mouth - notch.tip).unit().left()
    if notch.kind == "single":
        return _strokes(notch, Vector(0.0, 0.0), across)
    half = (SLIT_APART if notch.shape == "slit" else SLIT_APART + 2.0 * WIDE) / 2.0
    return (
        *_strokes(notch, across * half, across),
        *_strokes(notch, across * -half, across),
    )


def _strokes(notch: Notch, aside: Vector, across: Vector) -> tuple[tuple[Point, Point], ...]:
    """One notch of a shape, moved aside."""
    mouth, tip = notch.mouth + aside, notch.tip + aside
    half = across * (WIDE / 2.0)
    if notch.shape == "T":
        return ((mouth, tip), (tip + half, tip + -half))
    if notch.shape == "castle":
        return _path(mouth + half, tip + half, tip + -half, mouth + -half)
    if notch.shape == "check":
        return _path(mouth, tip, mouth + across * WIDE)
    if notch.shape == "U":
        inward = (tip - mouth).unit()
        bend = tip + inward * (-WIDE / 2.0)
        round_it = [
            bend + half * math.cos(turn) + inward * (math.sin(turn) * WIDE / 2.0)
            for turn in (math.pi * k / _U_STEPS for k in range(_U_STEPS + 1))
        ]
        return _path(mouth + half, *round_it, mouth + -half)
    return ((mouth, tip),)


def _path(*points: Point) -> tuple[tuple[Point, Point], ...]:
    return tuple(itertools.pairwise(points))


PLEAT_SHOWN = 60.0
"""So far down from its edge a pleat's folds are drawn, mm, where it is not sewn further."""

_MOST_OF_A_LEG = 0.8


def dart_lines(darts: Iterable[Dart]) -> tuple[Chain, ...]:
    """The legs of darts: of each from its first end by its point to its last; of a pleat so far
    down as it is sewn, or a short way to fold it by.
    """
    return tuple(line for dart in darts for line in _lines_of(dart))


def _lines_of(dart: Dart) -> Iterator[Chain]:
    if dart.pleat is None:
        yield Chain.straight(dart.first, dart.point, dart.last)
        return
    for end in (dart.first, dart.last):
        long = end.distance_to(dart.point)
        shown = dart.pleat.down or min(PLEAT_SHOWN, _MOST_OF_A_LEG * long)
        yield Chain.straight(end, end.toward(dart.point, shown / long))


def cut_words(piece: Piece) -> str:
    """How many are cut: "cut 1", "cut 2 mirrored" (one left, one right), "cut 4 mirrored"."""
    return f"cut {piece.quantity}{' mirrored' if piece.cut == 'pair' else ''}"


def label_lines(sewn: SewnPiece, unit: LengthUnit = "mm") -> tuple[str, ...]:
    """The label: name first, then how it is cut, from which cloth, for whom, what is included, and
    which copy is cut with less, lengths in a unit.
    """
    piece = sewn.piece
    lines = [piece.name, cut_words(piece), f"cloth: {piece.cloth}"]
    if sewn.made_for:
        lines.append(f"for: {sewn.made_for}")
    if any(width > 0.0 for width in sewn.allowances):
        lines.append("allowances included")
    lines += short_in(sewn, unit)
    return tuple(lines)


def lines_on(sewn: SewnPiece) -> list[Polyline]:
    """Marks, dart legs, folds, notches, drill crosses and the grainline, in mm y up."""
    chains = (
        *(mark.chain for mark in sewn.piece.marks),
        *dart_lines(sewn.piece.darts),
        *sewn.rows,
        *sewn.second,
        *sewn.folds,
    )
    lines: list[Polyline] = [chain.polyline(LINE_ACCURACY) for chain in chains]
    ends = [sewn.grain, *(slit for notch in sewn.notches for slit in slits(notch))]
    lines += [[(one.x, one.y), (two.x, two.y)] for one, two in ends]
    lines += [[(drill.x - 2.0, drill.y), (drill.x + 2.0, drill.y)] for drill in sewn.drills]
    return lines
