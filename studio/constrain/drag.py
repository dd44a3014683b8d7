"""A point dragged while everything asked keeps holding.

Every frame is anchored to the state at the press: besides following the mouse, all other points
are offered a share of the way home, so that the shape depends on where the mouse is and not on
how it came there. A frame is shown only when all rows hold and it is better than the one before.
"""

from __future__ import annotations

import math

import numpy as np

from studio.constrain import limits
from studio.constrain.group import Floats
from studio.constrain.least_change import least_change
from studio.constrain.sketch import PointRef, Sketch
from studio.constrain.solve import exactly
from studio.constrain.system import Sheet, Spot, System, Unsolvable
from studio.curves import Point

_TRIES = 2
"""Steps tried in a frame, good ones and rejected ones: a frame costs no more."""

_LAST_FRAMES = 20
"""Frames spent at most on coming to rest when the point is let go."""

_RESTORE_STEPS = 4
_SHRINK, _GROW = 0.35, 2.0
_LEAST_SHARE = 0.01
_AT_REST = 1e-6


class Drag:
    """One drag, from press to release. Nothing it is given makes it raise, once begun."""

    def __init__(self, sketch: Sketch, point: PointRef) -> None:
        """Take hold of a node, or of the tip of a handle, of a sketch that holds.

        Raises:
            BadInput: the sketch names what is not there, or has no such point.
        """
        sketch.point(point)
        # The press pays for compiling, not the first frame.
        self._system = System(sketch)
        self._press = self._system.base
        self._system.sheet(self._press)
        self._spot = self._press
        self._share = 1.0
        self._last: Point | None = None
        self._node = self._system.rows.columns.of[point.node, "node"]
        self._handle = None if point.part == "node" else self._system.column_of(point)
        self._held = bool(self._system.held[self._node])
        self._weights = self._weighted()
        self.held_back = False

    def to(self, mouse: Point) -> Sketch:
        """The sketch with the point as near to the mouse as all that was asked allows; rows hold
        within 1e-4 mm. A mouse that keeps still costs nothing.
        """
        if mouse == self._last:
            return self._system.sketch_at(self._spot)
        target = complex(mouse.x, mouse.y)
        if self._held or not (math.isfinite(mouse.x) and math.isfinite(mouse.y)):
            self.held_back = True
            return self._system.sketch_at(self._spot)
        self._last = mouse
        with np.errstate(all="ignore"):
            self._follow(target)
        self.held_back = self._gap(self._spot, target) > limits.HELD_BACK_MM
        return self._system.sketch_at(self._spot)

    def release(self) -> Sketch:
        """The point come to rest as near to the mouse as it may, all rows within 1e-9 mm."""
        if self._last is not None:
            target = complex(self._last.x, self._last.y)
            for _ in range(_LAST_FRAMES):
                before = self._merit(self._spot, target)
                self._follow(target)
                if before - self._merit(self._spot, target) <= _AT_REST * before:
                    break
        spot = exactly(self._system, self._spot)
        if self._system.worst(spot) <= limits.EXACT_MM:
            self._spot = spot
        return self._system.sketch_at(self._spot)

    @property
    def worst_mm(self) -> float:
        """Largest residual of the frame shown, mm."""
        return self._system.worst(self._spot)

    def _weighted(self) -> Floats:
        """Inverse weights under which all others give way to the dragged point."""
        weights = self._system.weights.copy()
        dragged = [self._node] if self._handle is None else [self._node, self._handle]
        if self._held:
            return weights
        for column in dragged:
            at = 2 * self._system.number_of[column]
            weights[at : at + 2] = 1.0 / limits.GRIP
        return weights

    def _place(self, spot: Spot) -> complex:
        place = spot.columns[self._node]
        if self._handle is not None:
            place = place + spot.columns[self._handle]
        return complex(place)

    def _gap(self, spot: Spot, target: complex) -> float:
        return abs(self._place(spot) - target)

    def _follow(self, target: complex) -> None:
        """Steps towards the target, shorter after a rejected one, until one brings little."""
        before = self._merit(self._spot, target)
        sheet = self._system.sheet(self._spot)
        for _ in range(_TRIES):
            trial = self._stepped(sheet, target)
            after = math.inf if trial is None else self._merit(trial, target)
            if trial is None or after >= before - 1e-12:
                self._share = max(_LEAST_SHARE, self._share * _SHRINK)
                continue
            self._spot = trial
            self._share = min(1.0, _GROW * self._share)
            if self._gap(trial, target) < limits.SETTLED_MM or before - after < 1e-4 * before:
                return
            before, sheet = after, self._system.sheet(trial)

    def _stepped(self, sheet: Sheet, target: complex) -> Spot | None:
        system, spot = self._system, self._spot
        towards_home = limits.HOME * system.towards(spot, self._press)
        pull = target - self._place(spot)
        if abs(pull) > limits.PULL_MM:
            pull *= limits.PULL_MM / abs(pull)
        dragged = self._node if self._handle is None else self._handle
        at = 2 * system.number_of[dragged]
        if self._handle is not None:
            foot = 2 * system.number_of[self._node]
            towards_home[foot : foot + 2] = 0.0
        towards_home[at] = pull.real
        towards_home[at + 1] = pull.imag
        wish = self._share * towards_home
        if len(sheet.residuals):
            found = least_change(system, spot, sheet, self._weights, wish=wish, off=sheet.residuals)
            if found is None:
                return None
            wish = found.step
        trial = self._restored(system.moved(spot, wish))
        return trial if trial is not None and self._is_good(trial) else None

    def _restored(self, spot: Spot) -> Spot | None:
        system, weights = self._system, self._weights
        worst = math.inf
        for _ in range(_RESTORE_STEPS):
            sheet = system.sheet(spot)
            if sheet.worst < limits.DRAG_MM:
                return spot
            if not sheet.worst < worst:
                return None
            worst = sheet.worst
            try:
                multipliers = sheet.structure.multipliers(
                    sheet.values, weights, sheet.residuals, limits.DAMPING
                )
            except Unsolvable:
                return None
            back = sheet.structure.back(sheet.values, multipliers, system.unknowns)
            spot = system.moved(spot, -weights * back)
        return spot if system.worst(spot) < limits.DRAG_MM else None

    def _is_good(self, spot: Spot) -> bool:
        """Nothing jumped, and no short handle still shrinks."""
        system = self._system
        jumped = np.abs(spot.columns - self._spot.columns)[~system.is_handle]
        if not jumped.max(initial=0.0) <= limits.STEP_MM:
            return False
        size = np.abs(spot.columns[system.is_handle])
        before = np.abs(self._spot.columns[system.is_handle])
        return not ((size < limits.HANDLE_LEAST_MM) & (size < before)).any()

    def _merit(self, spot: Spot, target: complex) -> float:
        """Distance from the press state, and from the mouse with its pull bounded."""
        system = self._system
        away = system.towards(spot, self._press)
        free = system.weights > 0.0
        if self._handle is None:
            at = 2 * system.number_of[self._node]
            away[at : at + 2] = 0.0
        home = 0.5 * limits.HOME * float((away[free] ** 2 / system.weights[free]).sum())
        gap = self._gap(spot, target)
        pull = limits.PULL_MM
        bounded = 0.5 * gap * gap if gap <= pull else pull * (gap - 0.5 * pull)
        return home + limits.GRIP * bounded
