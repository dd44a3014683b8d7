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
    that it encloses. Of a `paired` piece odd copies are mirrored. `off_warp` is the turn off the
    warp that it is made for, which tells how much larger it is cut.
    """

    piece: str
    move: Affine
    cut: tuple[Place, ...]
    sewing: tuple[Place, ...]
    paired: bool
    off_warp: float = 0.0


def stance_of(
    sewn: SewnPiece,
    cloth: Cloth | None = None,
    shortages: tuple[Shortage, ...] = (),
    off_warp: float = 0.0,
) -> Stance:
    """The stance of a piece on a cloth; without one nothing shrinks. A copy that does without
    `shortages` has the narrower cut line, and its origin where a whole one has it. The same piece,
    cloth and shortages give the same stance again.

    Cloth that shrinks otherwise in its length than in its width is cut otherwise for each turn:
    `off_warp` is that of the piece, in degrees counter-clockwise, before it is mirrored.
    """
    return _stance(sewn, cloth, shortages, off_warp % 180.0 if shrinks_unevenly(cloth) else 0.0)


def shrinks_unevenly(cloth: Cloth | None) -> bool:
    """Whether the first wash takes more off one direction of a cloth than off the other."""
    return cloth is not None and cloth.warp_shrinkage != cloth.weft_shrinkage


def _stance_of(
    sewn: SewnPiece, cloth: Cloth | None, shortages: tuple[Shortage, ...], off_warp: float
) -> Stance:
    upright = Affine.turn(90.0 - sewn.piece.warp, Point(0.0, 0.0)).then(_grown(cloth, off_warp))
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
        off_warp,
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
    return mirrors(stance.paired, copy, flipped=flipped)


def mirrors(paired: bool, copy: int, *, flipped: bool) -> bool:
    """Whether a copy of a piece, cut as a pair or not, lies as its mirror image."""
    return (paired and copy % 2 == 1) != flipped


def laid(places: Iterable[Place], move: Affine) -> Polygon:
    """A line of a stance as a polygon where it lies."""
    return Polygon([(at.x, at.y) for at in (move(Point(x, y)) for x, y in places)])


def _grown(cloth: Cloth | None, off_warp: float) -> Affine:
    """What must be cut so that what is wanted is left after the first wash: turned as it will lie,
    grown along warp and weft, turned back.
    """
    if cloth is None:
        return Affine()
    across = 1.0 / (1.0 - cloth.weft_shrinkage / 100.0)
    along = 1.0 / (1.0 - cloth.warp_shrinkage / 100.0)
    if off_warp == 90.0:
        across, along = along, across
    grown = Affine(xx=across, yy=along)
    if off_warp in (0.0, 90.0):
        return grown
    origin = Point(0.0, 0.0)
    return Affine.turn(off_warp, origin).then(grown).then(Affine.turn(-off_warp, origin))


def _points(chains: Iterable[Chain], move: Affine) -> tuple[Place, ...]:
    found: list[Place] = []
    for chain in chains:
        places = chain.polyline(tolerance.FLAT_MM)[:-1]
        found += [(at.x, at.y) for at in (move(Point(x, y)) for x, y in places)]
    return tuple(found)


def _rim(line: Iterable[Place]) -> tuple[Place, ...]:
    return tuple((x, y) for x, y in enclosed(tuple(line)).exterior.coords[:-1])


_stance = remembered(_stance_of, 256)
