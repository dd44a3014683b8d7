"""Candidates left out squeezed in beside a clear set: where the grid says that all but a hair of a
piece has room, exact repair has the last word, and others on that grid may give way.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable

import numpy as np

from studio.cloth.board import Board, Spot
from studio.cloth.crowd import Crowd, laid_amounts
from studio.cloth.raster import spectrum_of
from studio.cloth.repair import Repair

_HAIR_CELLS = 6.0
"""Cells of overlap that repair is tried from; a free place may have some, by the grid's doing."""
_TRIED = 3
"""Places tried for a piece, those with the least overlap first."""


def squeezed(
    board: Board,
    repair: Repair,
    rng: np.random.Generator,
    spots: dict[int, Spot],
    wanted: list[int],
) -> Generator[None, None, dict[int, Spot]]:
    """The set with what else of `wanted` fits in, the worthiest first; ticks on the way. Every set
    is clear when the one given is.
    """
    found = dict(spots)
    missing = [one for one in wanted if one not in spots]
    for one in sorted(missing, key=lambda each: -board.task.candidates[each].worth):
        for spot in _places(board, rng, found, one):
            there = {other: lies for other, lies in found.items() if lies.grid == spot.grid}
            settled = repair.on(board, spot.grid, there | {one: spot})
            if settled is not None:
                found |= settled
                break
        yield
    return found


def _places(
    board: Board, rng: np.random.Generator, spots: dict[int, Spot], one: int
) -> Iterable[Spot]:
    """The places on all grids, in all poses, where a piece overlaps the least: one of each map."""
    crowd = Crowd(board, rng)
    for other, spot in spots.items():
        crowd.put(other, spot)
    places: list[tuple[float, Spot]] = []
    for grid in board.open:
        poses = board.poses(one, grid)
        if not poses:
            continue
        on = board.grids[grid]
        lying = [piece for piece in crowd.lying.values() if piece.spot.grid == grid]
        taken = spectrum_of(on, laid_amounts(on, lying))
        for pose in poses:
            amounts = board.amounts(grid, taken, board.mask(pose.figure, pose.turn))
            if not amounts.size or amounts.min() > _HAIR_CELLS:
                continue
            cell = divmod(int(amounts.argmin()), amounts.shape[1])
            places.append((float(amounts[cell]), board.spot(grid, pose, pose.turn, cell)))
    places.sort(key=lambda place: place[0])
    return [spot for _, spot in places[:_TRIED]]
