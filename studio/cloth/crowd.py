"""All pieces on a board at once, lying over each other where they must, and overlaps with weights.

An overlap that stays weighs more from sweep to sweep until moving a piece out of it pays, the
common device of guided local search.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
import numpy as np
from numpy.typing import NDArray

from studio.cloth.board import Board, Spot
from studio.cloth.raster import Amounts, Grid, Mask, Spectrum, spectrum_of
from studio.cloth.task import Pose

_HEAVIEST = 1000.0
"""Sums of larger weights lose whole cells in floats of 32 bits."""
_FEW_TURNS = 2
"""Random turns within its tolerance that a piece is tried in at every move."""
_FEW_POSES = 4
_NEAR_BEST_CELLS = 3.0


class OnBoard(msgspec.Struct, frozen=True):
    """A piece on the board: its spot, its mask and the cell of the mask's first cell."""

    spot: Spot
    mask: Mask
    row: int
    column: int


class Crowd:
    """Pieces on a board, with the cells each shares with others and with forbidden cells."""

    def __init__(self, board: Board, rng: np.random.Generator) -> None:
        count = len(board.task.candidates)
        self.board = board
        self.rng = rng
        self.lying: dict[int, OnBoard] = {}
        self.shared: NDArray[np.float64] = np.zeros((count, count))
        self.outside: NDArray[np.float64] = np.zeros(count)
        self._pair_weight: NDArray[np.float64] = np.ones((count, count))
        self._edge_weight: NDArray[np.float64] = np.ones(count)

    def put(self, one: int, spot: Spot) -> None:
        """Lay a candidate on a spot, wherever it lay before."""
        self.take(one)
        mask = self.board.mask(spot.pose.figure, spot.turn)
        row, column = self.board.cell_at(spot)
        piece = OnBoard(spot, mask, row, column)
        forbidden = self.board.grids[spot.grid].forbidden
        high, wide = mask.cells.shape
        under = forbidden[row : row + high, column : column + wide]
        self.outside[one] = np.count_nonzero(under & mask.cells)
        for other, beside in self.lying.items():
            if beside.spot.grid == spot.grid:
                amount = _common(piece, beside)
                self.shared[one, other] = self.shared[other, one] = amount
        self.lying[one] = piece

    def take(self, one: int) -> None:
        """Take a candidate off the board, if it lies there."""
        self.lying.pop(one, None)
        self.outside[one] = 0.0
        self.shared[one, :] = self.shared[:, one] = 0.0

    def overlap(self, one: int) -> float:
        """Cells that a candidate shares with others and with forbidden ones."""
        return float(self.outside[one] + self.shared[one].sum())

    def total(self) -> float:
        """Cells of overlap on the whole board."""
        return float(self.outside.sum() + self.shared.sum() / 2.0)

    def on(self, grid: int) -> dict[int, Spot]:
        """The spots of all candidates on a grid."""
        return {one: piece.spot for one, piece in self.lying.items() if piece.spot.grid == grid}

    def overlap_on(self, grid: int) -> float:
        """Cells of overlap on one grid."""
        there = list(self.on(grid))
        return float(self.outside[there].sum() + self.shared[there].sum() / 2.0)

    def weigh(self) -> None:
        """Make overlaps heavier, the largest the most, and let the others grow lighter."""
        most = max(float(self.shared.max(initial=0.0)), float(self.outside.max(initial=0.0)), 1.0)
        for weights, amounts in (
            (self._pair_weight, self.shared),
            (self._edge_weight, self.outside),
        ):
            weights *= np.where(amounts > 0.0, 1.2 + 0.8 * amounts / most, 0.95)
            np.clip(weights, 1.0, _HEAVIEST, out=weights)

    def forget_weights(self) -> None:
        """All overlaps weigh the same again."""
        self._pair_weight[:] = 1.0
        self._edge_weight[:] = 1.0

    def move(self, one: int, grids: Iterable[int] | None = None) -> None:
        """Lay a candidate where its weighted overlap is the least over grids, poses and turns: half
        the time the very best, half the time anywhere nearly as good.
        """
        near = self.rng.random() < 0.5
        found: list[tuple[float, Spot]] = []
        for grid in self.board.open if grids is None else grids:
            turns = self._turns(one, grid)
            if not turns:
                continue
            spectrum = self._weighted(one, grid)
            for pose, turn in turns:
                best = self._best(spectrum, grid, pose, turn, near)
                if best is not None:
                    found.append(best)
        if found:
            least = min(found, key=lambda each: each[0])
            if near:
                close = [each for each in found if each[0] <= least[0] + _NEAR_BEST_CELLS]
                least = close[int(self.rng.integers(len(close)))]
            self.put(one, least[1])

    def _best(
        self, spectrum: Spectrum, grid: int, pose: Pose, turn: float, near: bool
    ) -> tuple[float, Spot] | None:
        amounts = self.board.amounts(grid, spectrum, self.board.mask(pose.figure, turn))
        if not amounts.size:
            return None
        flat = int(amounts.argmin())
        if near:
            close = np.flatnonzero(amounts <= amounts.flat[flat] + _NEAR_BEST_CELLS)
            flat = int(close[self.rng.integers(len(close))])
        cell = divmod(flat, amounts.shape[1])
        return float(amounts.flat[flat]), self.board.spot(grid, pose, turn, cell)

    def _weighted(self, one: int, grid: int) -> Spectrum:
        on = self.board.grids[grid]
        amounts = on.forbidden * np.float32(self._edge_weight[one])
        for other, piece in self.lying.items():
            if other != one and piece.spot.grid == grid:
                _add(amounts, piece, float(self._pair_weight[one, other]))
        return spectrum_of(on, amounts)

    def _turns(self, one: int, grid: int) -> list[tuple[Pose, float]]:
        """Poses and turns to try: all when they are few, else where it lies and some others."""
        poses = list(self.board.poses(one, grid))
        if len(poses) > _FEW_POSES:
            picked = self.rng.choice(len(poses), _FEW_POSES, replace=False)
            poses = [poses[index] for index in picked]
        turns = [(pose, pose.turn) for pose in poses]
        piece = self.lying.get(one)
        if piece is not None and piece.spot.grid == grid:
            turns.append((piece.spot.pose, piece.spot.turn))
        for _ in range(_FEW_TURNS):
            loose = [pose for pose in poses if pose.tolerance > 0.0]
            if loose:
                pose = loose[int(self.rng.integers(len(loose)))]
                steps = int(pose.tolerance / self.board.turn_step(pose.figure))
                off = int(self.rng.integers(-steps, steps + 1)) if steps else 0
                turns.append((pose, pose.turn + off * self.board.turn_step(pose.figure)))
        return list(dict.fromkeys(turns))


