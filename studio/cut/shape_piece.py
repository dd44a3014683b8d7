"""A piece with the shape of a closed line: a patch pocket."""

from __future__ import annotations

from studio.curves import Outline
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.design.pieces import ShapePiece


def cut_shape(recipe: ShapePiece, line: DrawnLine) -> Piece:
    """The piece, where it lies on its panel.

    Raises:
        GeometryRefused: the shape is open, runs clockwise or encloses nothing.
    """
    return Piece(
        recipe.name,
        Outline.of(line.edges),
        cut=recipe.cut,
        count=recipe.count,
        cloth=recipe.cloth,
        panel=line.panel,
    )
