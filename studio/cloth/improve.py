"""A whole layout made better: fewer stocks, pieces turned straight, a larger rectangle left."""

from __future__ import annotations

from collections.abc import Generator
from typing import TypeAlias

import numpy as np
from msgspec.structs import replace

from studio.cloth.board import Board, Spot
from studio.cloth.crowd import Crowd
from studio.cloth.guided import Guided, Ticks, lay_anew
from studio.cloth.merit import Rest, merit_of, off_straight, rests_of
from studio.cloth.repair import Repair

Better: TypeAlias = Generator["dict[int, Spot] | None", None, None]
"""Better spots as they are found, None as a tick between."""

_FEWER_STEPS = 1500
_LARGER_STEPS = 150
_ROUNDS = 3
"""Rounds of all improvements without a gain, each with twice the steps, before it ends."""
_RESTS = 2
_GROWN_BY = (0.2, 0.08, 0.03)
"""Shares by which a rectangle is asked to grow on one side."""


class Improving:
    """Makes whole layouts on one board better."""

    def __init__(self, board: Board, repair: Repair, rng: np.random.Generator) -> None:
        self._board = board
        self._repair = repair
        self._rng = rng

    def better(self, spots: dict[int, Spot]) -> Better:
        """Ever better spots for the same candidates, until rounds bring nothing more."""
        best, rounds = spots, 0
        while rounds < _ROUNDS:
            gained = False
            effort = 2**rounds
            for tried in (
                self._fewer_fields(best, effort),
                self._straight(best),
                self._larger_rest(best, effort),
            ):
                found = yield from tried
                if found is not None:
                    best, gained = found, True
                    yield best
                    break
            rounds = 0 if gained else rounds + 1

    def _fewer_fields(self, spots: dict[int, Spot], effort: int) -> Ticks:
        """One field less, the least used first."""
        board = self._board
        used: dict[int, float] = {}
        for one, spot in spots.items():
            field = board.fields[spot.grid]
            used[field] = used.get(field, 0.0) + board.task.candidates[one].worth
        for spared in sorted(used, key=lambda field: used[field]):
            grids = [grid for grid in board.open if board.fields[grid] in used.keys() - {spared}]
            if sum(used.values()) > sum(board.grids[grid].usable.area for grid in grids):
                continue
            crowd = self._moved_to(spots, grids)
            if len(crowd.lying) == len(spots):
                found = yield from Guided(crowd, self._repair).solve(_FEWER_STEPS * effort)
                if found is not None:
                    return found
        return None

    def _moved_to(self, spots: dict[int, Spot], grids: list[int]) -> Crowd:
        """All on some grids only, but for those that may lie on none of them."""
        crowd = Crowd(self._board.keeping(grids), self._rng)
        candidates = self._board.task.candidates
        moved = [one for one, spot in spots.items() if spot.grid not in grids]
        for one in spots.keys() - set(moved):
            crowd.put(one, spots[one])
        lay_anew(crowd, sorted(moved, key=lambda one: -candidates[one].worth))
        return crowd

    def _straight(self, spots: dict[int, Spot]) -> Ticks:
        """Pieces turned back to a straight turn where the others on their grid give way."""
        best, gained = dict(spots), False
        for one in sorted(spots, key=lambda each: -off_straight(spots[each])):
            spot = best[one]
            if off_straight(spot) == 0.0:
                continue
            there = {other: lies for other, lies in best.items() if lies.grid == spot.grid}
            stiff = {
                other: replace(lies, pose=replace(lies.pose, tolerance=0.0))
                for other, lies in there.items()
            }
            stiff[one] = replace(stiff[one], turn=spot.pose.turn)
            found = self._repair.on(self._board, spot.grid, stiff)
            if found is not None:
                best |= {other: replace(found[other], pose=there[other].pose) for other in found}
                gained = True
            yield
        return best if gained else None

    def _larger_rest(self, spots: dict[int, Spot], effort: int) -> Ticks:
        """A larger rectangle left on a grid that is cut into: all keep off where it grows."""
        board = self._board
        merit = merit_of(board, spots)
        for rest in rests_of(board, spots)[:_RESTS]:
            for grown in _grown(rest, board, self._rng):
                area = grown.area(board.grids[rest.grid])
                crowd = Crowd(board.without(rest.grid, area), self._rng)
                for one, spot in spots.items():
                    crowd.put(one, spot)
                found = yield from Guided(crowd, self._repair).solve(_LARGER_STEPS * effort)
                # A rectangle that grew on the grid may have shrunk again by exact repair.
                if found is not None and merit_of(board, found) > merit:
                    return found
        return None


def _grown(rest: Rest, board: Board, rng: np.random.Generator) -> list[Rest]:
    """A rectangle grown by shares on each of its sides, the largest first."""
    rows, columns = board.grids[rest.grid].forbidden.shape
    found: list[Rest] = []
    for share in _GROWN_BY:
        up = max(round(share * (rest.top - rest.bottom)), 1)
        across = max(round(share * (rest.right - rest.left)), 1)
        sides = [
            replace(rest, bottom=max(rest.bottom - up, 0)),
            replace(rest, top=min(rest.top + up, rows)),
            replace(rest, left=max(rest.left - across, 0)),
            replace(rest, right=min(rest.right + across, columns)),
        ]
        found += [sides[index] for index in rng.permutation(4).tolist()]
    return [each for each in found if each.cells > rest.cells]
