"""Where the numbers of the pieces stand on a plan: on the piece, else beside it with a leader.

Millimetres on the paper, y up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import TypeAlias

import msgspec
import numpy as np
import numpy.typing as npt
import shapely
from scipy.optimize import linear_sum_assignment
from shapely import Polygon, STRtree, box

from studio.curves import Point
from studio.exchange.clear_place import Polyline, clear_place

WidthOf: TypeAlias = Callable[[str, float, bool], float]
"""Width, mm, of a text under a size, mm; the last is whether it is bold."""

LARGEST, LEAST = 4.2, 2.2
"""Sizes of a number, mm; smaller than the least it is hard to read at the cutting table (common
practice, no source: six points are the smallest print for reading)."""

NAME = 2.8
"""Size of a piece's name below its number, mm."""

DIGITS = 0.76
"""How high digits stand, as a share of their size."""

_GAP = 0.3
"""Between a number and its piece's name, as a share of the number's size."""

_SHARES = (1.0, 0.85, 0.7, 0.6)
"""Shares of the size wished for that are tried before the least."""

_CLEAR = 0.25
"""Kept free round a number, mm."""

_STEP = 0.6
"""Between the places tried beside a piece, mm."""

_NEAREST, _FURTHER, _FURTHEST = 250, 40, 8_000
"""So many of the free places nearest to a piece are weighed for its number, and of those further
away one in so many, up to so many in all."""

_OVER_A_PIECE, _OVER_A_LEADER = 3.0, 9.0
"""A leader over another piece, or over another leader, counts as so much longer, mm."""

_BETWEEN = 1.2
"""Between two numbers of a row as they are first shared out, mm: leaders pass there."""

_OFF_NUMBERS = 0.15
"""A leader keeps so far off other numbers, mm."""

_ROOM_ENOUGH = 20.0
"""Free places for each number and mm of its width: with fewer, the room counts as full."""

_CROWD = 60
"""With more numbers beside their pieces than this all are placed anew once only, for time."""

_ROUNDS, _GAIN = 3, 1e-6
"""So often all numbers are placed anew at most; the least gain, mm, for which two change places."""

Places: TypeAlias = npt.NDArray[np.float64]


class ToNumber(msgspec.Struct, frozen=True):
    """A piece on a plan: its cut line, its name and the lines drawn on it, the grainline apart."""

    shape: Polygon
    name: str
    lines: tuple[Polyline, ...] = ()
    grain: Polyline = ()


class NumberPlace(msgspec.Struct, frozen=True):
    """The middle of a number and its size, the box it takes (left, low, right, high), the middle of
    the piece's name where that has room too, and the leader of a number that stands beside its
    piece, from the number to a place on the piece.
    """

    text: str
    name: str
    middle: Point
    size: float
    box: tuple[float, float, float, float]
    name_at: Point | None = None
    leader: tuple[Point, Point] | None = None


def number_places(
    pieces: Sequence[ToNumber],
    room: tuple[float, float, float, float],
    width_of: WidthOf,
    avoided: Sequence[Polygon] = (),
) -> tuple[NumberPlace, ...]:
    """The places of the numbers of pieces, counted from 1 in their order.

    A number that fits stands on its piece, upright and beside the lines drawn there, or over them
    where it must. Every other stands within `room`, on no piece and on nothing that is `avoided`,
    as near as can be, with a leader that crosses no other number. Numbers never cover one another.
    A number is left out only where the whole room is full. Best effort: places are sought on grids,
    so a gap smaller than their steps may be missed.
    """
    found: dict[int, NumberPlace] = {}
    taken: list[Polyline] = []
    for index, piece in enumerate(pieces):
        place = _on(piece, str(index + 1), width_of, taken)
        if place is not None:
            found[index] = place
            taken += [list(shape.exterior.coords) for shape in _covered(place, piece, width_of)]
    rest = [index for index in range(len(pieces)) if index not in found]
    if rest:
        found |= _Beside(
            pieces, rest, room, width_of, [Polygon(one) for one in taken], avoided
        ).found()
    return tuple(found[index] for index in sorted(found))


def _covered(place: NumberPlace, piece: ToNumber, width_of: WidthOf) -> list[Polygon]:
    """What a number and its piece's name cover."""
    found = [box(*place.box)]
    if place.name_at is not None:
        half = width_of(piece.name, NAME, False) / 2.0
        x, y = place.name_at.x, place.name_at.y
        found.append(box(x - half, y - NAME / 2.0, x + half, y + NAME / 2.0))
    return found


