"""Pieces that lie almost clear of each other and of the cloth's edge, moved until they are exactly.

The area that a piece shares with others, or has beyond the cloth, falls the fastest against the
sum of the outward normals of the piece's edges in that area, and turns with their moment about
its origin. Each piece in turn steps that way as far as the area would vanish if it fell evenly.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import msgspec
import numpy as np
import shapely
from msgspec.structs import replace
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from studio.cloth.board import Board, Spot
from studio.cloth.clearance import beyond, too_near

_SPARE = 0.03
"""Repair keeps pieces so many mm farther apart and inside than asked, for what chords and a last
rest of area take away.
"""
_PLAIN = 0.04
"""Corners that lie within so many mm are taken out of lines before; the spare covers it."""
_LONGEST_STEP = 1.5
_SWEEPS = 60
_REST_MM2 = 0.3
_JITTER_CELLS = 0.6
_ON_EDGE = 1e-6
_PATIENCE, _GAIN = 6, 0.7
"""After so many sweeps the area must have fallen to such a share, else the try is given up."""
_FLAT = 1e-9
"""Mm: below this the pushes on a piece cancel."""
_OVER = 1.1
"""Steps go a little farther than the area would need: corners give way slower than edges."""


class Figure(msgspec.Struct, frozen=True):
    """Lines of a figure unturned: exact; thinned, for the edge of the cloth; that grown by half the
    gap, for other pieces.
    """

    exact: NDArray[np.float64]
    plain: NDArray[np.float64]
    grown: NDArray[np.float64]


class Resting(msgspec.Struct, frozen=True):
    """A piece while it is moved: its spot and its two lines there."""

    spot: Spot
    plain: Polygon
    grown: Polygon


class Repair:
    """Exact repair on the grids of a board; thinned figures are kept."""

    def __init__(self, board: Board, rng: np.random.Generator) -> None:
        self._board = board
        self._rng = rng
        self._figures: dict[int, Figure] = {}

    def on(
        self, board: Board, grid: int, spots: Mapping[int, Spot], tries: int = 1
    ) -> dict[int, Spot] | None:
        """Spots of all candidates on one grid of a board, moved until the referee's distances hold;
        None when that was not reached in so many tries, each after the first from shaken places.
        """
        for trial in range(tries):
            start = spots if trial == 0 else self._shaken(spots)
            found = self._settled(start, board.grids[grid].usable)
            if found is not None and self.clear(board, grid, found):
                return found
        return None

    def clear(self, board: Board, grid: int, spots: Mapping[int, Spot]) -> bool:
        """Whether exact lines lie in the cloth and as far apart as asked."""
        usable, gap = board.grids[grid].usable, board.task.gap
        lines = [_placed(self._figure(spot.pose.figure).exact, spot) for spot in spots.values()]
        return all(
            beyond(line, usable) is None
            and all(too_near(line, other, gap) is None for other in lines[:index])
            for index, line in enumerate(lines)
        )

    def _shaken(self, spots: Mapping[int, Spot]) -> dict[int, Spot]:
        far = _JITTER_CELLS * self._board.cell
        return {
            one: replace(
                spot,
                x=spot.x + self._rng.uniform(-far, far),
                y=spot.y + self._rng.uniform(-far, far),
            )
            for one, spot in spots.items()
        }

    def _settled(self, start: Mapping[int, Spot], usable: MultiPolygon) -> dict[int, Spot] | None:
        shapely.prepare(usable)
        resting = {one: self._resting(spot) for one, spot in start.items()}
        before = math.inf
        for sweep in range(_SWEEPS):
            total = 0.0
            for one in self._rng.permutation(list(resting)).tolist():
                others = [other.grown for key, other in resting.items() if key != one]
                push = _push(resting[one], others, usable)
                total += push.area
                self._board.tally.count += 1
                if push.area > 0.0:
                    reach = self._board.reach[resting[one].spot.pose.figure]
                    resting[one] = self._resting(_stepped(resting[one].spot, push, reach))
            if total <= _REST_MM2:
                return {one: piece.spot for one, piece in resting.items()}
            if sweep % _PATIENCE == _PATIENCE - 1:
                if total > _GAIN * before:
                    return None
                before = total
        return None

    def _resting(self, spot: Spot) -> Resting:
        figure = self._figure(spot.pose.figure)
        return Resting(spot, _placed(figure.plain, spot), _placed(figure.grown, spot))

    def _figure(self, index: int) -> Figure:
        found = self._figures.get(index)
        if found is None:
            exact = Polygon(self._board.task.figures[index])
            found = self._figures[index] = Figure(
                shapely.get_coordinates(exact)[:-1],
                _thinned(exact, _SPARE),
                _thinned(exact, self._board.task.gap / 2.0 + _SPARE),
            )
        return found


class Push(msgspec.Struct, frozen=True):
    """What is in a piece's way: its area, and how that grows with a move and a turn (radians)."""

    area: float
    x: float
    y: float
    moment: float


