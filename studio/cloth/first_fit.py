"""How much of a roll pieces take when each is laid as low as it may, large ones first.

Quick and plain: a search finds shorter lays by some per cent. What it gives can be cut.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeAlias

import numpy as np
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth.bed import bed_of
from studio.cloth.items import Item, Way
from studio.cloth.raster import Grid, Mask, grid_of, mask_of, overlaps, turned
from studio.cloth.stance import is_mirrored
from studio.design.cloth import Roll

LengthOf: TypeAlias = Callable[[Sequence[Item], Roll, float], "float | None"]
"""From items, a roll and a gap to the length they take, mm; None when they do not fit."""

CELL_MM = 6.0

_SPARE_CELLS = 0.5
"""Pieces are grown by such a share of a cell, so that what is free on cells is free on cloth."""

_FREE_CELLS = 0.5


def first_fit(items: Sequence[Item], roll: Roll, gap: float) -> float | None:
    """The length of a roll that items take, mm, flaws passed over; None when one finds no place on
    it. An upper bound, the better of two orders: shorter lays may be found.
    """
    empty = grid_of(bed_of(roll), CELL_MM)
    masks: dict[tuple[int, float, bool], Mask] = {}
    lengths = [
        _laid(sorted(items, key=order), roll, empty, gap, masks) for order in (_by_height, _by_area)
    ]
    return min((length for length in lengths if length is not None), default=None)


def _laid(
    items: Sequence[Item],
    roll: Roll,
    empty: Grid,
    gap: float,
    masks: dict[tuple[int, float, bool], Mask],
) -> float | None:
    grid, top = empty, 0.0
    for item in items:
        placed = _lowest(item, item.ways_on(roll.name), grid, gap, masks)
        if placed is None:
            return None
        mask, row, column = placed
        high, wide = mask.cells.shape
        taken = grid.forbidden.copy()
        taken[row : row + high, column : column + wide] |= mask.cells
        grid = replace(grid, forbidden=taken, _spectra={})
        end = grid.bottom + (row + high) * CELL_MM - gap / 2.0
        top = max(top, end)
    return min(top, roll.length)


def _lowest(
    item: Item,
    ways: Sequence[Way],
    grid: Grid,
    gap: float,
    masks: dict[tuple[int, float, bool], Mask],
) -> tuple[Mask, int, int] | None:
    """The place whose upper end is the lowest, in any turn and face, then the one to the left."""
    best: tuple[int, int, Mask, int] | None = None
    every = [(way, turn, flipped) for way in ways for turn in way.turns for flipped in way.faces]
    for way, turn, flipped in every:
        key = (id(way.stance.cut), turn, is_mirrored(way.stance, item.copy, flipped))
        if key not in masks:
            masks[key] = mask_of(
                way.stance.cut,
                CELL_MM,
                turn=turn,
                mirrored=key[2],
                offset=gap / 2.0 + _SPARE_CELLS * CELL_MM,
            )
        mask = masks[key]
        amounts = overlaps(grid, mask)
        free = np.argwhere(amounts < _FREE_CELLS) if amounts.size else np.empty((0, 2))
        if len(free):
            row, column = int(free[0][0]), int(free[0][1])
            rank = (row + mask.cells.shape[0], column, mask, row)
            if best is None or rank[:2] < best[:2]:
                best = rank
    return None if best is None else (best[2], best[3], best[1])


def _by_height(item: Item) -> float:
    """The longest along the warp first."""
    box = _turned(item).bounds
    return float(box[1] - box[3])


def _by_area(item: Item) -> float:
    return -float(_turned(item).area)


def _turned(item: Item) -> Polygon:
    return turned(item.ways[0].stance.cut, 0.0) if item.ways else Polygon()