def _on(
    piece: ToNumber, text: str, width_of: WidthOf, taken: Sequence[Polyline]
) -> NumberPlace | None:
    """A number on its piece: with the name, alone, smaller, over the lines there; None where not
    even that fits.
    """
    shape = piece.shape
    near, outline = Point(*_inside(shape)), list(shape.exterior.coords)
    wished = min(LARGEST, max(LEAST, 0.35 * math.sqrt(shape.area)))
    sizes = [max(LEAST, share * wished) for share in _SHARES]
    sizes = list(dict.fromkeys([*sizes, LEAST]))
    # A name is worth more than a whole grainline, which is seen on both sides of it.
    every = (*piece.lines, piece.grain)
    tries = [(wished, True, every), (wished, True, piece.lines)]
    tries += [(size, False, lines) for lines in (every, piece.lines, ()) for size in sizes]
    for size, named, lines in tries:
        wide, high = width_of(text, size, True), DIGITS * size
        below = _GAP * size + NAME if named else 0.0
        needs = (max(wide, width_of(piece.name, NAME, False)) if named else wide, high + below)
        middle = clear_place(outline, lines, needs, near, _CLEAR, taken)
        if middle is not None:
            own = Point(middle.x, middle.y + below / 2.0)
            name_at = Point(middle.x, own.y - high / 2.0 - below + NAME / 2.0) if named else None
            return NumberPlace(text, piece.name, own, size, _box(own, wide, high), name_at)
    return None


def _box(middle: Point, wide: float, high: float) -> tuple[float, float, float, float]:
    x, y = middle.x, middle.y
    return (x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0)


class _Beside:
    """The numbers that have no room on their pieces.

    Those of pieces far from any free place are placed first, as they have the fewest to choose
    from; then each is placed anew, and two change places, where that makes leaders shorter and
    fewer of them cross.
    """

    def __init__(
        self,
        pieces: Sequence[ToNumber],
        rest: Sequence[int],
        room: tuple[float, float, float, float],
        width_of: WidthOf,
        taken: Sequence[Polygon],
        avoided: Sequence[Polygon],
    ) -> None:
        self._rest = rest
        self._names = [pieces[index].name for index in rest]
        shapes = [piece.shape for piece in pieces]
        self._pieces = STRtree(shapes)
        self._targets = np.array([_inside(shapes[index]) for index in rest])
        wides = [width_of(str(index + 1), LEAST, True) for index in rest]
        self._halves = np.array([(wide / 2.0, DIGITS * LEAST / 2.0) for wide in wides])
        wide = max(wides)
        self._widest = self._halves.max(axis=0)
        bounds = np.array([one.bounds for one in taken]).reshape(-1, 4)
        self._fixed = (bounds[:, :2], bounds[:, 2:])
        every = self._clear_of(self._grid(room), [*taken, *avoided])
        free = self._clear_of(every, shapes)
        # On other pieces only where the room is too full for anything else.
        self._places = free if len(free) > _ROOM_ENOUGH * len(rest) * wide else every
        self._at = np.full((len(rest), 2), np.nan)

    def found(self) -> dict[int, NumberPlace]:
        """A place for every number that has one."""
        if not len(self._places):
            return {}
        away = [_lengths(self._places - target) for target in self._targets]
        self._away = [np.argsort(one, kind="stable")[:_FURTHEST] for one in away]
        order = sorted(range(len(self._rest)), key=lambda k: -float(away[k].min()))
        self._share_out()
        for k in order:
            if not np.isnan(self._at[k, 0]) and not np.isfinite(self._cost(k)):
                self._at[k] = np.nan
        for _ in range(_ROUNDS if len(order) <= _CROWD else 1):
            moved = [self._place(k) for k in order]
            swapped = [self._swap(k, other) for k in order for other in order[:k]]
            if not any(moved) and not any(swapped):
                break
        return {
            index: self._made(k)
            for k, index in enumerate(self._rest)
            if not np.isnan(self._at[k, 0])
        }

    def _made(self, k: int) -> NumberPlace:
        at, target, half = self._at[k], self._targets[k], self._halves[k]
        start = np.clip(target, at - half, at + half)
        ends = (Point(float(start[0]), float(start[1])), Point(float(target[0]), float(target[1])))
        middle = Point(float(at[0]), float(at[1]))
        wide, high = (float(side) for side in 2.0 * half)
        text, name = str(self._rest[k] + 1), self._names[k]
        return NumberPlace(text, name, middle, LEAST, _box(middle, wide, high), None, ends)

    def _grid(self, room: tuple[float, float, float, float]) -> Places:
        """Middles whose boxes lie in the room."""
        left, low, right, high = room
        wide, up = self._widest + _CLEAR
        xs = np.arange(left + wide, right - wide + 1e-9, _STEP)
        ys = np.arange(low + up, high - up + 1e-9, _STEP)
        across, along = np.meshgrid(xs, ys)
        return np.column_stack([across.ravel(), along.ravel()])

    def _clear_of(self, places: Places, things: Sequence[Polygon]) -> Places:
        """The places at which a number covers none of some things."""
        if not len(places) or not things:
            return places
        low, high = places - self._widest - _CLEAR, places + self._widest + _CLEAR
        boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
        hit, _ = STRtree(things).query(boxes, predicate="intersects")
        return np.delete(places, np.unique(hit), axis=0)

    def _share_out(self) -> None:
        """Begin with places in rows and columns, shared out so that all leaders together are as
        short as can be: then none crosses another.
        """
        apart = 2.0 * self._widest + (_BETWEEN, _CLEAR)
        # One free place in each cell of a lattice, the first from its lower left.
        cells = np.floor((self._places - self._places.min(axis=0)) / apart).astype(int)
        inside = np.abs(self._places - self._places.min(axis=0) - cells * apart).max(axis=1)
        slots = self._places[inside < _STEP]
        cells = cells[inside < _STEP]
        _, first = np.unique(cells, axis=0, return_index=True)
        slots = slots[np.sort(first)]
        far = np.linalg.norm(self._targets[:, None] - slots[None], axis=2)
        rows, columns = linear_sum_assignment(far)
        self._at[rows] = slots[columns]

    def _place(self, k: int) -> bool:
        """Put a number where it costs least beside all others; gives whether it has moved."""
        before = self._at[k].copy()
        self._at[k] = np.nan
        away = self._away[k]
        tried = self._places[np.concatenate([away[:_NEAREST], away[_NEAREST::_FURTHER]])]
        if not np.isnan(before[0]):
            tried = np.vstack([before, tried])
        cost = self._costs(k, tried)
        best = int(np.argmin(cost))
        if not np.isfinite(cost[best]):
            return False
        self._at[k] = tried[best]
        return not np.isnan(before[0]) and best > 0

    def _swap(self, k: int, other: int) -> bool:
        """Let two numbers change places where that costs less."""
        mine, its = self._at[k].copy(), self._at[other].copy()
        if np.isnan(mine[0]) or np.isnan(its[0]):
            return False
        one, two = self._targets[k], self._targets[other]
        now = math.dist(mine, one) + math.dist(its, two)
        if math.dist(its, one) + math.dist(mine, two) > now - _GAIN:
            return False
        before = self._cost(k) + self._cost(other)
        self._at[k], self._at[other] = its, mine
        if self._cost(k) + self._cost(other) < before - _GAIN:
            return True
        self._at[k], self._at[other] = mine, its
        return False

    def _cost(self, k: int) -> float:
        return float(self._costs(k, self._at[k][np.newaxis])[0])

    def _costs(self, k: int, tried: Places) -> Places:
        """How long the leader of a number would be at each place, longer for all that it crosses;
        endless where it crosses a number, or a number stands there or on a leader.
        """
        target, half = self._targets[k], self._halves[k]
        starts = np.clip(target, tried - half, tried + half)
        ends = np.broadcast_to(target, starts.shape)
        cost = _lengths(starts - target)
        leaders = shapely.linestrings(np.stack([starts, ends], axis=1))
        met, _ = self._pieces.query(leaders, predicate="intersects")
        # Its own piece is met by each of them alike.
        cost = cost + _OVER_A_PIECE * np.bincount(met, minlength=len(tried))
        blocked = _through(starts, ends, *self._fixed).any(axis=1)
        others = np.flatnonzero(~np.isnan(self._at[:, 0]))
        others = others[others != k]
        at, theirs = self._at[others], self._targets[others]
        around = self._halves[others]
        from_there = np.clip(theirs, at - around, at + around)
        apart = np.abs(tried[:, None] - at[None]) - half - around - _CLEAR
        blocked |= (apart < 0.0).all(axis=2).any(axis=1)
        around = around + _OFF_NUMBERS
        blocked |= _through(starts, ends, at - around, at + around).any(axis=1)
        around = half + _OFF_NUMBERS
        blocked |= _through(from_there, theirs, tried - around, tried + around).any(axis=0)
        crossed = _crossing(starts, ends, from_there, theirs).sum(axis=1)
        cost = cost + _OVER_A_LEADER * crossed
        cost[blocked] = np.inf
        made: Places = cost
        return made


