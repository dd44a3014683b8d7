"""A piece with the shape of a closed line: a patch pocket."""

from __future__ import annotations

from studio.curves import Outline
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Mark, Piece
from studio.design.pieces import ShapePiece


def cut_shape(recipe: ShapePiece, line: DrawnLine, marks: tuple[DrawnLine, ...] = ()) -> Piece:
    """The piece, where it lies on its panel, with the lines marked on it.

    Raises:
        GeometryRefused: the shape is open, runs clockwise or encloses nothing.
    """
    return Piece(
        recipe.name,
        Outline.of(line.edges),
        tuple(Mark(edge.name, edge.chain) for mark in marks for edge in mark.edges),
        cut=recipe.cut,
        count=recipe.count,
        cloth=recipe.cloth,
        panel=line.panel,
    )
