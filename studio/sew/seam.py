"""What a join brings to its pieces: notches on both sides, and rows along a part of an edge."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from studio.curves import Chain, Point
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.memo import Remembered
from studio.sew.allowance import AllowanceRules
from studio.sew.match_marks import match_marks
from studio.sew.notches import NotchPlace, lonely_notches, notch_places
from studio.sew.sewn import MeasuredJoin
from studio.sew.topstitch import partial_rows, row_ends


class Seam(msgspec.Struct, frozen=True):
    """Where the pieces of a join are notched, which notches (mm along their side) nothing meets,
    rows on edges of which the join takes only a part, each with its piece, and where a piece is
    drilled because stitching of a patch laid on it goes on there.
    """

    places: tuple[NotchPlace, ...]
    lonely: tuple[float, ...]
    rows: tuple[tuple[str, Chain], ...]
    drills: tuple[tuple[str, Point], ...] = ()


def seam_of(
    join: MeasuredJoin,
    pieces: Mapping[str, Piece],
    rules: AllowanceRules,
    asked: tuple[Topstitch, ...] = (),
) -> Seam:
    """What a measured join brings; `asked` are the rows the maker asks for on its pieces.

    The same object again while the join and what it lies on have not changed, so that pieces which
    meet a changed piece only elsewhere are left alone.
    """
    name = join.join.name
    caught = tuple(
        finish.at for finish in rules.finishes if finish.into == name and finish.at is not None
    )
    try:
        stitched = row_ends(join, pieces, asked)
        drills = match_marks(join, pieces, asked)
    except GeometryRefused:
        # Told where the rows themselves could not be made.
        stitched, drills = (), ()
    return _seam(join, (*caught, *stitched), drills, rules.standard)


def _seam_on(
    join: MeasuredJoin,
    also: tuple[float, ...],
    drills: tuple[tuple[str, Point], ...],
    standard: float,
) -> Seam:
    places = tuple(notch_places(join, also))
    lonely = tuple(lonely_notches(join, places))
    return Seam(places, lonely, partial_rows(join, standard), drills)


_seam = Remembered(_seam_on, 400)
