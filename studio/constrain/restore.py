"""A state brought to where all rows hold."""

from __future__ import annotations

import numpy as np

from studio.constrain import limits
from studio.constrain.effort import Effort
from studio.constrain.group import Floats
from studio.constrain.system import Sheet, Spot, System, Unsolvable

_MOST_STEPS = 80
_LARGEST_DAMPING = 1e8
_FIRM = 1e-4
"""Damping after the first step in vain: less hardly ever helps."""

_WINDOW = 8
_WORTH = 0.8
"""After so many steps no more than this share of the squares must be left, or nothing is to be
hoped for: near a place where all rows hold, even a slow step takes half of them.
"""

_LITTLE = 1e-3
"""A step that promises less than this share of the squares is not worth taking: the rows speak
against each other.
"""


def restored(
    system: System, spot: Spot, sheet: Sheet | None = None, effort: Effort | None = None
) -> tuple[Spot, Sheet]:
    """A spot, its `sheet` where it is known already, brought to where its rows hold, by
    Levenberg-Marquardt, with the sheet there; the best found when they cannot all hold, or when so
    many steps or the effort were not enough.
    """
    damping = limits.DAMPING
    effort = effort or Effort()
    sheet = system.sheet(spot) if sheet is None else sheet
    costs = [_cost(sheet)]
    while sheet.worst > limits.EXACT_MM and len(costs) <= _MOST_STEPS and not _in_vain(costs):
        cost = costs[-1]
        step, left = _newton(system, spot, sheet, damping)
        if step is None or cost - left < _LITTLE * cost or not effort.goes_on():
            break
        trial = system.moved(spot, step)
        there = system.sheet(trial)
        cost_there = _cost(there)
        if cost_there < cost:
            spot, sheet = trial, there
            damping = max(limits.DAMPING, damping * _eased((cost - cost_there) / (cost - left)))
            costs.append(cost_there)
            continue
        costs.append(cost)
        damping = max(10.0 * damping, _FIRM)
        if damping > _LARGEST_DAMPING:
            break
    return spot, sheet


def _in_vain(costs: list[float]) -> bool:
    return len(costs) > _WINDOW and costs[-1] > _WORTH * costs[-1 - _WINDOW]


def _eased(kept: float) -> float:
    """By how much the damping changes after a step that kept such a share of what it promised."""
    if kept > 0.9:
        return 0.1
    if kept > 0.6:
        return 1.0 / 3.0
    return 2.0 if kept < 0.2 else 1.0


def _newton(
    system: System, spot: Spot, sheet: Sheet, damping: float
) -> tuple[Floats | None, float]:
    """The least step that meets the rows as they stand, and the squares it should leave; slides at
    the end of their run that would leave it are kept there.
    """
    weights = system.weights
    left = 0.0
    for _ in range(2):
        try:
            multipliers = sheet.structure.multipliers(
                sheet.values, weights, sheet.residuals, damping
            )
        except Unsolvable:
            return None, 0.0
        left = damping * damping * float(multipliers @ multipliers)
        step = -weights * sheet.structure.back(sheet.values, multipliers, system.unknowns)
        leaving = slides_leaving(system, spot, step)
        if not leaving.any():
            break
        weights = weights.copy()
        weights[system.slides_from :][leaving] = 0.0
    return step, left


def slides_leaving(system: System, spot: Spot, step: Floats) -> np.ndarray:
    """Which slides stand at an end of their run and would go on beyond it."""
    ahead = step[system.slides_from :]
    at_start = (spot.slides <= 0.0) & (ahead < 0.0)
    return at_start | ((spot.slides >= system.run_cubics) & (ahead > 0.0))


def _cost(sheet: Sheet) -> float:
    return float(sheet.residuals @ sheet.residuals)
