"""Laying pieces on stock: a first layout, a whole one or the worthiest that fits, better ones."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator, Mapping
from typing import TypeAlias

import numpy as np

from studio.cloth.board import Board, Spot
from studio.cloth.crowd import Crowd
from studio.cloth.first import lay_first
from studio.cloth.guided import Guided, lay_anew
from studio.cloth.improve import Better, Improving
from studio.cloth.merit import merit_of
from studio.cloth.raster import CELL_MM, spectrum_of
from studio.cloth.repair import Repair
from studio.cloth.squeeze import squeezed
from studio.cloth.task import Found, Task

_WHOLE_STEPS = 500
"""Maps of one guided search for everything, times Luby's numbers: how long a search takes varies
without bound, so that many short ones find sooner than a long one.
"""
_EXCHANGE_STEPS = 250
_TRIES = 3
_SWAPS = 0.5
_THINNED_STEPS = 100
_NEARLY_CLEAR = 200.0
"""Cells of overlap from which what is left of a crowd is tried alone."""
_PATIENCE = 60
"""Turns without a worthier set before the search ends."""
_LEAST_WORTH = 1.0
"""Mm2 by which a set must be worthier to count as such."""
_NEARLY_AS_GOOD, _BACK_TO_BEST = 0.95, 8
"""The search goes on from sets nearly as worthy as the best, and now and then from the best."""
_EDGE_SHARE = 0.1
"""A piece is told never to fit only when its least overlap is more than such a share of the cells
along its edge: less may be the grid's doing.
"""

Search: TypeAlias = Iterator["Found | None"]
Clearing: TypeAlias = Generator[None, None, "dict[int, Spot]"]
"""Ticks, then a set of pieces that is clear, empty when none was found."""


def search(task: Task, *, seed: int = 0, cell: float = CELL_MM, steps: int | None = None) -> Search:
    """Each better layout of a task as it is found, None between as a tick (every few ms), so that
    whoever drives it may stop.

    Every layout given is clear by exact geometry (`clearance`). The same task, seed, cell and
    number of steps (`Tally`) give the same layouts in the same order on one machine.
    """
    running = Running(task, seed, cell)
    for found in running.layouts():
        yield found
        if steps is not None and running.board.tally.count >= steps:
            return


class Running:
    """One search: its board, its source of chance, and the best layout so far."""

    def __init__(self, task: Task, seed: int, cell: float) -> None:
        self.board = Board(task, cell)
        self.rng = np.random.default_rng(seed)
        self.repair = Repair(self.board, self.rng)
        self.never: tuple[int, ...] = ()
        self.best: Found | None = None

    def layouts(self) -> Search:
        """A first layout, then ever better ones."""
        crowd = Crowd(self.board, self.rng)
        everything = range(len(self.board.task.candidates))
        left = lay_first(crowd, everything)
        self.never = tuple(one for one in left if not self._fits_alone(one))
        spots = self._verified(crowd)
        yield self._better(spots)
        wanted = [one for one in everything if one not in self.never]
        spots = yield from self._squeezed(spots, wanted)
        yield self._better(spots)
        if len(spots) < len(wanted):
            for found in self._worthier(crowd, spots, wanted):
                if found is not None:
                    spots = found
                yield self._better(found)
        if spots:
            for found in Improving(self.board, self.repair, self.rng).better(spots):
                yield self._better(found)

    def _better(self, spots: Mapping[int, Spot] | None) -> Found | None:
        if spots is None:
            return None
        merit = merit_of(self.board, spots)
        if self.best is not None and merit <= self.best.merit:
            return None
        laid = tuple(self.board.laid(one, spots[one]) for one in sorted(spots))
        self.best = Found(laid, self.never, merit)
        return self.best

    def _fits_alone(self, one: int) -> bool:
        board = self.board
        for grid in board.open:
            empty = spectrum_of(board.grids[grid], board.grids[grid].forbidden)
            for pose in board.poses(one, grid):
                step = board.turn_step(pose.figure)
                some = int(pose.tolerance / step)
                for turn in (pose.turn + step * off for off in range(-some, some + 1)):
                    mask = board.mask(pose.figure, turn)
                    amounts = board.amounts(grid, empty, mask)
                    edge = 2.0 * sum(mask.cells.shape)
                    if amounts.size and amounts.min() <= _EDGE_SHARE * edge:
                        return True
        return False

    def _verified(self, crowd: Crowd) -> dict[int, Spot]:
        """What lies on a crowd's board made exactly clear; from a grid where that fails the least
        worth is taken off.
        """
        candidates = self.board.task.candidates
        found: dict[int, Spot] = {}
        for grid in crowd.board.open:
            spots = crowd.on(grid)
            while spots:
                settled = self.repair.on(crowd.board, grid, spots, _TRIES)
                if settled is not None:
                    found |= settled
                    break
                spots.pop(min(spots, key=lambda one: candidates[one].worth))
        return found

    def _worthier(self, crowd: Crowd, spots: dict[int, Spot], wanted: list[int]) -> Better:
        """All that is wanted, else ever worthier sets of it: short searches for everything by turns
        with exchanges in the best set, until many turns brought nothing.
        """
        room = sum(grid.usable.area for grid in self.board.grids)
        hopeful = self._worth(wanted) <= room
        best = current = spots
        turn = waited = 0
        while len(best) < len(wanted) and waited < _PATIENCE:
            turn, waited = turn + 1, waited + 1
            sets: list[dict[int, Spot]] = []
            if hopeful:
                sets.append((yield from self._everything(crowd, wanted, _luby(turn))))
                crowd = Crowd(self.board, self.rng)
                lay_first(crowd, wanted)
            if len(sets) == 0 or len(sets[0]) < len(wanted):
                sets.append((yield from self._exchanged(current, wanted, 1 + waited // 8)))
            found = max(sets, key=self._worth)
            if self._worth(found) > _NEARLY_AS_GOOD * self._worth(best):
                found = sets[-1] = yield from self._squeezed(found, wanted)
            if self._worth(found) > self._worth(best) + _LEAST_WORTH:
                best = current = found
                waited = 0
                yield best
            elif self._worth(sets[-1]) > _NEARLY_AS_GOOD * self._worth(best):
                current = sets[-1]
            if waited % _BACK_TO_BEST == 0:
                current = best

    def _everything(self, crowd: Crowd, wanted: list[int], effort: int) -> Clearing:
        """Everything laid at once; when it does not come clear, what is left of it once the
        largest overlaps for their worth are taken off.
        """
        lay_anew(crowd, [one for one in wanted if one not in crowd.lying])
        found = yield from Guided(crowd, self.repair).solve(_WHOLE_STEPS * effort)
        return found if found is not None else (yield from self._thinned(crowd, len(wanted)))

    def _exchanged(self, spots: dict[int, Spot], wanted: list[int], effort: int) -> Clearing:
        """One that was left out laid with the others, half the time instead of one worth less; when
        that does not come clear, without the largest overlap for its worth. Then what else fits in.
        """
        candidates, rng = self.board.task.candidates, self.rng
        crowd = self._crowd(spots)
        outsider = int(rng.choice([one for one in wanted if one not in spots]))
        lesser = [one for one in spots if candidates[one].worth < candidates[outsider].worth]
        if lesser and rng.random() < _SWAPS:
            crowd.take(int(rng.choice(lesser)))
        lay_anew(crowd, [outsider])
        found = yield from Guided(crowd, self.repair).solve(_EXCHANGE_STEPS * effort)
        if found is None:
            found = yield from self._thinned(crowd, 2)
        crowd = self._crowd(found)
        fresh = [one for one in wanted if one not in found]
        return self._verified(crowd) if len(lay_first(crowd, fresh)) < len(fresh) else found

    def _squeezed(self, spots: dict[int, Spot], wanted: list[int]) -> Clearing:
        """A clear set with what else fits in beside it."""
        return (yield from squeezed(self.board, self.repair, self.rng, spots, wanted))

    def _crowd(self, spots: Mapping[int, Spot]) -> Crowd:
        crowd = Crowd(self.board, self.rng)
        for one, spot in spots.items():
            crowd.put(one, spot)
        return crowd

    def _thinned(self, crowd: Crowd, most: int) -> Clearing:
        """The largest overlaps for their worth taken off a crowd, up to so many, until the rest
        comes clear; nothing when it does not.
        """
        candidates = self.board.task.candidates
        for _ in range(most):
            over = {one: crowd.overlap(one) / candidates[one].worth for one in crowd.lying}
            worst = max(over, key=lambda one: over[one])
            crowd.take(worst)
            if crowd.total() <= _NEARLY_CLEAR:
                found = yield from Guided(crowd, self.repair).solve(_THINNED_STEPS)
                if found is not None:
                    return found
            if not crowd.lying:
                break
        return {}

    def _worth(self, candidates: Iterable[int]) -> float:
        return sum(self.board.task.candidates[one].worth for one in candidates)


def _luby(turn: int) -> int:
    """1 1 2 1 1 2 4 1 1 2 ...: the best order of restarts when nothing is known (Luby, Sinclair
    and Zuckerman, Optimal speedup of Las Vegas algorithms, 1993).
    """
    power = turn.bit_length()
    if turn == 2**power - 1:
        return int(2 ** (power - 1))
    return _luby(turn - 2 ** (power - 1) + 1)
