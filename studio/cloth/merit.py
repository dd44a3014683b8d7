"""How good a layout is, and the largest rectangle along the warp that it leaves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec
import numpy as np
from shapely import Polygon, box

from studio.cloth.board import Board, Spot
from studio.cloth.raster import Cells, Grid
from studio.cloth.task import Merit

_MOST_CELLS = 4_000
"""Cells among which rectangles are sought; a finer grid is thinned to so many."""
_STRAIGHT = 0.05
"""Degrees off a straight turn that count as none."""


class Rest(msgspec.Struct, frozen=True):
    """A free rectangle of a grid, in rows and columns of it: `bottom`, `left` to `top`, `right`."""

    grid: int
    bottom: int
    left: int
    top: int
    right: int

    def area(self, grid: Grid) -> Polygon:
        """The rectangle in the grain frame."""
        cell = grid.cell
        return box(
            grid.left + self.left * cell,
            grid.bottom + self.bottom * cell,
            grid.left + self.right * cell,
            grid.bottom + self.top * cell,
        )

    @property
    def cells(self) -> int:
        """How many cells it has."""
        return (self.top - self.bottom) * (self.right - self.left)


def merit_of(board: Board, spots: Mapping[int, Spot]) -> Merit:
    """The merit of pieces laid on a board."""
    rests = rests_of(board, spots)
    worth = sum(board.task.candidates[one].worth for one in spots)
    fields = {board.fields[spot.grid] for spot in spots.values()}
    turned_by = sum(off_straight(spot) for spot in spots.values())
    leftover = max((rest.cells * board.cell**2 for rest in rests), default=0.0)
    return Merit(round(worth, 3), -len(fields), -round(turned_by, 3), round(leftover, 3))


def off_straight(spot: Spot) -> float:
    """How far a piece is turned from the turn its pose asks for, degrees."""
    off = abs((spot.turn - spot.pose.turn + 180.0) % 360.0 - 180.0)
    return off if off > _STRAIGHT else 0.0


def rests_of(board: Board, spots: Mapping[int, Spot]) -> list[Rest]:
    """The largest free rectangle of each grid that is cut into, the largest first."""
    by_grid: dict[int, list[Spot]] = {}
    for spot in spots.values():
        by_grid.setdefault(spot.grid, []).append(spot)
    found = [_largest(grid, _free(board, grid, there)) for grid, there in by_grid.items()]
    return sorted(found, key=lambda rest: -rest.cells)


def _free(board: Board, grid: int, spots: Iterable[Spot]) -> Cells:
    free = ~board.grids[grid].forbidden
    for spot in spots:
        mask = board.mask(spot.pose.figure, spot.turn)
        row, column = board.cell_at(spot)
        high, wide = mask.cells.shape
        free[row : row + high, column : column + wide] &= ~mask.cells
    return free


def _largest(grid: int, free: Cells) -> Rest:
    """The largest rectangle of free cells, from the heights of free columns below each row."""
    by = 1
    while free.size / by**2 > _MOST_CELLS:
        by += 1
    rows, columns = (count // by * by for count in free.shape)
    squares = free[:rows, :columns].reshape(rows // by, by, columns // by, by)
    blocks = np.asarray(squares.all(axis=(1, 3)))
    heights = np.zeros(blocks.shape[1], dtype=np.int64)
    best = Rest(grid, 0, 0, 0, 0)
    for row, cells in enumerate(blocks):
        heights = np.where(cells, heights + 1, 0)
        left, right, high = _under(heights.tolist())
        if high * (right - left) * by * by > best.cells:
            best = Rest(grid, (row + 1 - high) * by, left * by, (row + 1) * by, right * by)
    return best


def _under(heights: Sequence[int]) -> tuple[int, int, int]:
    """The largest rectangle under a row of heights: left, right (exclusive), height."""
    best, most = (0, 0, 0), 0
    open_from: list[tuple[int, int]] = []
    for column, height in enumerate((*heights, 0)):
        start = column
        while open_from and open_from[-1][1] >= height:
            start, high = open_from.pop()
            if high * (column - start) > most:
                best, most = (start, column, high), high * (column - start)
        open_from.append((start, height))
    return best
