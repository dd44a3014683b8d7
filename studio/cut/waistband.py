"""A straight waistband, folded along its length."""

from __future__ import annotations

from studio.curves import Chain, Edge, Outline, Point, Vector, tolerance
from studio.cut.band_end import HOLE_LONGER_MM, has_room
from studio.cut.piece import Mark, Piece
from studio.design.pieces import WaistbandPiece
from studio.errors import GeometryRefused


def cut_waistband(recipe: WaistbandPiece, half: float) -> Piece:
    """The band for a waist of twice `half` mm, its warp along its length.

    Lower edge, from the left: half-1 (to the centre back), half-2, overlap. The fold is a mark, and
    so are the button in the middle of the overlap and, at the other end, the buttonhole that lies
    over it, as long as the button is wide and 3 (practice), when the overlap has room for them. A
    part of a band that is joined of scraps lies where it does on the whole.

    Raises:
        GeometryRefused: the width, the overlap or the half is not positive enough to draw.
    """
    if half < 1.0 or recipe.width < 1.0 or recipe.overlap < 0.0:
        raise GeometryRefused("A waistband needs a length and a width.", where=recipe.name)
    name = recipe.name
    length, height = 2.0 * half + recipe.overlap, 2.0 * recipe.width
    first = 0.0 if recipe.after is None else half + recipe.after
    last = length if recipe.before is None else half + recipe.before
    if not 0.0 <= first < last - 1.0 <= length:
        raise GeometryRefused(
            f"A join of {name} lies off the band: move it nearer to the centre back.", where=name
        )
    stations = (
        ("half-1", 0.0, half),
        ("half-2", half, 2.0 * half),
        ("overlap", 2.0 * half, length),
    )
    edges = [
        Edge(f"{name}.{part}", chain, max(first - low, 0.0), min(last, high) - low)
        for part, low, high in stations
        if min(last, high) - max(first, low) > tolerance.CORNER_MM
        for chain in (_level(max(first, low), min(last, high), 0.0),)
    ]
    corners = (Point(last, 0.0), Point(last, height), Point(first, height), Point(first, 0.0))
    for part, one, two in zip(("end", "top", "start"), corners, corners[1:], strict=False):
        edges.append(Edge.whole(f"{name}.{part}", Chain.straight(one, two)))
    marks = (Mark(f"{name}.fold", _level(first, last, recipe.width)), *_button(recipe, length))
    return Piece(
        name,
        Outline.of(edges),
        tuple(
            mark for mark in marks if first <= mark.chain.box.left and mark.chain.box.right <= last
        ),
        warp=0.0,
        cut="single",
        cloth=recipe.cloth,
    )


def _level(first: float, last: float, height: float) -> Chain:
    return Chain.straight(Point(first, height), Point(last, height))


def _button(recipe: WaistbandPiece, length: float) -> tuple[Mark, ...]:
    """The buttonhole, and a cross for the button, which sits in the hole's outer end."""
    across, height = recipe.button, recipe.width / 2.0
    if not has_room(across, recipe.width, recipe.overlap):
        return ()
    outer = recipe.overlap / 2.0
    hole = Chain.straight(Point(outer, height), Point(outer + across + HOLE_LONGER_MM, height))
    button, arm = Point(length - outer, height), across / 2.0
    strokes = [
        Chain.straight(button + way * -arm, button + way * arm)
        for way in (Vector(1.0, 0.0), Vector(0.0, 1.0))
    ]
    return (
        Mark(f"{recipe.name}.buttonhole", hole),
        *(Mark(f"{recipe.name}.button", stroke) for stroke in strokes),
    )
