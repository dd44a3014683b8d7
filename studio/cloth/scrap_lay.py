"""The parts of a joined piece laid on the cloth that is free, one after the other."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec
import numpy as np
from msgspec.structs import replace
from scipy.ndimage import binary_dilation
from shapely import Polygon

from studio.cloth.items import Item
from studio.cloth.raster import Grid, Mask, on_stock, overlaps
from studio.cloth.scrap_masks import FREE_CELLS, Facing, Half, Line, PartMasks
from studio.cloth.stance import is_mirrored
from studio.design.cloth import Placement


class Scrap(msgspec.Struct, frozen=True):
    """A part to be laid: what it is called, which half of which copy, its outline in the stance of
    the whole.
    """

    name: str
    half: Half
    item: Item
    outline: Polygon


def scraps_laid(
    scraps: Sequence[Scrap],
    line: Line,
    grids: dict[str, Grid],
    masks: PartMasks,
    gap: float,
) -> tuple[Placement, ...]:
    """A placement for each part, the largest first, each on the smallest cloth that takes it, as
    low as it may lie; none at all when one is left over. True to about a cell.
    """
    left = dict(grids)
    order = sorted(left, key=lambda name: float((~left[name].forbidden).sum()))
    found = []
    for scrap in sorted(scraps, key=lambda one: -one.outline.area):
        placed = None
        for name in order:
            placed = _on_bed(scrap, line, left[name], masks, gap)
            if placed is not None:
                placement, left[name] = placed
                found.append(placement)
                break
        if placed is None:
            return ()
    return tuple(found)


def _on_bed(
    scrap: Scrap, line: Line, grid: Grid, masks: PartMasks, gap: float
) -> tuple[Placement, Grid] | None:
    """The first place on a bed, and the bed without it."""
    facings = (
        Facing(way, turn, flipped, is_mirrored(way.stance, scrap.item.copy, flipped))
        for way in scrap.item.ways_on(grid.bed)
        for turn in way.turns
        for flipped in way.faces
    )
    for facing in facings:
        mask = masks.part(line, scrap.half, facing)
        amounts = overlaps(grid, mask)
        free = np.argwhere(amounts < FREE_CELLS)
        if not len(free):
            continue
        row, column = (int(index) for index in free[0])
        taken = _without(grid, mask, row, column, gap)
        return _placement(scrap, grid, mask, facing, (row, column)), taken
    return None


def _placement(
    scrap: Scrap, grid: Grid, mask: Mask, facing: Facing, cell: tuple[int, int]
) -> Placement:
    """Where the middle of the part's own box lies."""
    low_x, low_y, high_x, high_y = scrap.outline.bounds
    x, y = (low_x + high_x) / 2.0, (low_y + high_y) / 2.0
    if facing.mirrored:
        x = -x
    angle = math.radians(facing.turn)
    x, y = (
        x * math.cos(angle) - y * math.sin(angle),
        x * math.sin(angle) + y * math.cos(angle),
    )
    x += grid.left + (cell[1] - mask.left) * grid.cell
    y += grid.bottom + (cell[0] - mask.bottom) * grid.cell
    at = on_stock(grid.warp, x, y)
    return Placement(scrap.name, scrap.item.copy, grid.bed, at, facing.turn, facing.flipped)


def _without(grid: Grid, mask: Mask, row: int, column: int, gap: float) -> Grid:
    """The grid with a mask and a gap round it taken."""
    taken = np.zeros_like(grid.forbidden)
    high, wide = mask.cells.shape
    taken[row : row + high, column : column + wide] = mask.cells
    # Each of two masks may be true to half a cell only.
    steps = math.ceil((gap + grid.cell) / grid.cell)
    if steps > 0:
        taken = binary_dilation(taken, np.ones((3, 3), dtype=np.bool_), iterations=steps)
    return replace(grid, forbidden=grid.forbidden | taken, _spectra={})
