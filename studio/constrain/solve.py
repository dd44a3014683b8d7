"""All that was asked, met with the least movement; for typed values, loading and new bodies."""

from __future__ import annotations

import msgspec
import numpy as np

from studio.constrain import limits
from studio.constrain.group import Floats
from studio.constrain.sketch import Sketch
from studio.constrain.system import Sheet, Spot, System, Unsolvable

_MOST_STEPS = 80
_CORRECTIONS = 40
_MOST_POLISH = 400
_LARGEST_DAMPING = 1e8
_STILL_MM = 1e-7
_LITTLE = 1e-3
"""A step that takes less than this share of the squares away has brought hardly anything: near a
place where all rows hold, even a slow step takes half of them.
"""


class Solution(msgspec.Struct, frozen=True):
    """What solving gave: the sketch nearest to what was asked, whether all is `met` within 1e-9
    mm, the worst residual (mm; a degree counts as 1.7 mm), and by name what is unmet.
    """

    sketch: Sketch
    met: bool
    worst_mm: float
    unmet: tuple[str, ...] = ()


def solved(sketch: Sketch) -> Solution:
    """The sketch moved as little as it takes to meet everything asked.

    Movement is measured by the squares of the nodes' steps and of the handles' (mm), a handle's
    being its turn and the logarithm of its growth, times its length. Within 1e-9 where it can be
    met; the least movement is a local one, to about 1e-6.

    Raises:
        BadInput: a request names what is not there, or a number is not finite.
    """
    system = System(sketch)
    if not system.groups:
        return Solution(sketch, True, 0.0)
    spot = restored(system, system.base)
    if system.worst(spot) <= limits.ACCEPT_MM:
        spot = exactly(system, _polished(system, spot))
    sheet = system.sheet(spot)
    met = sheet.worst <= limits.EXACT_MM
    return Solution(
        system.sketch_at(spot), met, sheet.worst, () if met else unmet_names(system, sheet)
    )


def exactly(system: System, spot: Spot) -> Spot:
    """A spot restored with the lengths' quadrature put right there, until both agree."""
    for _ in range(_CORRECTIONS):
        system.correct(spot)
        if system.worst(spot) <= limits.EXACT_MM:
            break
        spot = restored(system, spot)
    return spot


def unmet_names(system: System, sheet: Sheet) -> tuple[str, ...]:
    """Requests whose residual is over a fifth of the largest, in the order they were made."""
    rows = np.abs(sheet.residuals) >= limits.SHARE_NAMED * sheet.worst
    return tuple(
        system.sketch.constraints[owner].name for owner in sorted(set(system.owners[rows]))
    )


def restored(
    system: System, spot: Spot, target: float = limits.EXACT_MM, patience: int = _MOST_STEPS
) -> Spot:
    """A spot brought to where its rows hold, by Levenberg-Marquardt; the best found when they
    cannot all hold, or when so many steps in a row (`patience`) brought hardly anything.
    """
    damping = limits.DAMPING
    sheet = system.sheet(spot)
    in_vain = 0
    for _ in range(_MOST_STEPS):
        if sheet.worst <= target or in_vain >= patience:
            break
        step = _newton(system, spot, sheet, damping)
        trial = None if step is None else system.moved(spot, step)
        sheet_there = None if trial is None else system.sheet(trial)
        if trial is not None and sheet_there is not None and _cost(sheet_there) < _cost(sheet):
            little = _cost(sheet_there) > (1.0 - _LITTLE) * _cost(sheet)
            in_vain = in_vain + 1 if little else 0
            spot, sheet = trial, sheet_there
            damping = max(limits.DAMPING, damping / 10.0)
            continue
        damping *= 10.0
        if damping > _LARGEST_DAMPING:
            break
    return spot


def _newton(system: System, spot: Spot, sheet: Sheet, damping: float) -> Floats | None:
    """The least step that meets the rows as they stand; slides at the end of their run that would
    leave it are kept there.
    """
    weights = system.weights
    for _ in range(2):
        try:
            multipliers = sheet.structure.multipliers(
                sheet.values, weights, sheet.residuals, damping
            )
        except Unsolvable:
            return None
        step = -weights * sheet.structure.back(sheet.values, multipliers, system.unknowns)
        leaving = slides_leaving(system, spot, step)
        if not leaving.any():
            return step
        weights = weights.copy()
        weights[system.slides_from :][leaving] = 0.0
    return step


def slides_leaving(system: System, spot: Spot, step: Floats) -> np.ndarray:
    """Which slides stand at an end of their run and would go on beyond it."""
    ahead = step[system.slides_from :]
    at_start = (spot.slides <= 0.0) & (ahead < 0.0)
    return at_start | ((spot.slides >= system.run_cubics) & (ahead > 0.0))


def _cost(sheet: Sheet) -> float:
    return float(sheet.residuals @ sheet.residuals)


def _polished(system: System, spot: Spot) -> Spot:
    """The spot drawn back towards the base along what the rows leave free."""
    best = _movement(system, spot)
    share = 1.0
    for _ in range(_MOST_POLISH):
        sheet = system.sheet(spot)
        home = share * system.towards(spot, system.base)
        pull = sheet.residuals + sheet.structure.times(sheet.values, home)
        try:
            multipliers = sheet.structure.multipliers(
                sheet.values, system.weights, pull, limits.DAMPING
            )
        except Unsolvable:
            break
        step = home - system.weights * sheet.structure.back(
            sheet.values, multipliers, system.unknowns
        )
        if np.abs(step).max(initial=0.0) < _STILL_MM:
            break
        trial = restored(system, system.moved(spot, step))
        movement = _movement(system, trial)
        if system.worst(trial) > limits.EXACT_MM or movement > best:
            share *= 0.5
            if share < 1e-3:
                break
            continue
        spot, best, share = trial, movement, min(1.0, share * 2.0)
    return restored(system, spot)


def _movement(system: System, spot: Spot) -> float:
    step = system.towards(system.base, spot)
    free = system.weights > 0.0
    return float((step[free] ** 2 / system.weights[free]).sum())
