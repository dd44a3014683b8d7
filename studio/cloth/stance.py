"""A piece as it is laid: warp up, its middle at the origin, as much larger as its cloth shrinks."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
from shapely import Polygon

from studio.cloth.enclosed import enclosed
from studio.cloth.reduced import reduced_outline
from studio.curves import Affine, Chain, Point, Vector, tolerance
from studio.design.cloth import Cloth, Place, Placement, Shortage
from studio.memo import remembered
from studio.sew import SewnPiece


class Stance(msgspec.Struct, frozen=True):
    """A piece ready to be laid. `move` takes it from its panel's coordinates to where its warp is
    +y and the middle of its cut line's box the origin; `cut` and `sewing` are its two lines
    there, counter-clockwise, chords within `FLAT_MM`; of a line that crosses itself, the rim of all
    that it encloses. Of a `paired` piece odd copies are mirrored.
    """

    piece: str
    move: Affine
    cut: tuple[Place, ...]
    sewing: tuple[Place, ...]
    paired: bool


def stance_of(
    sewn: SewnPiece, cloth: Cloth | None = None, shortages: tuple[Shortage, ...] = ()
) -> Stance:
    """The stance of a piece on a cloth; without one nothing shrinks. A copy that does without
    `shortages` has the narrower cut line, and its origin where a whole one has it. The same piece,
    cloth and shortages give the same stance again.
    """
    return _stance(sewn, cloth, shortages)


def _stance_of(sewn: SewnPiece, cloth: Cloth | None, shortages: tuple[Shortage, ...]) -> Stance:
    upright = Affine.turn(90.0 - sewn.piece.warp, Point(0.0, 0.0)).then(_grown(cloth))
    cut = _points((edge.chain for edge in sewn.cut_line), upright)
    xs, ys = [x for x, _ in cut], [y for _, y in cut]
    to_middle = Affine.shift(Vector(-(min(xs) + max(xs)) / 2.0, -(min(ys) + max(ys)) / 2.0))
    move = upright.then(to_middle)
    if shortages:
        short = (move(Point(x, y)) for x, y in reduced_outline(sewn, shortages))
        cut = tuple((at.x, at.y) for at in short)
    else:
        cut = _rim(_points((edge.chain for edge in sewn.cut_line), move))
    return Stance(
        sewn.piece.name,
        move,
        cut,
        _rim(_points((edge.chain for edge in sewn.piece.outline), move)),
        sewn.piece.cut == "pair",
    )


def lying(stance: Stance, placement: Placement, warp: float) -> Affine:
    """The move from a stance to where it lies on stock whose warp runs at `warp` degrees from +x:
    mirrored, turned, shifted. After `stance.move` it takes the piece itself there.
    """
    mirrored = is_mirrored(stance, placement.copy, placement.flipped)
    face = Affine(xx=-1.0) if mirrored else Affine()
    turned = face.then(Affine.turn(warp - 90.0 + placement.turn, Point(0.0, 0.0)))
    return turned.then(Affine.shift(Vector(*placement.at)))


def is_mirrored(stance: Stance, copy: int, flipped: bool) -> bool:
    """Whether a copy lies as the mirror image of its stance, face up or face down (`flipped`)."""
    return (stance.paired and copy % 2 == 1) != flipped


def laid(places: Iterable[Place], move: Affine) -> Polygon:
    """A line of a stance as a polygon where it lies."""
    return Polygon([(at.x, at.y) for at in (move(Point(x, y)) for x, y in places)])


def _grown(cloth: Cloth | None) -> Affine:
    """What must be cut so that what is wanted is left after the first wash."""
    if cloth is None:
        return Affine()
    return Affine(
        xx=1.0 / (1.0 - cloth.weft_shrinkage / 100.0),
        yy=1.0 / (1.0 - cloth.warp_shrinkage / 100.0),
    )


def _points(chains: Iterable[Chain], move: Affine) -> tuple[Place, ...]:
    found: list[Place] = []
    for chain in chains:
        places = chain.polyline(tolerance.FLAT_MM)[:-1]
        found += [(at.x, at.y) for at in (move(Point(x, y)) for x, y in places)]
    return tuple(found)


def _rim(line: Iterable[Place]) -> tuple[Place, ...]:
    return tuple((x, y) for x, y in enclosed(tuple(line)).exterior.coords[:-1])


_stance = remembered(_stance_of, 256)
