"""The least movement: a state that holds drawn back towards where it came from."""

from __future__ import annotations

import msgspec
import numpy as np

from studio.constrain import limits
from studio.constrain.effort import Effort
from studio.constrain.group import Floats
from studio.constrain.least_change import least_change
from studio.constrain.restore import restored
from studio.constrain.system import Sheet, Spot, System

_MOST_TURNS = 60
_MOST_TRIES = 12
_REMEMBERED = 12
"""Steps from which is learnt how the rows bend."""

_ENOUGH = 1e-4
"""Least share of what a step should bring, from its slope, with which it is taken."""

_LAST = 1e-11
"""Share of the movement: a step that brings no more is the last, as the next brings far less."""


def polished(system: System, spot: Spot, sheet: Sheet, effort: Effort) -> Spot:
    """A spot that holds moved along what the rows leave free, to where it is least far from the
    base, by the method of Broyden, Fletcher, Goldfarb and Shanno along the surface on which all
    rows hold: where they bend sharply, as those of a line that must be all but straight do,
    steps straight home lead nowhere.

    To about 1e-5 mm, 1e-3 where the rows bend sharply; the best found after so many turns,
    or with the effort.
    """
    memory = _Memory()
    here = _seen(system, spot, sheet)
    for _ in range(_MOST_TURNS):
        if here is None or np.abs(here.root * here.downhill).max(initial=0.0) < effort.still_mm:
            break
        found = _stepped(system, here, memory.turned(here.downhill), effort)
        if found is None and memory.pairs and not effort.cut_short:
            # What was learnt elsewhere may not be true here.
            memory.pairs.clear()
            continue
        if found is None:
            break
        spot, sheet, step, gain = found
        before, here = here, _seen(system, spot, sheet)
        if here is None or gain <= _LAST * here.half:
            break
        memory.learn(step, before.downhill - here.downhill)
    return spot


class _Seen(msgspec.Struct):
    """A spot that holds: half the movement there, which is to become least; the steepest way along
    the rows on which it does, in units of the `root` of the weights; and by how much it would grow
    if a row were put right by so much.
    """

    spot: Spot
    sheet: Sheet
    root: Floats
    half: float
    downhill: Floats
    against: Floats


def _half(system: System, spot: Spot) -> float:
    """Half the squares of the steps from the base to a spot, by the weights of the unknowns."""
    step = system.towards(system.base, spot)
    free = system.weights > 0.0
    return 0.5 * float((step[free] ** 2 / system.weights[free]).sum())


class _Memory:
    """What the last steps told of how the slope changes, in units of the roots of the weights."""

    def __init__(self) -> None:
        self.pairs: list[tuple[Floats, Floats, float]] = []

    def learn(self, step: Floats, change: Floats) -> None:
        """A step, and by how much less downhill it was after it."""
        bent = float(step @ change)
        if bent > 1e-9 * float(step @ step):
            self.pairs = [*self.pairs, (step, change, bent)][-_REMEMBERED:]

    def turned(self, downhill: Floats) -> Floats:
        """The step that should lead to where nothing is downhill."""
        step = downhill.copy()
        shares = []
        for move, change, bent in reversed(self.pairs):
            shares.append(float(move @ step) / bent)
            step -= shares[-1] * change
        if self.pairs:
            _, change, bent = self.pairs[-1]
            step *= bent / float(change @ change)
        for (move, change, bent), share in zip(self.pairs, reversed(shares), strict=True):
            step += (share - float(change @ step) / bent) * move
        return step


def _stepped(
    system: System, here: _Seen, wish: Floats, effort: Effort
) -> tuple[Spot, Sheet, Floats, float] | None:
    """The first spot along a wish that holds and where enough was gained, its sheet, the step and
    the gain; None when there is none.
    """
    found = _along_rows(system, here.spot, here.sheet, here.root, wish)
    if found is None:
        return None
    step, _ = found
    slope = float(here.downhill @ step)
    share = 1.0
    for _ in range(_MOST_TRIES if slope > _LAST * here.half else 0):
        if not effort.goes_on():
            break
        spot = system.moved(here.spot, share * here.root * step)
        sheet = system.sheet(spot)
        # What will be left of the gain when the rows are put right, which is costly, is foreseen.
        gain = _gain(system, here, spot, sheet)
        if gain >= _ENOUGH * share * slope:
            spot, sheet = restored(system, spot, sheet, effort)
            gain = _gain(system, here, spot, sheet)
            if sheet.worst > limits.EXACT_MM:
                share *= 0.25
                continue
        if gain >= _ENOUGH * share * slope:
            return spot, sheet, share * step, gain
        # Where a parabola through both places and the slope here is least.
        share *= min(0.5, max(0.02, 0.5 * share * slope / (share * slope - gain)))
    return None


def _gain(system: System, here: _Seen, spot: Spot, sheet: Sheet) -> float:
    """By how much half the movement is less at a spot, once its rows are put right."""
    off = sheet.residuals - here.sheet.residuals
    return here.half - _half(system, spot) - float(here.against @ off)


def _seen(system: System, spot: Spot, sheet: Sheet) -> _Seen | None:
    root = np.sqrt(system.weights)
    home = system.towards(spot, system.base)
    home[: system.slides_from] *= system.stretch(spot)
    wish = np.where(root > 0.0, home / np.where(root > 0.0, root, 1.0), 0.0)
    found = _along_rows(system, spot, sheet, root, wish)
    # The damping leaves a little of what the rows speak against: it is taken out again.
    again = None if found is None else _along_rows(system, spot, sheet, root, found[0])
    if found is None or again is None:
        return None
    return _Seen(spot, sheet, root, _half(system, spot), again[0], found[1] + again[1])


def _along_rows(
    system: System, spot: Spot, sheet: Sheet, root: Floats, wish: Floats
) -> tuple[Floats, Floats] | None:
    """A wish, in units of the roots of the weights, without what the rows speak against, and by
    how much each does.
    """
    found = least_change(system, spot, sheet, system.weights, wish=root * wish)
    if found is None:
        return None
    return found.step / np.where(root > 0.0, root, 1.0), found.multipliers
