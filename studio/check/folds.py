"""Edges turned in along a fold: what is turned in fits the cloth that it comes to lie on."""

from __future__ import annotations

import math
from collections.abc import Sequence

from studio import numbers
from studio.alter.closing import closed_stretches
from studio.block.panel import Dart
from studio.check.finding import Finding
from studio.curves import Edge
from studio.curves.point import turn_between
from studio.cut.piece import Piece
from studio.design.joins import Finish
from studio.sew.allowance import finish_allowance, finish_rows
from studio.sew.constructions import finished

FITS_WITHIN = 6.0
"""What can be eased or stretched in along a fold, mm (practice)."""


def judge_folds(piece: Piece, finishes: Sequence[Finish], standard: float) -> list[Finding]:
    """Findings where an edge that is turned in along itself curves, its darts closed, so that what
    is turned in is longer or shorter, where it is stitched, than the cloth beneath. By so much:
    twice its depth times the angle by which the edge turns, as two parallels of a curve have it.
    """
    found = []
    for finish in finishes:
        if finish.edge.piece != piece.name or not finished(finish).folds_up:
            continue
        for edge in piece.outline:
            if edge.name == finish.edge.edge and not (edge.chain.is_straight and not piece.darts):
                depth = max((*finish_rows(finish, standard), 0.0)) or finish_allowance(
                    finish, standard
                )
                off = 2.0 * depth * _turn(edge, piece.darts)
                if abs(off) > FITS_WITHIN:
                    found.append(_finding(finish, off))
    return found


def _turn(edge: Edge, darts: Sequence[Dart]) -> float:
    """The angle in radians by which an edge turns from its start to its end, its darts closed;
    positive where it bulges.
    """
    own = sorted(
        (dart for dart in darts if dart.edge == edge.name),
        key=lambda dart: edge.chain.distance_of(dart.first),
    )
    stretches = closed_stretches(edge.chain, own)
    return math.radians(turn_between(stretches[0].start_tangent, stretches[-1].end_tangent))


def _finding(finish: Finish, off: float) -> Finding:
    what = finished(finish).title.split(",")[0].lower()
    fault = "longer than the cloth it comes to lie on, and pleats"
    if off < 0.0:
        fault = "shorter than the cloth it comes to lie on, and pulls"
    return Finding(
        "fold",
        "warning",
        finish.edge.text,
        f"{finish.edge.edge} curves, its darts closed: turned in along it, the {what} is "
        f"{numbers.length(abs(off))} {fault}. Give up the darts and straighten it, or sew on a "
        "band or a facing.",
        abs(off),
        FITS_WITHIN,
    )
