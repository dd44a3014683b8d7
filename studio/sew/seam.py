"""What a join brings to its pieces: notches on both sides, and rows along a part of an edge."""

from __future__ import annotations

from collections.abc import Mapping

from studio.curves import Chain, Point
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.memo import Made, remembered
from studio.sew.allowance import AllowanceRules
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.loop_places import places_in, places_round
from studio.sew.loops import Waist
from studio.sew.match_marks import drills_under, ends_at_patch, ends_of_patch
from studio.sew.measure import measured
from studio.sew.notches import NotchPlace, given_places, lonely_notches, notch_places
from studio.sew.sewn import MeasuredJoin
from studio.sew.topstitch import partial_rows, row_ends, rows_that_can_be


class Brought(Made, frozen=True):
    """What a join brings to one of its pieces: where that is notched, rows on an edge of which the
    join takes only a part, and where it is drilled because stitching of a patch laid on it goes on
    there.
    """

    places: tuple[NotchPlace, ...]
    rows: tuple[Chain, ...]
    drills: tuple[Point, ...]


class Seam(Made, frozen=True):
    """What a join brings to its pieces, by name, and which notches (mm along their side) nothing
    meets.
    """

    brought: dict[str, Brought]
    lonely: tuple[float, ...]


def seam_of(
    join: MeasuredJoin,
    pieces: Mapping[str, Piece],
    rules: AllowanceRules,
    asked: tuple[Topstitch, ...] = (),
    waist: Waist | None = None,
) -> Seam:
    """What a measured join brings; `asked` are the rows the maker asks for on its pieces, `waist`
    the waist of which it sews a part when loops are spread round that; `pieces` are those of all of
    its joins.

    The same object again while the join and what it lies on have not changed, so that pieces which
    meet a changed piece only elsewhere are left alone.
    """
    name = join.join.name
    caught = tuple(
        finish.at for finish in rules.finishes if finish.into == name and finish.at is not None
    )
    if waist is not None:
        caught += _loops_in(join, waist, pieces)
    stitched = {row.piece for row in asked}
    read = tuple(piece for name, piece in pieces.items() if name in stitched)
    try:
        notched, drilled = _stitched(join, read, asked) if asked else ((), ())
    except GeometryRefused:
        # Told where the rows themselves could not be made.
        notched, drilled = _stitched(join, read, rows_that_can_be(pieces, asked)[0])
    return _seam(join, caught, notched, drilled, rules.standard)


def _loops_in(join: MeasuredJoin, waist: Waist, pieces: Mapping[str, Piece]) -> tuple[float, ...]:
    """Where loops of every kind are caught in a join, mm along side a; nowhere while another join
    of that waist cannot be made.
    """
    try:
        run = tuple([measured(one, pieces) for one in waist.run])
    except GeometryRefused:
        return ()
    places = places_round(run, waist.kinds)
    return tuple(mm for kind in places.values() for mm in places_in(join, run, kind))


def _stitched_on(
    join: MeasuredJoin, stitched: tuple[Piece, ...], asked: tuple[Topstitch, ...]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where asked rows of the pieces that are `stitched` run into a join, mm along side a: where
    both sides, or a patch, are notched, and where what lies beneath a patch is drilled.
    """
    pieces = {piece.name: piece for piece in stitched}
    if CONSTRUCTIONS[join.join.construction].is_notched:
        return row_ends(join, pieces, asked), ()
    return ends_at_patch(join, pieces, asked), ends_of_patch(join, pieces, asked)


def _seam_on(
    join: MeasuredJoin,
    caught: tuple[float, ...],
    notched: tuple[float, ...],
    drilled: tuple[float, ...],
    standard: float,
) -> Seam:
    places = notch_places(join, (*caught, *notched))
    lonely = tuple(lonely_notches(join, places))
    drills: tuple[tuple[str, Point], ...] = ()
    if not CONSTRUCTIONS[join.join.construction].is_notched:
        drills = drills_under(join, (*given_places(join, caught), *drilled))
    rows = partial_rows(join, standard)
    brought = {
        piece: _brought(
            tuple([place for place in places if place.piece == piece]),
            tuple([row for owner, row in rows if owner == piece]),
            tuple([drill for owner, drill in drills if owner == piece]),
        )
        for piece in join.pieces
    }
    return Seam(brought, lonely)


_brought = remembered(Brought, 1600)
"""Most of a join's pieces are as they were when another of them changes."""
_seam = remembered(_seam_on, 400)
_stitched = remembered(_stitched_on, 400)
