"""A piece moved by hand: it stops at the edges of the cloth and at the other pieces, and slides."""

from __future__ import annotations

import math

import numpy as np
import shapely
from msgspec.structs import replace
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from studio.cloth.bed import Bed
from studio.cloth.items import Way
from studio.cloth.no_fit import Shape, inner_fit, no_fit, shape_of
from studio.cloth.stance import Stance, is_mirrored
from studio.cloth.table import Table, stance_there
from studio.design.cloth import Place, Placement

BACK_OFF_MM = 0.002
"""So much more than the gap is kept by hand, that rounding never counts as a clash."""

FINE_TURN = 0.5
"""A fine turn within the tolerance of a piece, degrees."""


class Hand:
    """A piece in hand, over a table from which it has been lifted.

    Where it may lie is worked out once for each stock, turn and face it is held over: 2 to 10 ms
    for each other piece there, and remembered for the next time the same two pieces meet. After
    that a place is found in well under a millisecond.
    """

    def __init__(self, table: Table, held: Placement) -> None:
        self._table = table
        self._home = held if held.stock in table.beds else None
        self._item = table.items[held.piece, held.copy]
        self._regions: dict[tuple[str, float, bool], BaseGeometry] = {}

    @property
    def home(self) -> Placement | None:
        """Where it was lifted from; None when it had not been laid."""
        return self._home

    def may_lie_on(self, stock: str) -> bool:
        """Whether its cloth and its rule let it lie there."""
        return bool(self._item.ways_on(stock))

    def over(self, stock: str, held: Placement, wanted: Place) -> Placement | None:
        """The nearest to `wanted` where it may lie on a stock: at least the gap from all others, on
        usable cloth, turned and faced as held where it may be. None when there is no such place.

        Gives up to 0.2 mm of cloth away where outlines are curved; straight edges meet exactly.
        """
        held = replace(held, stock=stock)
        way = self._item.way(held)
        if way is None:
            return None
        posed = posed_on(way, held)
        region = self._region(way, posed)
        found = None if region.is_empty else _nearest(region, wanted)
        home = self._home
        if home is not None and _alike(home, posed):
            # What the search has laid closer than a hand can is let back to where it was.
            found = _nearer(wanted, found, home.at)
        return None if found is None else replace(posed, at=found)

    def insisted(self, stock: str, held: Placement, wanted: Place) -> Placement:
        """Exactly where it is held, whatever lies there."""
        moved = replace(held, stock=stock, at=wanted)
        way = self._item.way(moved)
        return moved if way is None else posed_on(way, moved)

    def turned(self, held: Placement, *, steps: int = 0, fine: float = 0.0) -> Placement:
        """By so many of the turns it may have, or by `fine` degrees as far as its tolerance."""
        way = self._item.way(held)
        if way is None:
            return held
        if not steps:
            return replace(held, turn=_allowed(way, held.turn + fine))
        ways = self._item.ways_on(held.stock)
        turns = sorted({turn for one in ways for turn in one.turns})
        base = min(turns, key=lambda one: abs(_between(one, held.turn)))
        return replace(held, turn=turns[(turns.index(base) + steps) % len(turns)])

    def flipped(self, held: Placement) -> Placement:
        """Face down, or up again, where the cloth has two good sides."""
        other = replace(held, flipped=not held.flipped)
        way = self._item.way(other)
        return other if way is not None and other.flipped in way.faces else held

    def _region(self, way: Way, held: Placement) -> BaseGeometry:
        key = held.stock, held.turn, held.flipped
        known = self._regions.get(key)
        if known is None:
            known = self._regions[key] = self._worked_out(way, held)
        return known

    def _worked_out(self, way: Way, held: Placement) -> BaseGeometry:
        bed = self._table.beds[held.stock]
        shape = shape_on(way.stance, held, bed)
        usable = bed.usable.buffer(-BACK_OFF_MM, join_style="mitre")
        region = inner_fit(shapely.multipolygons(_polygons(usable)), shape)
        gap = self._table.lay.gap + BACK_OFF_MM
        forbidden = []
        for other in self._table.laid:
            if other.stock != held.stock or (other.piece, other.copy) == (held.piece, held.copy):
                continue
            fixed = shape_on(stance_there(self._table, other), other, bed)
            x, y = other.at
            forbidden.append(shapely.transform(no_fit(fixed, shape, gap), _Shift(x, y)))
        if forbidden:
            region = region.difference(shapely.union_all(forbidden))
        shapely.prepare(region)
        return region


def posed_on(way: Way, held: Placement) -> Placement:
    """Turned and faced as it is held, or as near to that as a way allows."""
    flipped = held.flipped if held.flipped in way.faces else way.faces[0]
    return replace(held, turn=_allowed(way, held.turn), flipped=flipped)


def shape_on(stance: Stance, placement: Placement, bed: Bed) -> Shape:
    """A piece as it is turned and mirrored on a bed, its middle at the origin."""
    mirrored = is_mirrored(stance, placement.copy, placement.flipped)
    return shape_of(stance.cut, bed.warp - 90.0 + placement.turn, mirrored)


class _Shift:
    """Moves an array of places."""

    def __init__(self, x: float, y: float) -> None:
        self._step = np.array((x, y))

    def __call__(self, places: np.ndarray) -> np.ndarray:
        shifted: np.ndarray = places + self._step
        return shifted


def _nearest(region: BaseGeometry, wanted: Place) -> Place:
    point = shapely.Point(wanted)
    if shapely.covers(region, point):
        return wanted
    on_edge, _ = nearest_points(region, point)
    return (on_edge.x, on_edge.y)


def _nearer(wanted: Place, one: Place | None, other: Place) -> Place:
    if one is None or math.dist(wanted, other) < math.dist(wanted, one):
        return other
    return one


def _alike(one: Placement, other: Placement) -> bool:
    return (one.stock, one.turn, one.flipped) == (other.stock, other.turn, other.flipped)


def _allowed(way: Way, turn: float) -> float:
    """The nearest turn a way allows; `turn` itself when it is one."""
    base = min(way.turns, key=lambda one: abs(_between(one, turn)))
    off = _between(base, turn)
    if abs(off) <= way.tolerance + 1e-9:
        return turn
    return base + math.copysign(way.tolerance, off)


def _between(base: float, turn: float) -> float:
    """How far a turn is beyond another, from -180 to 180 degrees."""
    return (turn - base + 180.0) % 360.0 - 180.0


def _polygons(area: BaseGeometry) -> list[BaseGeometry]:
    return [part for part in shapely.get_parts(area) if part.geom_type == "Polygon"]