def laid_amounts(grid: Grid, pieces: Iterable[OnBoard]) -> Amounts:
    """Forbidden cells of a grid, and cells under pieces, as 1."""
    amounts = grid.forbidden.astype(np.float32)
    for piece in pieces:
        _add(amounts, piece, 1.0)
    return amounts


def _add(amounts: Amounts, piece: OnBoard, weight: float) -> None:
    high, wide = piece.mask.cells.shape
    rows = slice(piece.row, piece.row + high)
    amounts[rows, piece.column : piece.column + wide] += piece.mask.cells * np.float32(weight)


def _common(one: OnBoard, other: OnBoard) -> int:
    """Cells under both of two pieces on one grid."""
    low_row, low_column = max(one.row, other.row), max(one.column, other.column)
    high_row = min(one.row + one.mask.cells.shape[0], other.row + other.mask.cells.shape[0])
    high_column = min(
        one.column + one.mask.cells.shape[1], other.column + other.mask.cells.shape[1]
    )
    if high_row <= low_row or high_column <= low_column:
        return 0
    mine, its = (
        piece.mask.cells[
            low_row - piece.row : high_row - piece.row,
            low_column - piece.column : high_column - piece.column,
        ]
        for piece in (one, other)
    )
    return int(np.count_nonzero(mine & its))
