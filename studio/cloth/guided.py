"""Guided search: from pieces that lie over each other to a layout that is exactly clear."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Mapping
from typing import TypeAlias

from studio.cloth.board import Spot
from studio.cloth.crowd import Crowd
from studio.cloth.repair import Repair

Ticks: TypeAlias = Generator[None, None, "dict[int, Spot] | None"]
"""Ticks once a sweep, so that whoever drives it may stop; returns spots that are clear, or None."""

_NEARLY_CELLS = 40.0
"""Overlap on a grid from which exact repair is tried: thin runs along edges, mostly the grid's."""
_CLEAR_CELLS = 1.5
"""Overlap from which guided search has nothing left to move."""
_TRIES = 3
"""Tries of repair on a grid with nothing left to move."""
_SWEEPS_WITHOUT_GAIN = 60
_GAIN = 0.98
_SHAKES_TO_RESTART = 6
_FAILURES_TO_KICK = 3


class Guided:
    """A guided search on one crowd; what repair found of a grid's pieces is remembered."""

    def __init__(self, crowd: Crowd, repair: Repair) -> None:
        self.crowd = crowd
        self._repair = repair
        self._settled: dict[frozenset[tuple[int, Spot]], dict[int, Spot] | None] = {}
        self._failures: dict[frozenset[int], int] = {}

    def solve(self, steps: int) -> Ticks:
        """Move what overlaps until every grid is exactly clear, for about so many maps."""
        crowd, rng = self.crowd, self.crowd.rng
        tally = crowd.board.tally
        last = tally.count + steps
        best, since, shakes = crowd.total(), 0, 0
        while True:
            if all(crowd.overlap_on(grid) <= _NEARLY_CELLS for grid in crowd.board.open):
                found = self._repaired()
                if found is not None:
                    return found
            if tally.count >= last:
                return None
            crossed = [one for one in crowd.lying if crowd.overlap(one) > 0.0]
            for one in rng.permutation(crossed).tolist():
                if crowd.overlap(one) > 0.0:
                    crowd.move(one)
            crowd.weigh()
            yield
            since += 1
            if crowd.total() < _GAIN * best:
                best, since = crowd.total(), 0
            elif since >= _SWEEPS_WITHOUT_GAIN:
                shakes += 1
                self._shake(everything=shakes % _SHAKES_TO_RESTART == 0)
                best, since = crowd.total(), 0

    def _repaired(self) -> dict[int, Spot] | None:
        """All pieces exactly clear, or None; where repair failed and nothing overlaps that guided
        search could move, a piece is moved elsewhere.
        """
        crowd = self.crowd
        found: dict[int, Spot] = {}
        # The grid that is the most likely to fail comes first.
        for grid in sorted(crowd.board.open, key=lambda each: -crowd.overlap_on(each)):
            spots = crowd.on(grid)
            key = frozenset(spots.items())
            if key not in self._settled:
                tries = _TRIES if crowd.overlap_on(grid) <= _CLEAR_CELLS else 1
                self._settled[key] = self._repair.on(crowd.board, grid, spots, tries)
            settled = self._settled[key]
            if settled is None:
                if crowd.overlap_on(grid) <= _CLEAR_CELLS:
                    self._kick(grid, spots)
                return None
            found |= settled
        return found

    def _kick(self, grid: int, spots: Mapping[int, Spot]) -> None:
        """Move a piece of a grid, every third time for the same pieces to another grid."""
        crowd = self.crowd
        together = frozenset(spots)
        self._failures[together] = self._failures.get(together, 0) + 1
        one = int(crowd.rng.choice(sorted(spots)))
        others = [other for other in crowd.board.open if other != grid]
        away = self._failures[together] % _FAILURES_TO_KICK == 0 and others
        crowd.move(one, others if away else None)

    def _shake(self, *, everything: bool) -> None:
        """Lay a few pieces anew, or all of them, and forget the weights."""
        crowd, rng = self.crowd, self.crowd.rng
        crowd.forget_weights()
        lying = sorted(crowd.lying)
        count = len(lying) if everything else min(int(rng.integers(2, 5)), len(lying))
        picked = rng.choice(lying, count, replace=False).tolist() if lying else []
        lay_anew(crowd, picked)


def lay_anew(crowd: Crowd, candidates: Iterable[int]) -> None:
    """Take candidates off the board, then lay each where it overlaps the least."""
    picked = list(candidates)
    for one in picked:
        crowd.take(one)
    for one in picked:
        crowd.move(one)