def _push(piece: Resting, others: Sequence[Polygon], usable: MultiPolygon) -> Push:
    pushes: list[Push] = []
    if not usable.covers(piece.plain):
        pushes.append(_pushed(piece.plain.difference(usable), piece.plain, piece.spot))
    low_x, low_y, high_x, high_y = piece.grown.bounds
    for other in others:
        left, bottom, right, top = other.bounds
        if left < high_x and right > low_x and bottom < high_y and top > low_y:
            shared = piece.grown.intersection(other)
            if shared.area > 0.0:
                pushes.append(_pushed(shared, piece.grown, piece.spot))
    return Push(
        sum(push.area for push in pushes),
        sum(push.x for push in pushes),
        sum(push.y for push in pushes),
        sum(push.moment for push in pushes),
    )


def _pushed(region: BaseGeometry, piece: Polygon, spot: Spot) -> Push:
    """The area of a region of a piece, and the sum and moment of outward normals along those edges
    of it that are the piece's own.
    """
    x = y = moment = 0.0
    for part in getattr(region, "geoms", (region,)):
        if not isinstance(part, Polygon):
            continue
        for ring in (orient(part).exterior, *orient(part).interiors):
            corners = shapely.get_coordinates(ring)
            along = np.diff(corners, axis=0)
            middles = (corners[1:] + corners[:-1]) / 2.0
            own = shapely.distance(shapely.points(middles), piece.exterior) < _ON_EDGE
            normal_x, normal_y = along[own, 1], -along[own, 0]
            arm_x, arm_y = middles[own, 0] - spot.x, middles[own, 1] - spot.y
            x += float(normal_x.sum())
            y += float(normal_y.sum())
            moment += float((arm_x * normal_y - arm_y * normal_x).sum())
    return Push(float(region.area), x, y, moment)


def _stepped(spot: Spot, push: Push, reach: float) -> Spot:
    """A spot moved and turned out of the way, the turn within what its pose allows."""
    turning = push.moment / reach if spot.pose.tolerance > 0.0 else 0.0
    steep = math.sqrt(push.x**2 + push.y**2 + turning**2)
    if steep < _FLAT:
        return spot
    step = min(_OVER * push.area / steep, _LONGEST_STEP) / steep
    turn = spot.turn
    if turning:
        base, most = spot.pose.turn, spot.pose.tolerance
        off = (turn - base + 180.0) % 360.0 - 180.0 - math.degrees(step * turning / reach)
        turn = base + max(-most, min(most, off))
    return replace(spot, x=spot.x - step * push.x, y=spot.y - step * push.y, turn=turn)


def _placed(line: NDArray[np.float64], spot: Spot) -> Polygon:
    cosine, sine = math.cos(math.radians(spot.turn)), math.sin(math.radians(spot.turn))
    turned = line @ np.array([[cosine, sine], [-sine, cosine]])
    return Polygon(turned + np.array([spot.x, spot.y]))


def _thinned(exact: Polygon, grow: float) -> NDArray[np.float64]:
    wide = exact.buffer(grow, quad_segs=8).simplify(_PLAIN)
    line: NDArray[np.float64] = shapely.get_coordinates(orient(wide).exterior)[:-1]
    return line
