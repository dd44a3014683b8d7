"""Shortfall: for a piece that fits nowhere whole, the place where it loses least.

It is sought on cells with ever less of the allowances; the best places are then refined on the
exact outlines, and what is missing is told edge by edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TypeAlias

import msgspec
import numpy as np
import shapely
from msgspec.structs import replace
from numpy.typing import NDArray
from scipy.optimize import minimize
from shapely.ops import unary_union

from studio.cloth.bed import Bed, areas_of
from studio.cloth.items import Item, Way
from studio.cloth.missing import Lying, missing_at
from studio.cloth.nest import Nest, nest_of
from studio.cloth.raster import Amounts, Grid, Mask, grid_of, mask_of, on_stock, overlaps, turned
from studio.cloth.stance import is_mirrored, laid, lying
from studio.design.cloth import Place, Placement
from studio.sew import SewnPiece

FREE_CELLS = 0.5
"""A mask over less than this many forbidden cells lies free."""

_CANDIDATES = 4
_PER_MAP = 2
_APART_CELLS = 8
"""Candidates on one map lie at least so far apart, so that they are different places."""

_STEPS = 36
_FIRST_STEP_MM = 2.0
_SIMPLE_MM = 0.4
_INSIDE_WEIGHT = 40.0
"""Cloth missing inside the sewing line weighs so much more than that of allowances."""

Nests: TypeAlias = Mapping[tuple[Place, ...], Nest]
"""The nests of a piece by its cut line."""


class _Spot(msgspec.Struct, frozen=True):
    """A place found on cells: on which grid, in which way, turned and faced how, how much of the
    allowances is free there (index into the nest), cells missing of the whole, and where its
    origin lies in the grain frame, mm.
    """

    grid: Grid
    way: Way
    turn: float
    flipped: bool
    level: int
    lost: float
    x: float
    y: float


def least_loss(
    item: Item, sewn: SewnPiece, beds: Iterable[Bed], nests: Nests | None = None
) -> Lying | None:
    """Where a piece loses least on the beds it may be cut from, and exactly what; nothing missing
    where it fits. None when it may be cut from none of them. `nests` may be given to save making
    them again (`nests_of`).

    The place is the best found on cells of 3 mm, refined to about 0.1 mm: best effort. What is
    told of it is exact, as `missing_at`.
    """
    found = losses(item, sewn, beds, nests, count=1)
    return found[0] if found else None


def losses(
    item: Item,
    sewn: SewnPiece,
    beds: Iterable[Bed],
    nests: Nests | None = None,
    *,
    count: int = 3,
) -> tuple[Lying, ...]:
    """Up to `count` of the best places, as `least_loss`, the one that loses least first: those
    that keep more of every allowance before others, then by the cloth they lack.
    """
    known = nests if nests is not None else nests_of(item, sewn)
    by_name = {bed.name: bed for bed in beds}
    refined = [
        (*_refined(item, spot, known[spot.way.stance.cut]), spot.way)
        for spot in _spots(item, known, list(by_name.values()))
    ]
    refined.sort(key=lambda one: one[0])
    return tuple(
        missing_at(sewn, way, placement, by_name[way.stock])
        for _, placement, way in refined[:count]
    )


def nests_of(item: Item, sewn: SewnPiece) -> Nests:
    """The nest of a piece for each cut line that it may have; one for all that shrink alike."""
    stances = {way.stance.cut: way.stance for way in item.ways}
    return {cut: nest_of(sewn, stance) for cut, stance in stances.items()}


def cleared(
    beds: Iterable[Bed], items: Iterable[Item], placements: Sequence[Placement], gap: float
) -> tuple[Bed, ...]:
    """The beds without what other pieces laid on them take up, `gap` mm round each."""
    by_copy = {(item.piece, item.copy): item for item in items}
    found = []
    for bed in beds:
        taken = []
        for placement in placements:
            item = by_copy.get((placement.piece, placement.copy))
            way = item.way(placement) if item is not None and placement.stock == bed.name else None
            if way is not None:
                there = laid(way.stance.cut, lying(way.stance, placement, bed.warp))
                taken.append(there.buffer(gap))
        if not taken:
            found.append(bed)
            continue
        left = bed.usable.difference(unary_union(taken))
        found.append(replace(bed, usable=areas_of(left)))
    return tuple(found)


def padded(grid: Grid, mm: float) -> Grid:
    """The grid with so much more forbidden ground round it, so that a piece may be held partly off
    the cloth.
    """
    cells = math.ceil(mm / grid.cell)
    return replace(
        grid,
        left=grid.left - cells * grid.cell,
        bottom=grid.bottom - cells * grid.cell,
        forbidden=np.pad(grid.forbidden, cells, constant_values=True),
        _spectra={},
    )


def _spots(item: Item, nests: Nests, beds: Sequence[Bed], more: float = 0.0) -> list[_Spot]:
    """The best few places of all on cells: those where the most of the allowances is free, then
    those that lack the least of the whole piece. A piece larger than every bed is sought again
    with `more` ground round them.
    """
    masks: dict[tuple[int, int, float, bool], Mask] = {}
    found: list[_Spot] = []
    best = len(next(iter(nests.values())).outlines) if nests else 0
    for bed, way in _with_ways(item, beds):
        nest = nests[way.stance.cut]
        grid = padded(grid_of(bed), _reach(nest) + more)
        for turn in way.turns:
            for flipped in way.faces:
                here = _Ways(item, way, turn, flipped, nest, masks)
                spots = list(_on_grid(grid, here, best))
                found += spots
                best = min([best, *(spot.level for spot in spots)])
    if not found and more == 0.0 and any(item.ways_on(bed.name) for bed in beds):
        sizes = [np.ptp(np.asarray(nest.cut), axis=0).max() for nest in nests.values()]
        return _spots(item, nests, beds, float(max(sizes)))
    found.sort(key=lambda spot: (spot.level, spot.lost))
    return [spot for spot in found if spot.level == best][:_CANDIDATES]


def _with_ways(item: Item, beds: Iterable[Bed]) -> Iterator[tuple[Bed, Way]]:
    for bed in beds:
        for way in item.ways_on(bed.name):
            yield bed, way


class _Ways:
    """A piece in one turn and face, with its masks made when they are asked for."""

    def __init__(
        self,
        item: Item,
        way: Way,
        turn: float,
        flipped: bool,
        nest: Nest,
        masks: dict[tuple[int, int, float, bool], Mask],
    ) -> None:
        self.way, self.turn, self.flipped, self.nest = way, turn, flipped, nest
        self._mirrored = is_mirrored(way.stance, item.copy, flipped)
        self._masks = masks

    def mask(self, level: int, cell: float) -> Mask:
        """The mask of an outline of the nest."""
        key = (id(self.nest), level, self.turn, self._mirrored)
        if key not in self._masks:
            self._masks[key] = mask_of(
                self.nest.outlines[level], cell, turn=self.turn, mirrored=self._mirrored
            )
        return self._masks[key]


def _on_grid(grid: Grid, here: _Ways, best: int) -> Iterator[_Spot]:
    """Places on one grid at the fullest outline that lies free, none when `best` is fuller; where
    even the sewing line lies nowhere free, those that lack least inside it, at a level of their
    own below all others.
    """
    levels = len(here.nest.outlines)
    for level in range(min(best + 1, levels)):
        mask = here.mask(level, grid.cell)
        amounts = overlaps(grid, mask)
        if not amounts.size:
            continue
        free = amounts < FREE_CELLS
        if free.any():
            lost = _lost(grid, here.mask(0, grid.cell), mask, free, amounts)
            yield from _lowest(grid, here, mask, lost, level)
            return
        if level == levels - 1 and best >= levels:
            yield from _lowest(grid, here, mask, amounts, levels)


def _lost(grid: Grid, whole: Mask, mask: Mask, free: NDArray[np.bool_], own: Amounts) -> Amounts:
    """Cells missing of the whole piece where a lesser mask lies free; infinite elsewhere."""
    if whole is mask:
        return np.where(free, own, np.inf).astype(np.float32)
    lost = np.full(free.shape, np.inf, dtype=np.float32)
    amounts = overlaps(grid, whole)
    rows, columns = np.nonzero(free)
    at_row = rows + whole.bottom - mask.bottom
    at_column = columns + whole.left - mask.left
    inside = (at_row >= 0) & (at_column >= 0)
    inside &= (at_row < amounts.shape[0]) & (at_column < amounts.shape[1])
    lost[rows[inside], columns[inside]] = amounts[at_row[inside], at_column[inside]]
    return lost


def _lowest(grid: Grid, here: _Ways, mask: Mask, lost: Amounts, level: int) -> Iterator[_Spot]:
    """The lowest places of a map, one after the other, apart from each other; of those that lack
    nothing the first at the lower end of the cloth, so that what is left of it is in one piece.
    """
    left = np.where(lost < FREE_CELLS, np.float32(0.0), lost)
    for _ in range(_PER_MAP):
        row, column = np.unravel_index(int(np.argmin(left)), left.shape)
        amount = float(left[row, column])
        if not math.isfinite(amount):
            return
        x = grid.left + (int(column) - mask.left) * grid.cell
        y = grid.bottom + (int(row) - mask.bottom) * grid.cell
        yield _Spot(grid, here.way, here.turn, here.flipped, level, amount, x, y)
        if amount < FREE_CELLS:
            return
        low_row, low_column = max(0, row - _APART_CELLS), max(0, column - _APART_CELLS)
        left[low_row : row + _APART_CELLS + 1, low_column : column + _APART_CELLS + 1] = np.inf


def _refined(item: Item, spot: _Spot, nest: Nest) -> tuple[float, Placement]:
    """The place moved, and turned within its tolerance, to where the cloth it lacks is least; with
    what it lacks, mm2, cloth inside the line that is to be kept weighing more.
    """
    mirrored = is_mirrored(spot.way.stance, item.copy, spot.flipped)
    kept = nest.outlines[min(spot.level, len(nest.outlines) - 1)]
    whole, inner = (
        np.asarray(turned(points, 0.0, mirrored).simplify(_SIMPLE_MM).exterior.coords)[:-1]
        for points in (nest.cut, kept)
    )
    reach = float(np.hypot(*whole.T).max()) + 20.0
    around = shapely.box(spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach)
    ground = areas_of(shapely.intersection(spot.grid.usable, around))
    shapely.prepare(ground)
    radius = max(1.0, reach / 2.0)

    def lacking(step: NDArray[np.float64]) -> float:
        turn = math.radians(spot.turn + _turned(step, radius, spot.way.tolerance))
        cosine, sine = math.cos(turn), math.sin(turn)
        way = np.array([[cosine, sine], [-sine, cosine]])
        move = np.array([spot.x + step[0], spot.y + step[1]])
        total = 0.0
        for line, weight in ((whole, 1.0), (inner, _INSIDE_WEIGHT)):
            area = shapely.polygons(line @ way + move)
            if not shapely.covers(ground, area):
                total += weight * float(shapely.difference(area, ground).area)
        return total

    count = 3 if spot.way.tolerance > 0.0 else 2
    start = np.zeros(count)
    corners = np.vstack([start, np.eye(count) * _FIRST_STEP_MM])
    found = minimize(
        lacking,
        start,
        method="Nelder-Mead",
        options={"maxfev": _STEPS, "initial_simplex": corners, "xatol": 0.05, "fatol": 1.0},
    )
    step = found.x
    turn = spot.turn + _turned(step, radius, spot.way.tolerance)
    at = on_stock(spot.grid.warp, spot.x + float(step[0]), spot.y + float(step[1]))
    placement = Placement(item.piece, item.copy, spot.grid.bed, at, turn, spot.flipped)
    return float(found.fun), placement


def _turned(step: NDArray[np.float64], radius: float, tolerance: float) -> float:
    """Degrees of a step's third number, mm at half the piece's reach, kept within a tolerance."""
    if len(step) < 3:
        return 0.0
    return max(-tolerance, min(tolerance, math.degrees(float(step[2]) / radius)))


def _reach(nest: Nest) -> float:
    """How far the whole reaches beyond the sewing line, mm, at the most."""
    whole, seam = np.asarray(nest.cut), np.asarray(nest.sewing)
    return float(
        max(
            np.max(seam.min(axis=0) - whole.min(axis=0)),
            np.max(whole.max(axis=0) - seam.max(axis=0)),
        )
    )
