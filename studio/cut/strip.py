"""A straight strip: a strap, a belt loop, a shield."""

from __future__ import annotations

from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Mark, Piece
from studio.design.pieces import StripPiece
from studio.errors import GeometryRefused


def cut_strip(recipe: StripPiece) -> Piece:
    """The strip, its warp along its length; edges counter-clockwise: one, end, two, start.

    Raises:
        GeometryRefused: length or width is not positive enough to draw.
    """
    if recipe.length < 1.0 or recipe.width < 1.0:
        raise GeometryRefused("A strip needs a length and a width.", where=recipe.name)
    corners = (
        Point(0.0, 0.0),
        Point(recipe.length, 0.0),
        Point(recipe.length, recipe.width),
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
                Point(recipe.length, recipe.width * k / recipe.folded),
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
