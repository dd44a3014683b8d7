"""The grids and masks of a task, and where pieces lie on them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from copy import copy

import msgspec
import numpy as np
from msgspec.structs import replace
from shapely import MultiPolygon, Polygon

from studio.cloth.raster import (
    Amounts,
    Grid,
    Mask,
    Spectrum,
    correlated,
    coverage,
    grids_of,
    mask_of,
    on_stock,
)
from studio.cloth.task import Laid, Pose, Task

_TURN_DIGITS = 3
"""Masks are told apart by turns to so many digits of a degree, far less than a cell."""


class Spot(msgspec.Struct, frozen=True):
    """Where a piece lies: on which grid, in which pose, its turn, its origin in the grain frame."""

    grid: int
    pose: Pose
    turn: float
    x: float
    y: float


class Tally:
    """The steps of a search, the same on any machine: maps made, and moves of exact repair."""

    def __init__(self) -> None:
        self.count = 0


class Board:
    """Every usable part of every field of a task as a grid of `cell` mm.

    `open` tells which grids may be laid on. Masks and their transforms are kept for the whole
    search and shared by the boards made from this one.
    """

    def __init__(self, task: Task, cell: float) -> None:
        self.task = task
        self.cell = cell
        self.tally = Tally()
        self.grids: list[Grid] = []
        self.fields: list[int] = []
        self._masks: dict[tuple[int, float], Mask] = {}
        self.reach = [max(math.hypot(x, y) for x, y in figure) for figure in task.figures]
        least = min((Polygon(figure).area for figure in task.figures), default=0.0)
        for index, field in enumerate(task.fields):
            for grid in grids_of(field, cell, grow=task.gap / 2.0):
                if grid.usable.area >= least:
                    self.grids.append(grid)
                    self.fields.append(index)
        self.open: tuple[int, ...] = tuple(range(len(self.grids)))

    def keeping(self, grids: Sequence[int]) -> Board:
        """This board with only some of its grids open."""
        other = copy(self)
        other.open = tuple(grids)
        return other

    def without(self, index: int, area: Polygon) -> Board:
        """This board with an area of one grid, told in its grain frame, forbidden."""
        other = copy(self)
        other.grids = list(self.grids)
        grid = self.grids[index]
        taken = coverage(area, (grid.left, grid.bottom), grid.forbidden.shape, grid.cell) > 0.5
        left = grid.usable.difference(area)
        usable = left if isinstance(left, MultiPolygon) else MultiPolygon([left])
        other.grids[index] = replace(
            grid, forbidden=grid.forbidden | taken, usable=usable, _spectra={}
        )
        return other

    def poses(self, candidate: int, grid: int) -> tuple[Pose, ...]:
        """The poses of a candidate on a grid."""
        return self.task.candidates[candidate].poses[self.fields[grid]]

    def mask(self, figure: int, turn: float) -> Mask:
        """The mask of a figure, grown by half the gap."""
        key = (figure, round(turn % 360.0, _TURN_DIGITS))
        found = self._masks.get(key)
        if found is None:
            points = self.task.figures[figure]
            found = mask_of(points, self.cell, turn=key[1], offset=self.task.gap / 2.0)
            self._masks[key] = found
        return found

    def amounts(self, grid: int, spectrum: Spectrum, mask: Mask) -> Amounts:
        """The amounts under a mask for every place on a grid, from their transform: one step."""
        self.tally.count += 1
        return correlated(self.grids[grid], spectrum, mask)

    def spot(self, grid: int, pose: Pose, turn: float, cell: tuple[int, int]) -> Spot:
        """Where a piece lies when its mask's first cell lies on a cell of a grid."""
        on, mask = self.grids[grid], self.mask(pose.figure, turn)
        x = on.left + (cell[1] - mask.left) * on.cell
        y = on.bottom + (cell[0] - mask.bottom) * on.cell
        return Spot(grid, pose, turn, x, y)

    def cell_at(self, spot: Spot) -> tuple[int, int]:
        """The row and column nearest to a spot, kept within its grid."""
        on, mask = self.grids[spot.grid], self.mask(spot.pose.figure, spot.turn)
        row = round((spot.y - on.bottom) / on.cell) + mask.bottom
        column = round((spot.x - on.left) / on.cell) + mask.left
        highest = np.subtract(on.forbidden.shape, mask.cells.shape)
        return max(min(row, int(highest[0])), 0), max(min(column, int(highest[1])), 0)

    def laid(self, candidate: int, spot: Spot) -> Laid:
        """A spot in the coordinates of its stock."""
        on = self.grids[spot.grid]
        at = on_stock(on.warp, spot.x, spot.y)
        return Laid(candidate, self.fields[spot.grid], at, spot.turn, spot.pose.flipped)

    def turn_step(self, figure: int) -> float:
        """The turn, in degrees, that moves the farthest corner of a figure by two cells."""
        return math.degrees(2.0 * self.cell / self.reach[figure])
