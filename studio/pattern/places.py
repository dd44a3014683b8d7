"""Places along seams kept on the garment when a seam begins elsewhere: a band that comes or goes,
or its facing, makes the seams that run up to the waist longer or shorter at their ends.
"""

from __future__ import annotations

from collections.abc import Iterator

import msgspec
from msgspec.structs import replace

from studio.design import Design
from studio.design.joins import Finish, Join
from studio.design.pieces import FacingPiece
from studio.pattern.road import evaluate
from studio.sew.ease import partner_on_a
from studio.sew.sewn import MeasuredJoin, MeasuredSide, Stretch

_SAME_MM = 0.01
"""Places nearer to each other are one; a distance that changes by less stays what was typed."""

_ONE_NOTCH_MM = 0.5
"""Of two notches nearer than this that come to one seam only one is kept."""


class _Place(msgspec.Struct, frozen=True):
    """A place of the garment: how far along an edge of a panel as it was first drawn, mm, and on
    which piece; of a piece that is cut from no panel `panel` is "".
    """

    piece: str
    panel: str
    edge: str
    along: float
    is_inside: bool
    """True on the inner layer of a band."""


class _Seams(msgspec.Struct, frozen=True):
    """The measured joins of a design by name, and its facings."""

    joins: dict[str, MeasuredJoin]
    facings: frozenset[str]


def with_places_kept(before: Design, after: Design) -> Design:
    """The design `after` a change, where what was told in mm along a seam of the design `before` it
    lies at the same place of the garment: a seam's own notches, the stretch its ease is taken up
    in, and where something is caught in it. A notch whose place another seam has now is one of
    that; one that lay on what is gone is gone. Within 0.01 mm; what did not move keeps its number.

    Raises:
        BodyRefused, GeometryRefused: as `evaluate`.
    """
    told = {join.name: join for join in before.joins if join.notches or join.eased is not None}
    caught = {one.into for one in before.finishes if one.at is not None}
    if before is after or not (told or caught):
        return after
    old, new = _seams(before), _seams(after)
    moved = _Moved(old, new)
    joins = {join.name: join for join in after.joins}
    for name, join in told.items():
        if name not in old.joins or (name in joins and name not in new.joins):
            continue  # It cannot be measured, and is told as it is.
        if name in joins:
            joins[name] = moved.along(joins[name])
        for other, at in moved.elsewhere(join):
            joins[other] = _with_notch(joins[other], at)
    return replace(
        after,
        joins=tuple(joins[join.name] for join in after.joins),
        finishes=tuple(moved.caught(one) for one in after.finishes),
    )


class _Moved:
    """Distances along the seams of one design as they are along those of another."""

    def __init__(self, old: _Seams, new: _Seams) -> None:
        self._old, self._new = old, new

    def along(self, join: Join) -> Join:
        """A join that is in both with its notches and its eased stretch where they were."""
        found = [self._same(join.name, at) for at in join.notches]
        notches = tuple(at for at in found if at is not None)
        return replace(join, notches=notches, eased=self._eased(join))

    def elsewhere(self, join: Join) -> Iterator[tuple[str, float]]:
        """The other joins, by name, on which a join's notches lie now that it has them no longer,
        and how far along.
        """
        is_there = join.name in self._new.joins
        for at in join.notches:
            place = self._place(join.name, at)
            if place is None or (is_there and self._same(join.name, at) is not None):
                continue
            for name, measured in self._new.joins.items():
                if (name in self._old.joins) is is_there:
                    continue
                along = _on_either(measured, place, self._new.facings)
                if along is not None:
                    yield name, along
                    if not is_there:
                        break

    def caught(self, finish: Finish) -> Finish:
        """A finish of what is caught in a seam that is in both, where it was."""
        if finish.at is None or finish.into not in self._old.joins.keys() & self._new.joins.keys():
            return finish
        at = self._same(finish.into, finish.at)
        return finish if at is None else replace(finish, at=at)

    def _same(self, name: str, at: float) -> float | None:
        """A distance along the same join; None where its place is on it no longer. One that was
        told from the end is told so again.
        """
        place = self._place(name, at)
        side = self._new.joins[name].a
        along = None if place is None else _on_side(side, place, self._new.facings)
        if along is None:
            return None
        told = along - side.length if at < 0.0 else along
        return at if abs(told - at) < _SAME_MM else told

    def _place(self, name: str, at: float) -> _Place | None:
        side = self._old.joins[name].a
        return _place_on(side, at if at >= 0.0 else side.length + at, self._old.facings)

    def _eased(self, join: Join) -> tuple[float, float] | None:
        """The stretch over which a join is eased, as far as the join still has it; all of the join
        where it has none of it.
        """
        if join.eased is None:
            return None
        low, high = join.eased
        ends = [self._same(join.name, at) for at in (low, high)]
        if ends == [None, None]:
            return None
        return (
            0.0 if ends[0] is None else ends[0],
            self._new.joins[join.name].a.length if ends[1] is None else ends[1],
        )


def _seams(design: Design) -> _Seams:
    measured = {one.join.name: one for one in evaluate(design).measured}
    facings = (one.name for one in design.pieces if isinstance(one, FacingPiece))
    return _Seams(measured, frozenset(facings))


def _place_on(side: MeasuredSide, at: float, facings: frozenset[str]) -> _Place | None:
    """What lies `at` mm along a side; None beyond its ends."""
    for passed, one in side.walked():
        along = at - passed
        if -_SAME_MM <= along <= one.length + _SAME_MM:
            on_edge = one.edge.place(one.on_edge(min(max(along, 0.0), one.length)))
            panel = "" if one.ground is None else one.ground.panel
            return _Place(one.piece, panel, one.edge.name, on_edge, one.piece in facings)
    return None


def _on_side(side: MeasuredSide, place: _Place, facings: frozenset[str]) -> float | None:
    """How far along a side a place of the garment lies, mm; None when it is not on it."""
    for passed, one in side.walked():
        along = one.edge.along(place.along)
        if _is_on(one, place, facings) and -_SAME_MM <= along <= one.edge.length + _SAME_MM:
            return passed + one.sewn(min(max(along, 0.0), one.edge.length))
    return None


def _is_on(one: Stretch, place: _Place, facings: frozenset[str]) -> bool:
    """Whether a stretch lies on the edge of a place: of the same piece, or of another of its layer
    that is cut from the same panel.
    """
    if one.edge.name != place.edge:
        return False
    if one.piece == place.piece:
        return True
    panel = "" if one.ground is None else one.ground.panel
    return bool(panel) and panel == place.panel and (one.piece in facings) is place.is_inside


def _on_either(join: MeasuredJoin, place: _Place, facings: frozenset[str]) -> float | None:
    """How far along side a of a join a place lies, mm, or what meets it there on side b."""
    on_a = _on_side(join.a, place, facings)
    if on_a is not None:
        return on_a
    on_b = _on_side(join.b, place, facings)
    if on_b is None:
        return None
    return partner_on_a(join.join, join.a.length, join.b.length, on_b)


def _with_notch(join: Join, at: float) -> Join:
    known: tuple[float, ...] = join.notches
    if any(abs(one - at) < _ONE_NOTCH_MM for one in known):
        return join
    return replace(join, notches=(*known, at))
