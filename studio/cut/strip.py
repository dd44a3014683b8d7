"""A straight strip: a strap, a belt loop, a shield."""

from __future__ import annotations

from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Mark, Piece
from studio.design.pieces import StripPiece
from studio.errors import GeometryRefused


def cut_strip(recipe: StripPiece, fitted: float = 0.0) -> Piece:
    """The strip, its warp along its length; edges counter-clockwise: one, end, two, start. It is
    `fitted` mm longer than its recipe says, when that fits a join so long.

    Raises:
        GeometryRefused: length or width is not positive enough to draw.
    """
    length = recipe.length + fitted
    if length < 1.0 or recipe.width < 1.0:
        raise GeometryRefused("A strip needs a length and a width.", where=recipe.name)
    corners = (
        Point(0.0, 0.0),
        Point(length, 0.0),
        Point(length, recipe.width),
        Point(0.0, recipe.width),
    )
    names = ("one", "end", "two", "start")
    edges = [
        Edge.whole(f"{recipe.name}.{name}", Chain.straight(corners[k], corners[(k + 1) % 4]))
        for k, name in enumerate(names)
    ]
    folds = tuple(
        Mark(
            f"{recipe.name}.fold-{k}",
            Chain.straight(
                Point(0.0, recipe.width * k / recipe.folded),
                Point(length, recipe.width * k / recipe.folded),
            ),
        )
        for k in range(1, recipe.folded)
    )
    return Piece(
        recipe.name,
        Outline.of(edges),
        folds,
        warp=0.0,
        cut="single",
        count=recipe.count,
        cloth=recipe.cloth,
    )
