"""Where stitching goes on across the edge of a patch, marked on it and on what it is laid on.

The piece beneath bears only a line there, in which no notch can be cut: it is drilled, just under
the patch. The patch is notched in what is turned in; where nothing is turned in, neither a notch
nor a hole would be hidden, and it is left alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.curves import Point, Vector
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.sew.laid_on import LaidOn, Spot, across, laid_on, partner, spot_at
from studio.sew.notches import APART
from studio.sew.sewn import MeasuredJoin, MeasuredSide
from studio.sew.topstitch import asked_rows, runs_out_at

INSIDE_MM = 3.0
"""A match mark lies so far inside the patch's edge, as those of its corners do: the patch covers
the hole (practice)."""

_SLANT_LEAST = 0.1
"""Sine of the least angle (6 degrees) at which a row runs into a line, not beside it."""


def ends_of_patch(
    join: MeasuredJoin, pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> tuple[float, ...]:
    """Where rows the maker asks for on a patch run out at its edge, mm along side a: what lies
    beneath is drilled there. None where a join lays nothing on a line.

    A corner of the patch, which is drilled anyway, stands for a row that ends near it.

    Raises:
        GeometryRefused: a piece has no edge or mark that `asked` names.
    """
    lies = laid_on(join)
    if lies is None:
        return ()
    ends = [spot.sewn for spot, _ in _ends(lies.over, pieces, asked) if _is_clear(spot)]
    return _on_a(join, lies, sorted(ends))


def ends_at_patch(
    join: MeasuredJoin, pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> tuple[float, ...]:
    """Where rows the maker asks for on the piece beneath a patch run up to it and end there, mm
    along side a: there the patch's edge is notched, so that stitching goes on across it.

    A row that passes under the patch, or comes to its edge from under it, has nothing to be matched
    with. A corner of the patch stands for a row that ends near it.

    Raises:
        GeometryRefused: a piece has no edge or mark that `asked` names.
    """
    lies = laid_on(join)
    if lies is None:
        return ()
    found = []
    for spot, inward in _ends(lies.under, pieces, asked):
        way = spot.stretch.edge.chain.tangent(spot.along)
        outside = way.right() if lies.lies_left else way.left()
        there = across(join, lies.under, spot)
        if inward.dot(outside) > _SLANT_LEAST and there is not None and _is_clear(there):
            found.append(there.sewn)
    return _on_a(join, lies, found)


def drills_under(join: MeasuredJoin, places: Sequence[float]) -> tuple[tuple[str, Point], ...]:
    """Where the piece beneath a patch is drilled, just under its edge, for places mm along side a;
    each with the name of that piece. Places nearer to each other than notches may be share one.
    """
    lies = laid_on(join)
    if lies is None:
        return ()
    kept: list[float] = []
    for place in places:
        if all(abs(place - other) > APART for other in kept):
            kept.append(place)
    found = [_drilled(join, lies, place) for place in kept]
    return tuple([one for one in found if one is not None])


def _on_a(join: MeasuredJoin, lies: LaidOn, places: Sequence[float]) -> tuple[float, ...]:
    """Places along the patch's side as such along side a, mm."""
    if lies.over is join.a:
        return tuple(places)
    return tuple([partner(join, join.b, place) for place in places])


def _ends(
    side: MeasuredSide, pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> Iterator[tuple[Spot, Vector]]:
    """Where rows on the pieces of a side end at it, each with its direction from there on."""
    for passed, one in side.walked():
        for row in asked:
            if row.piece != one.piece or row.along == one.edge.name:
                continue
            for line in asked_rows(pieces[one.piece], (row,)):
                for end, inward in (
                    (line.start, line.start_tangent),
                    (line.end, -line.end_tangent),
                ):
                    along = runs_out_at(one.edge.chain, end)
                    if along is not None:
                        yield Spot(passed, one, along), inward


def _is_clear(spot: Spot) -> bool:
    """True for a place clear of the corners at the ends of its stretch."""
    return APART < spot.along < spot.stretch.edge.length - APART


def _drilled(join: MeasuredJoin, lies: LaidOn, place: float) -> tuple[str, Point] | None:
    """What is drilled for a place mm along side a; None where no line lies."""
    there = spot_at(join.a, place)
    if there is not None and lies.over is join.a:
        there = across(join, join.a, there)
    if there is None:
        return None
    at, way = there.stretch.edge.chain.at_and_along(there.along)
    return there.stretch.piece, at + (way.left() if lies.lies_left else way.right()) * INSIDE_MM
