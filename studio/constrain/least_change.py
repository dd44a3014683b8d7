"""The least change of a step by which the rows agree with it, slides kept on their runs.

Of all steps s with off + J s = 0 it is the one with (s - wish)t W^-1 (s - wish) least: with the
multipliers y of (J W Jt + damping) y = off + J wish, wish - W Jt y. A slide at an end of its run
that would leave it there is held, by a weight of nothing, and the step is sought once more.
"""

from __future__ import annotations

import msgspec
import numpy as np

from studio.constrain import limits
from studio.constrain.group import Floats
from studio.constrain.system import Sheet, Spot, System, Unsolvable


class Change(msgspec.Struct):
    """A step of the unknowns, and how much each row speaks against the wish: its multiplier."""

    step: Floats
    multipliers: Floats


def least_change(
    system: System,
    spot: Spot,
    sheet: Sheet,
    weights: Floats,
    *,
    wish: Floats | None = None,
    off: Floats | None = None,
    damping: float = limits.DAMPING,
) -> Change | None:
    """A wish for a step at a spot, with the sheet there, changed as little as it takes; None when
    the rows there cannot be solved for. `weights` are the inverse weights of the unknowns, `off`
    what the rows are off, mm; without a wish or without `off` it is nothing.
    """
    structure, slides = sheet.structure, system.slides_from
    for _ in range(2):
        try:
            multipliers = structure.multipliers(
                sheet.values, weights, _wrong(sheet, wish, off), damping
            )
        except Unsolvable:
            return None
        step = -weights * structure.back(sheet.values, multipliers, system.unknowns)
        if wish is not None:
            step += wish
        leaving = _leaving(system, spot, step)
        if not leaving.any():
            break
        weights = weights.copy()
        weights[slides:][leaving] = 0.0
        if wish is not None:
            wish = wish.copy()
            wish[slides:][leaving] = 0.0
    return Change(step, multipliers)


def _wrong(sheet: Sheet, wish: Floats | None, off: Floats | None) -> Floats:
    """What the rows would be off after the wish, mm."""
    if wish is None:
        return np.zeros(sheet.structure.count) if off is None else off
    after = sheet.structure.times(sheet.values, wish)
    return after if off is None else off + after


def _leaving(system: System, spot: Spot, step: Floats) -> np.ndarray:
    """Which slides stand at an end of their run and would go on beyond it."""
    ahead = step[system.slides_from :]
    at_start = (spot.slides <= 0.0) & (ahead < 0.0)
    return at_start | ((spot.slides >= system.run_cubics) & (ahead > 0.0))
