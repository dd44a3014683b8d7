"""A piece laid on another along a line drawn there, as a patch is: how the line runs, and where
the piece lies.

Such a piece lies on the other instead of beside it, so neither the rule that the two sides of a
seam run round their pieces in opposite directions nor that they lie on opposite sides of it holds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from studio.curves import Chain, Point
from studio.memo import remembered
from studio.sew.ease import partner_of, partner_on_a
from studio.sew.sewn import MeasuredJoin, MeasuredSide, Stretch


class LaidOn(NamedTuple):
    """Which side of a join is a line drawn on its pieces (`under`) and which is laid along it
    (`over`); whether what is laid lies to the left of the line as it is walked, and whether it is
    turned over for that.
    """

    over: MeasuredSide
    under: MeasuredSide
    lies_left: bool
    is_turned_over: bool


def laid_on(join: MeasuredJoin) -> LaidOn | None:
    """How a join lays pieces on others; None when it sews edges to edges.

    Of two pieces cut along one line, one lies on the other as they were drawn. Where the lines
    differ, a piece of the other leg is turned over, as in any seam.
    """
    if _is_drawn(join.b) and not _is_drawn(join.a):
        over, under, is_against = join.a, join.b, join.join.a.mirrored
    elif _is_drawn(join.a) and not _is_drawn(join.b):
        over, under, is_against = join.b, join.a, not join.join.b.mirrored
    else:
        return None
    names = {one.edge.name for one in over.stretches}
    is_one_line = all(one.edge.name in names for one in under.stretches)
    turned = join.join.a.mirrored != join.join.b.mirrored and not is_one_line
    return LaidOn(over, under, is_against == turned, turned)


class Spot(NamedTuple):
    """A place of a side: mm along the open edge of one of its stretches, `passed` mm of the side
    before which are sewn.
    """

    passed: float
    stretch: Stretch
    along: float

    @property
    def sewn(self) -> float:
        """How far along its side it is, mm."""
        return self.passed + self.stretch.sewn(self.along)


def across(join: MeasuredJoin, side: MeasuredSide, spot: Spot) -> Spot | None:
    """The place on the other side that meets a place of a side; None beyond its ends.

    On the edge of the same name it is the same place of the edge first drawn; else it is as far
    along the seam.
    """
    other = join.b if side is join.a else join.a
    edge = spot.stretch.edge
    for passed, one in other.walked():
        if one.edge.name == edge.name:
            along = one.edge.along(edge.place(spot.along))
            return Spot(passed, one, along) if 0.0 <= along <= one.edge.length else None
    return spot_at(other, partner(join, side, spot.sewn))


def partner(join: MeasuredJoin, side: MeasuredSide, along: float) -> float:
    """The place on the other side (mm) that meets a place `along` a side, by walked length."""
    lengths = join.a.length, join.b.length
    if side is join.a:
        return partner_of(join.join, *lengths, along)
    return partner_on_a(join.join, *lengths, along)


def spot_at(side: MeasuredSide, along: float) -> Spot | None:
    """The place `along` mm of a side; None beyond its ends."""
    for passed, one in side.walked():
        if 0.0 <= along - passed <= one.length:
            return Spot(passed, one, one.on_edge(along - passed))
    return None


def run_alike(side: tuple[Stretch, ...], other: tuple[Stretch, ...]) -> tuple[Stretch, ...]:
    """A side on which every line drawn on a piece runs as the edge of the same name does on the
    other, and else from where the line before it ends; the same objects where nothing is turned.
    """
    if all([one.ground is not None for one in side]):
        return side
    edges = {one.edge.name: one for one in other if one.ground is not None}
    found: list[Stretch] = []
    for at, one in enumerate(side):
        if one.ground is None and _runs_back(side, at, found, edges):
            one = _turned(one)
        found.append(one)
    return tuple(found)


def _runs_back(
    side: Sequence[Stretch], at: int, before: Sequence[Stretch], edges: Mapping[str, Stretch]
) -> bool:
    one = side[at]
    edge = edges.get(one.edge.name)
    if edge is not None:
        return edge.edge.start > edge.edge.end
    chain = one.edge.chain
    if before:
        end = before[-1].edge.chain.end
        return chain.end.distance_to(end) < chain.start.distance_to(end)
    if at + 1 < len(side):
        after = side[at + 1].edge.chain
        return _apart(chain.start, after) < _apart(chain.end, after)
    return False


def _apart(place: Point, chain: Chain) -> float:
    """How far a place is from the nearer end of a chain, mm."""
    return min(place.distance_to(end) for end in (chain.start, chain.end))


def _is_drawn(side: MeasuredSide) -> bool:
    return all([one.ground is None for one in side.stretches])


def _turned_of(one: Stretch) -> Stretch:
    return Stretch.of(one.piece, one.edge.reversed())


_turned = remembered(_turned_of, 400)
