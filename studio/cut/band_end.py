"""How a band cut off a panel ends at the centre front: what lies under, button and buttonhole."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.curves import Affine, Chain, Edge, Outline, Point, Vector
from studio.cut.piece import Mark, Piece
from studio.design.pieces import BandEnd
from studio.errors import GeometryRefused

CLEAR_MM = 4.0
"""No button nearer to the edge of the band than this."""

HOLE_LONGER_MM = 3.0
"""A buttonhole is as long as the button is wide, and this (practice)."""


def turned_over(piece: Piece) -> Piece:
    """The piece as the other leg has it: mirrored at the upright line through its middle."""
    over = Affine.mirror_x(piece.outline.box.centre.x)
    return replace(
        piece,
        outline=piece.outline.transformed(over),
        marks=tuple(replace(mark, chain=mark.chain.transformed(over)) for mark in piece.marks),
        darts=tuple(
            replace(dart, first=over(dart.last), last=over(dart.first), point=over(dart.point))
            for dart in piece.darts
        ),
        cut="single",
    )


def with_band_end(piece: Piece, ends: BandEnd, *, under: bool) -> Piece:
    """The band's piece as it is closed: marked with its buttonhole; or, when it lies under, longer
    by the overlap, marked with the centre front and the button.

    The overlap is the band's own end mirrored at the centre front, so that closed it lies exactly
    under the end on top, and the button in the outer end of the hole. Neither is marked when the
    overlap has no room for the button.

    Raises:
        GeometryRefused: the overlap is not positive, or longer than the band.
    """
    edges = _from_the_centre(piece)
    shortest = min(edges[1].length, edges[3].length)
    if not 1.0 <= ends.overlap < shortest - 1.0:
        raise GeometryRefused(
            f"The overlap of {piece.name} must be longer than nothing and shorter than its piece, "
            f"which is {numbers.length(shortest)} long.",
            where=piece.name,
            exact=(shortest,),
        )
    centre = edges[0].chain
    hole = _hole(piece, edges, ends)
    if not under:
        holes = (Mark(f"{piece.name}.buttonhole", hole),) if hole is not None else ()
        return replace(piece, marks=(*piece.marks, *holes), cut="single")
    across = Affine.mirror(centre.start, centre.end)
    marks = [*piece.marks, Mark(f"{piece.name}.centre-front", centre)]
    if hole is not None:
        button = across(hole.start)
        marks += [Mark(f"{piece.name}.button", one) for one in _cross(button, ends.button)]
    outline = _longer(piece.name, edges, across, ends.overlap)
    return replace(piece, outline=outline, marks=tuple(marks), cut="single")


def has_room(button: float, width: float, overlap: float) -> bool:
    """True when a button so wide (mm) is asked for and lies clear of the edges of the overlap."""
    return 0.0 < button <= min(width, overlap) - 2.0 * CLEAR_MM


def _from_the_centre(piece: Piece) -> tuple[Edge, ...]:
    """The band's four edges from the centre front on.

    Raises:
        GeometryRefused: it has others.
    """
    name = f"{piece.panel}.rise"
    if len(piece.outline.edges) != 4 or not piece.outline.has(name):
        raise GeometryRefused(
            f"{piece.name} should have a waist, a side, a lower edge and a centre front.",
            where=piece.name,
        )
    return piece.outline.starting_with(name).edges


def _longer(name: str, edges: tuple[Edge, ...], across: Affine, overlap: float) -> Outline:
    """The band with its end mirrored on to it; `edges` begin with the centre front."""
    _, after, far, before = edges
    low = after.chain.between(0.0, overlap).transformed(across).reversed()
    high = before.chain.between(before.length - overlap, before.length)
    high = high.transformed(across).reversed()
    parts = ("overlap", "top") if before.name.endswith(".waist") else ("top", "overlap")
    return Outline.of(
        (
            Edge.whole(f"{name}.{parts[1]}", high),
            Edge.whole(f"{name}.end", Chain.straight(high.end, low.start)),
            Edge.whole(f"{name}.{parts[0]}", low),
            after,
            far,
            before,
        )
    )


def _hole(piece: Piece, edges: tuple[Edge, ...], ends: BandEnd) -> Chain | None:
    """The buttonhole, half-way between the long edges, its outer end half the overlap from the
    centre front; None when there is no room.
    """
    if not has_room(ends.button, edges[0].length, ends.overlap):
        return None
    outer, long = ends.overlap / 2.0, ends.button + HOLE_LONGER_MM
    _, after, _, before = edges
    if outer + long > min(after.length, before.length):
        raise GeometryRefused(f"{piece.name} is too short for its buttonhole.", where=piece.name)

    def middle(along: float) -> Point:
        return after.chain.at(along).toward(before.chain.at(before.length - along), 0.5)

    start = middle(outer)
    return Chain.straight(start, start + (middle(outer + long) - start).unit() * long)


def _cross(at: Point, wide: float) -> tuple[Chain, ...]:
    arm = wide / 2.0
    return tuple(
        Chain.straight(at + way * -arm, at + way * arm)
        for way in (Vector(1.0, 0.0), Vector(0.0, 1.0))
    )
