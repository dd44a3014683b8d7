"""A state brought to where all rows hold."""

from __future__ import annotations

from studio.constrain import limits
from studio.constrain.effort import Effort
from studio.constrain.least_change import least_change
from studio.constrain.system import Sheet, Spot, System

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
        found = least_change(
            system, spot, sheet, system.weights, off=sheet.residuals, damping=damping
        )
        if found is None:
            break
        left = damping * damping * float(found.multipliers @ found.multipliers)
        if cost - left < _LITTLE * cost or not effort.goes_on():
            break
        trial = system.moved(spot, found.step)
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


def _cost(sheet: Sheet) -> float:
    return float(sheet.residuals @ sheet.residuals)
