"""The first layout: the largest piece first, each where it touches the most of what it may not
cover.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from studio.cloth.board import Spot
from studio.cloth.crowd import Crowd, laid_amounts
from studio.cloth.raster import Grid, Spectrum, spectrum_of

_FREE = 0.5
"""Cells of overlap below which a place is free: overlaps are whole numbers."""
_BLUR_CELLS = 3.0
"""How far off an edge still counts as touched."""
_NOISE = 0.15
_DOWN = 0.02
"""What a cell farther up a roll costs, so that it is cut from its end."""
_MOST_POSES = 6


def lay_first(crowd: Crowd, candidates: Sequence[int]) -> list[int]:
    """Lay candidates on free places of a crowd's board, about the worthiest first; those for which
    no free place was found are returned.
    """
    noise = 1.0 + _NOISE * crowd.rng.random(len(crowd.outside))
    worth = [each.worth for each in crowd.board.task.candidates]
    order = sorted(candidates, key=lambda one: -worth[one] * noise[one])
    return [one for one in order if not _lay(crowd, one)]


def _lay(crowd: Crowd, one: int) -> bool:
    best: tuple[float, Spot] | None = None
    for grid in crowd.board.open:
        poses = crowd.board.poses(one, grid)
        if len(poses) > _MOST_POSES:
            picked = crowd.rng.choice(len(poses), _MOST_POSES, replace=False)
            poses = tuple(poses[index] for index in picked)
        if not poses:
            continue
        on = crowd.board.grids[grid]
        there = [piece for piece in crowd.lying.values() if piece.spot.grid == grid]
        taken = spectrum_of(on, laid_amounts(on, there))
        touch = taken * _blur(on)
        for pose in poses:
            found = _most_contact(crowd, taken, touch, Spot(grid, pose, pose.turn, 0.0, 0.0))
            if found is not None and (best is None or found[0] > best[0]):
                best = found
    if best is not None:
        crowd.put(one, best[1])
    return best is not None


def _most_contact(
    crowd: Crowd, taken: Spectrum, touch: Spectrum, spot: Spot
) -> tuple[float, Spot] | None:
    board = crowd.board
    mask = board.mask(spot.pose.figure, spot.turn)
    amounts = board.amounts(spot.grid, taken, mask)
    if not amounts.size or amounts.min() > _FREE:
        return None
    contact = board.amounts(spot.grid, touch, mask) / math.sqrt(float(mask.cells.sum()))
    contact = contact * (1.0 + _NOISE * crowd.rng.random(contact.shape, dtype=np.float32))
    if board.task.fields[board.fields[spot.grid]].roll:
        tops = np.arange(contact.shape[0], dtype=np.float32) + mask.cells.shape[0]
        contact = contact - _DOWN * tops[:, None]
    contact = np.where(amounts <= _FREE, contact, -np.inf)
    cell = divmod(int(contact.argmax()), contact.shape[1])
    best = board.spot(spot.grid, spot.pose, spot.turn, cell)
    return float(contact[cell]), best


def _blur(grid: Grid) -> NDArray[np.float32]:
    """A bell of `_BLUR_CELLS` in the frequencies of a grid's transforms."""
    rows, columns = grid.size
    up = np.fft.fftfreq(rows)[:, None]
    across = np.fft.rfftfreq(columns)[None, :]
    bell = np.exp(-2.0 * (math.pi * _BLUR_CELLS) ** 2 * (up**2 + across**2))
    return bell.astype(np.float32)
