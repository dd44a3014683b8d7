"""A straight waistband, folded along its length."""

from __future__ import annotations

from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Mark, Piece
from studio.design.pieces import WaistbandPiece
from studio.errors import GeometryRefused


def cut_waistband(recipe: WaistbandPiece, half: float) -> Piece:
    """The band for a waist of twice `half` mm, its warp along its length.

    Lower edge, from the left: half-1 (to the centre back), half-2, overlap. The fold is a mark.

    Raises:
        GeometryRefused: the width, the overlap or the half is not positive enough to draw.
    """
    if half < 1.0 or recipe.width < 1.0 or recipe.overlap < 0.0:
        raise GeometryRefused("A waistband needs a length and a width.", where=recipe.name)
    name = recipe.name
    length, height = 2.0 * half + recipe.overlap, 2.0 * recipe.width
    stations = [("half-1", half), ("half-2", 2.0 * half)]
    if recipe.overlap > 0.0:
        stations.append(("overlap", length))
    edges = []
    start = Point(0.0, 0.0)
    for part, x in stations:
        end = Point(x, 0.0)
        edges.append(Edge.whole(f"{name}.{part}", Chain.straight(start, end)))
        start = end
    corners = [start, Point(length, height), Point(0.0, height), Point(0.0, 0.0)]
    for part, one, two in zip(("end", "top", "start"), corners, corners[1:], strict=False):
        edges.append(Edge.whole(f"{name}.{part}", Chain.straight(one, two)))
    fold = Chain.straight(Point(0.0, recipe.width), Point(length, recipe.width))
    return Piece(
        name,
        Outline.of(edges),
        (Mark(f"{name}.fold", fold),),
        warp=0.0,
        cut="single",
        cloth=recipe.cloth,
    )
