"""All that was asked, met with the least movement; for typed values, loading and new bodies."""

from __future__ import annotations

import msgspec
import numpy as np

from studio.constrain import limits
from studio.constrain.effort import Effort
from studio.constrain.polish import polished
from studio.constrain.restore import restored
from studio.constrain.sketch import Sketch
from studio.constrain.system import Sheet, Spot, System

_CORRECTIONS = 40


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
    met; the least movement is a local one, as exact as `polished` tells.

    Raises:
        BadInput: a request names what is not there, or a number is not finite.
    """
    return solution_of(System(sketch))


def solution_of(
    system: System, effort: Effort | None = None, near: Sketch | None = None
) -> Solution:
    """As `solved`, of a sketch compiled already, with no more than an effort, and sought from a
    sketch `near`, one of the same form.
    """
    if not system.groups:
        return Solution(system.sketch, True, 0.0)
    effort = effort or Effort()
    start = None if near is None else system.spot_of(near)
    if start is None:
        spot, sheet = restored(system, system.base, system.base_sheet, effort)
    else:
        spot, sheet = restored(system, start, None, effort)
    if sheet.worst <= limits.EXACT_MM:
        spot = exactly(system, polished(system, spot, sheet, effort))
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
        spot, sheet = restored(system, spot)
        if sheet.worst > limits.EXACT_MM:
            break
    return spot


def unmet_names(system: System, sheet: Sheet) -> tuple[str, ...]:
    """Requests whose residual is over a fifth of the largest, in the order they were made."""
    rows = np.abs(sheet.residuals) >= limits.SHARE_NAMED * sheet.worst
    return tuple(
        system.sketch.constraints[owner].name for owner in sorted(set(system.owners[rows]))
    )