def _inside(shape: Polygon) -> tuple[float, float]:
    """A place well inside a piece."""
    centre = shape.centroid
    at = centre if shape.contains(centre) else shape.representative_point()
    return (at.x, at.y)


def _lengths(vectors: Places) -> Places:
    made: Places = np.hypot(vectors[:, 0], vectors[:, 1])
    return made


def _through(starts: Places, ends: Places, lows: Places, highs: Places) -> npt.NDArray[np.bool_]:
    """Which lines (rows) run through which boxes (columns): clipped by each pair of sides."""
    along = ends - starts
    along = np.where(np.abs(along) < 1e-12, 1e-12, along)[:, None]
    to_low, to_high = (lows - starts[:, None]) / along, (highs - starts[:, None]) / along
    enters = np.minimum(to_low, to_high).max(axis=2)
    leaves = np.maximum(to_low, to_high).min(axis=2)
    made: npt.NDArray[np.bool_] = np.maximum(enters, 0.0) <= np.minimum(leaves, 1.0)
    return made


def _crossing(starts: Places, ends: Places, froms: Places, tos: Places) -> npt.NDArray[np.bool_]:
    """Which lines (rows) cross which others (columns)."""
    a, b, c, d = starts[:, None], ends[:, None], froms[None], tos[None]
    across = _turn(a, b, c) * _turn(a, b, d) <= 0.0
    made: npt.NDArray[np.bool_] = across & (_turn(c, d, a) * _turn(c, d, b) <= 0.0)
    return made


def _turn(a: Places, b: Places, c: Places) -> Places:
    """Twice the area of the triangles, positive where they turn left."""
    made: Places = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
        c[..., 0] - a[..., 0]
    )
    return made
