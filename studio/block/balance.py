"""Moves the handbook's numbers as little as it can until the long seams meet the body.

Unknowns are few: how high the rises go, how far the forks reach, how full the crotch curves are
and how far the back crotch point drops. Conditions are the difference of the inseams, and when
the body gives them the crotch seam and the thigh. Least weighted change with hard conditions:
Newton's method on the minimum-norm step, one finite-difference Jacobian kept up to date by
Broyden's rank-one rule (C. G. Broyden, 1965).
"""

from __future__ import annotations

import msgspec
import numpy as np
import numpy.typing as npt

from studio.block import seams
from studio.block.proportions import Levels, PanelNumbers

Array = npt.NDArray[np.float64]

CLOSE_MM = 1e-8
"""Conditions are met within this, a hundred times finer than asked of a drawn block."""

MET_MM = 1e-7
"""And past this they count as not met, and a slower search is tried."""

STEP_MM = 1e-4
"""Step of the finite differences; the second order then stays under 1e-9."""

ROUNDS = 30
"""A draft that can be made takes three to six."""

FRESH_EVERY = 6
"""Rounds after which the slopes are taken anew: at a limit the kept ones can go stale."""

REFERENCE_HIP = 960.0


class Unknown(msgspec.Struct, frozen=True):
    """One number that may move: its readiness to move (mm, or a share) and how far it may go."""

    panel: int
    field: str
    ready: float
    least: float
    most: float


UNKNOWNS = (
    Unknown(1, "drop", 20.0, -12.0, 24.0),
    Unknown(1, "top_up", 20.0, -30.0, 45.0),
    Unknown(0, "top_up", 8.0, -25.0, 25.0),
    Unknown(0, "fork", 8.0, -25.0, 45.0),
    Unknown(1, "fork", 16.0, -45.0, 90.0),
    Unknown(0, "fullness", 0.03, -0.3, 0.1),
    Unknown(1, "fullness", 0.03, -0.3, 0.1),
)
"""Ranges are changes from the handbook at a hip of 960 and grow with the hip (practice)."""


class Wanted(msgspec.Struct, frozen=True):
    """What the long seams have to give, mm; None leaves it to the handbook."""

    inseam_difference: float
    crotch_seam: float | None = None
    thigh: float | None = None


class Measured(msgspec.Struct, frozen=True):
    """What one panel gives, mm."""

    inseam: float
    rise: float
    thigh: float


class Balanced(msgspec.Struct, frozen=True):
    """The panels after the solve, and what is still missing, mm, by condition."""

    front: PanelNumbers
    back: PanelNumbers
    missing: dict[str, float]


def measured(panel: PanelNumbers, levels: Levels) -> Measured:
    """Inseam, rise and thigh width of one panel, within 1e-9."""
    drawn = seams.rise(panel, levels)
    upper, lower = seams.inseam(panel, levels)
    side = seams.lower_side(panel, levels, seams.hip_x(drawn, panel, levels))[1]
    straight = drawn.straight
    return Measured(
        seams.length(upper) + seams.length(lower),
        ((straight[6] - straight[0]) ** 2 + (straight[7] - straight[1]) ** 2) ** 0.5
        + seams.length(drawn.curve),
        seams.thigh_width(side, upper, levels),
    )


def balanced(
    front: PanelNumbers, back: PanelNumbers, levels: Levels, hip_girth: float, wanted: Wanted
) -> Balanced:
    """Both panels with the inseams, and as asked the crotch seam and the thigh, as wanted.

    The thigh is a least: it is only asked for when the draft without it falls short. What could
    not be reached within the unknowns' ranges is reported, not raised.
    """
    problem = _Problem((front, back), levels, hip_girth, wanted)
    values = problem.solve(False)
    with_thigh = wanted.thigh is not None and problem.thigh(values) < wanted.thigh - CLOSE_MM
    if with_thigh:
        values = problem.solve(True)
    missing = problem.missing(values)
    if max(missing.values()) > MET_MM:
        values = problem.search(values, with_thigh)
        missing = problem.missing(values)
    one, two = problem.panels(values)
    return Balanced(one, two, missing)


def crotch_range(
    front: PanelNumbers, back: PanelNumbers, levels: Levels, hip_girth: float
) -> tuple[float, float]:
    """About the shortest and longest crotch seam these panels can be moved to, mm."""
    problem = _Problem((front, back), levels, hip_girth, Wanted(0.0))
    ends = []
    for sign in (-1.0, 1.0):
        values = problem.start.copy()
        for index, unknown in enumerate(UNKNOWNS):
            if unknown.field != "drop":
                values[index] = problem.least[index] if sign < 0.0 else problem.most[index]
        ends.append(sum(measured(panel, levels).rise for panel in problem.panels(values)))
    return ends[0], ends[1]


