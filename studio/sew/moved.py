"""A finished piece moved to another place: turned, mirrored, grown by what its cloth shrinks."""

from __future__ import annotations

import math

from msgspec.structs import replace

from studio.curves import Affine, Chain, Outline, Vector
from studio.cut.piece import Piece
from studio.sew.sewn import CutEdge, SewnPiece


def moved(sewn: SewnPiece, move: Affine) -> SewnPiece:
    """The piece after a move of the plane, exact; its outlines stay counter-clockwise.

    `levels` and `splits`, which speak of the panel it was drawn on, are left out.
    """

    def walked(chain: Chain) -> Chain:
        there = chain.transformed(move)
        return there.reversed() if move.flips else there

    cut_line = tuple(CutEdge(edge.name, walked(edge.chain)) for edge in sewn.cut_line)
    allowances = sewn.allowances
    notches = tuple(
        replace(notch, at=move(notch.at), mouth=move(notch.mouth), tip=move(notch.tip))
        for notch in sewn.notches
    )
    low, high = sewn.grain
    if move.flips:
        cut_line, allowances = cut_line[::-1], allowances[::-1]
    return replace(
        sewn,
        piece=_piece(sewn.piece, sewn.piece.outline.transformed(move), move),
        allowances=allowances,
        cut_line=cut_line,
        notches=notches,
        grain=(move(low), move(high)),
        label_at=move(sewn.label_at),
        drills=tuple(move(drill) for drill in sewn.drills),
        rows=tuple(row.transformed(move) for row in sewn.rows),
        second=tuple(line.transformed(move) for line in sewn.second),
        folds=tuple(fold.transformed(move) for fold in sewn.folds),
    )


def _piece(piece: Piece, outline: Outline, move: Affine) -> Piece:
    marks = tuple(replace(mark, chain=mark.chain.transformed(move)) for mark in piece.marks)
    darts = tuple(
        replace(
            dart,
            first=move(dart.last if move.flips else dart.first),
            last=move(dart.first if move.flips else dart.last),
            point=move(dart.point),
        )
        for dart in piece.darts
    )
    warp = math.radians(piece.warp)
    along = move.vector(Vector(math.cos(warp), math.sin(warp)))
    return replace(
        piece, outline=outline, marks=marks, darts=darts, warp=along.angle, splits=(), levels={}
    )