class _Problem:
    """The conditions over the unknowns, for one body."""

    def __init__(
        self,
        panels: tuple[PanelNumbers, PanelNumbers],
        levels: Levels,
        hip_girth: float,
        wanted: Wanted,
    ) -> None:
        self.base = panels
        self.levels = levels
        self.wanted = wanted
        grow = hip_girth / REFERENCE_HIP
        size = [1.0 if unknown.field == "fullness" else grow for unknown in UNKNOWNS]
        self.start = np.array([getattr(panels[u.panel], u.field) for u in UNKNOWNS])
        ready = np.array([u.ready * s for u, s in zip(UNKNOWNS, size, strict=True)])
        self.mobility = ready * ready
        self.least = self.start + [u.least * s for u, s in zip(UNKNOWNS, size, strict=True)]
        self.most = self.start + [u.most * s for u, s in zip(UNKNOWNS, size, strict=True)]
        # The thigh line has to cross the back inseam, so its crotch point stays above that line.
        self.most[0] = min(self.most[0], seams.THIGH_BELOW - 1.0)

    def panels(self, values: Array) -> tuple[PanelNumbers, PanelNumbers]:
        changed: tuple[dict[str, float], dict[str, float]] = ({}, {})
        for unknown, value in zip(UNKNOWNS, values.tolist(), strict=True):
            changed[unknown.panel][unknown.field] = value
        return (
            msgspec.structs.replace(self.base[0], **changed[0]),
            msgspec.structs.replace(self.base[1], **changed[1]),
        )

    def thigh(self, values: Array) -> float:
        return sum(measured(panel, self.levels).thigh for panel in self.panels(values))

    def gaps(self, front: Measured, back: Measured, with_thigh: bool) -> list[float]:
        wanted = self.wanted
        gaps = [front.inseam - back.inseam - wanted.inseam_difference]
        if wanted.crotch_seam is not None:
            gaps.append(front.rise + back.rise - wanted.crotch_seam)
        if with_thigh and wanted.thigh is not None:
            gaps.append(front.thigh + back.thigh - wanted.thigh)
        return gaps

    def missing(self, values: Array) -> dict[str, float]:
        front, back = (measured(panel, self.levels) for panel in self.panels(values))
        gaps = self.gaps(front, back, False)
        found = {"inseam": abs(gaps[0])}
        if self.wanted.crotch_seam is not None:
            found["crotch"] = abs(gaps[1])
        if self.wanted.thigh is not None:
            found["thigh"] = max(0.0, self.wanted.thigh - front.thigh - back.thigh)
        return found

    def _jacobian(self, values: Array, with_thigh: bool) -> tuple[Array, Array]:
        panels = self.panels(values)
        here = [measured(panel, self.levels) for panel in panels]
        gaps = np.array(self.gaps(here[0], here[1], with_thigh))
        columns = []
        for index, unknown in enumerate(UNKNOWNS):
            step = STEP_MM if unknown.field != "fullness" else STEP_MM / 100.0
            moved = msgspec.structs.replace(
                panels[unknown.panel], **{unknown.field: float(values[index]) + step}
            )
            there = list(here)
            there[unknown.panel] = measured(moved, self.levels)
            columns.append((np.array(self.gaps(there[0], there[1], with_thigh)) - gaps) / step)
        return gaps, np.array(columns).T

    def solve(self, with_thigh: bool) -> Array:
        values = self.start.copy()
        gaps, slopes = self._jacobian(values, with_thigh)
        for number in range(1, ROUNDS + 1):
            if float(np.abs(gaps).max()) < CLOSE_MM:
                break
            if number % FRESH_EVERY == 0:
                gaps, slopes = self._jacobian(values, with_thigh)
            target = self._least_change(values, gaps, slopes)
            step = target - values
            if float(np.abs(step).max()) < 1e-12:
                break
            front, back = (measured(panel, self.levels) for panel in self.panels(target))
            fresh = np.array(self.gaps(front, back, with_thigh))
            scaled = step / self.mobility
            slopes = slopes + np.outer(fresh - gaps - slopes @ step, scaled) / float(scaled @ step)
            values, gaps = target, fresh
        return values

    def search(self, fallback: Array, with_thigh: bool) -> Array:
        """A slower search that weighs all limits at once, for bodies at the edge of the ranges.

        Source: sequential quadratic programming, D. Kraft, 1988, as scipy's SLSQP. Gives
        `fallback` when it finds nothing either.
        """
        from scipy.optimize import Bounds, NonlinearConstraint, minimize  # Slow to load.

        ready = np.sqrt(self.mobility)

        def gaps(steps: Array) -> Array:
            front, back = (
                measured(panel, self.levels) for panel in self.panels(self.start + steps * ready)
            )
            return np.array(self.gaps(front, back, with_thigh))

        def change(steps: Array) -> float:
            return float(steps @ steps)

        found = minimize(
            change,
            np.zeros(len(ready)),
            method="SLSQP",
            bounds=Bounds((self.least - self.start) / ready, (self.most - self.start) / ready),
            constraints=[NonlinearConstraint(gaps, 0.0, 0.0)],
            tol=1e-10,
        )
        if float(np.abs(gaps(found.x)).max()) > MET_MM:
            return fallback
        return np.asarray(self.start + found.x * ready)

    def _least_change(self, values: Array, gaps: Array, slopes: Array) -> Array:
        """The point nearest the start, by weight, that the linear conditions allow in range."""
        held = np.zeros(len(values), dtype=bool)
        target = values
        for _ in range(len(values)):
            anchor = np.where(held, target, self.start)
            weight = np.where(held, 0.0, self.mobility)
            right = -gaps + slopes @ (values - anchor)
            normal = (slopes * weight) @ slopes.T
            scale = 1e-12 * float(np.trace(normal)) + 1e-300
            pull = np.linalg.solve(normal + scale * np.eye(len(gaps)), right)
            target = anchor + weight * (slopes.T @ pull)
            outside = (target < self.least) | (target > self.most)
            target = np.clip(target, self.least, self.most)
            if not outside.any():
                break
            held |= outside
        return target
