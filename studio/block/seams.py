"""The long seams of a panel as bare numbers: rise, inseam and side, rise on the left.

Everything the solver asks for many times over is computed here on floats; points come last.
A seam's stretches are cubics whose heights run evenly with the parameter, so that the width at a
level is read off exactly, without a search.
"""

from __future__ import annotations

import math
from typing import TypeAlias

import msgspec

from studio.block.proportions import Levels, PanelNumbers
from studio.curves import kernel

Numbers: TypeAlias = kernel.Numbers

INSEAM_IN = 7.5
"""The inseam curves in by this between crotch and knee (handbook)."""

INSEAM_IN_SHARE = 0.024
"""And by no more than this share of its length, for short legs: 7.5 of an adult's 315."""

TIP_SLOPE_SHARE = 0.55
"""Most of the crotch curve's depth that its slope at the crotch point may use up, else the curve
has no room left to turn."""

EASING = 0.04
"""Width of that rounding, as a slope: takes 0.02 off where both limits are equal."""

THIGH_BELOW = 25.0
"""The thigh is measured this far below the crotch line (practice)."""

TOP_SLOPE_FACTOR = 1.5
"""Lean of the side seam at the waist over its mean lean above the hip: straight near the waist,
rounding over the hip, which puts it about 5 out between the two as the handbook draws it."""


SLOPE_LIMIT = 2.5
"""Below the bound of three, so that the flatter stretch keeps a curve of its own."""


class Rise(msgspec.Struct, frozen=True):
    """The rise: straight from the top, then the crotch curve; `along` is its upward direction."""

    top: tuple[float, float]
    straight: Numbers
    curve: Numbers
    along: tuple[float, float]


def length(numbers: Numbers) -> float:
    """Arc length in mm, within 1e-9."""
    return kernel.length(kernel.twin(numbers))


def straight(x0: float, y0: float, x1: float, y1: float) -> Numbers:
    """A straight stretch, handles at the thirds."""
    dx, dy = (x1 - x0) / 3.0, (y1 - y0) / 3.0
    return (x0, y0, x0 + dx, y0 + dy, x1 - dx, y1 - dy, x1, y1)


def upright(x0: float, y0: float, slope0: float, x1: float, y1: float, slope1: float) -> Numbers:
    """A cubic between two heights with given dx/dy at its ends; y runs evenly with t."""
    third = (y1 - y0) / 3.0
    return (x0, y0, x0 + slope0 * third, y0 + third, x1 - slope1 * third, y1 - third, x1, y1)


def x_at(numbers: Numbers, y: float) -> float:
    """The x of an upright cubic at a height, exact."""
    t = (y - numbers[1]) / (numbers[7] - numbers[1])
    u = 1.0 - t
    return (
        u * u * u * numbers[0]
        + 3.0 * u * u * t * numbers[2]
        + 3.0 * u * t * t * numbers[4]
        + t * t * t * numbers[6]
    )


def even_slope(one: float, two: float) -> float:
    """Slope at a joint between the mean slopes beside it: their middle, upright at a turn.

    Never over `SLOPE_LIMIT` times the lesser, which keeps a seam from swinging past its own
    widest or narrowest place. Source: F. N. Fritsch and R. E. Carlson, Monotone piecewise cubic
    interpolation, SIAM Journal on Numerical Analysis 17(2), 1980, where the bound is three.
    """
    if one * two <= 0.0:
        return 0.0
    least = one if abs(one) < abs(two) else two
    middle = (one + two) / 2.0
    return middle if abs(middle) <= SLOPE_LIMIT * abs(least) else SLOPE_LIMIT * least


def taper(panel: PanelNumbers, levels: Levels) -> float:
    """Half-width gained per mm of height between hem and knee."""
    return (panel.knee_half - panel.hem_half) / levels.knee


def tip_slope(panel: PanelNumbers, levels: Levels) -> float:
    """How far the inseam leans out per mm of height at the crotch point."""
    high = levels.crotch - panel.drop
    run = high - levels.knee
    mean = (panel.tip - panel.knee_half) / run
    bow = min(INSEAM_IN, INSEAM_IN_SHARE * run)
    most = TIP_SLOPE_SHARE * (levels.curve - high) / panel.fork
    return max(_eased_least(mean + 4.0 * bow / run, most), 0.0)


def _eased_least(one: float, two: float) -> float:
    """The lesser of two slopes, rounded where they cross, so that a solver sees no corner."""
    gap = one - two
    return (one + two - math.sqrt(gap * gap + EASING * EASING)) / 2.0


def inseam(panel: PanelNumbers, levels: Levels) -> tuple[Numbers, Numbers]:
    """From the crotch point to the knee, and on to the hem, which it meets square."""
    high = levels.crotch - panel.drop
    mean = (panel.tip - panel.knee_half) / (high - levels.knee)
    slope = even_slope(mean, taper(panel, levels))
    tip = -panel.tip
    return (
        upright(
            tip,
            high,
            -tip_slope(panel, levels),
            -panel.knee_half,
            levels.knee,
            -slope,
        ),
        upright(-panel.knee_half, levels.knee, -slope, -panel.hem_half, levels.hem, 0.0),
    )


def rise(panel: PanelNumbers, levels: Levels) -> Rise:
    """Straight from the waist to the curve, then a curve that meets the inseam square."""
    ax, ay = -panel.rise_line, levels.curve
    cx, cy = ax + panel.top_in, levels.waist + panel.top_up
    run = math.hypot(cx - ax, cy - ay)
    ux, uy = (cx - ax) / run, (cy - ay) / run
    slope = tip_slope(panel, levels)
    lean = math.hypot(1.0, slope)
    vx, vy = -1.0 / lean, -slope / lean
    tx, ty = -panel.tip, levels.crotch - panel.drop
    # Where the rise line, run on downward, meets the curve's direction at the crotch point.
    gap_x, gap_y = tx - ax, ty - ay
    cross = -ux * vy + uy * vx
    reach_top = panel.fullness * (gap_x * vy - gap_y * vx) / cross
    reach_tip = panel.fullness * (gap_x * uy - gap_y * ux) / cross
    curve = (
        ax,
        ay,
        ax - reach_top * ux,
        ay - reach_top * uy,
        tx - reach_tip * vx,
        ty - reach_tip * vy,
        tx,
        ty,
    )
    return Rise((cx, cy), straight(cx, cy, ax, ay), curve, (ux, uy))


def hip_x(drawn: Rise, panel: PanelNumbers, levels: Levels) -> float:
    """The x of the side seam on the hip line: the asked width from wherever the rise crosses it."""
    curve = drawn.curve
    above = levels.hip - curve[1]
    if above >= 0.0:
        return curve[0] + drawn.along[0] / drawn.along[1] * above + panel.hip_width
    return _crossing(curve, levels.hip) + panel.hip_width


def _crossing(curve: Numbers, y: float) -> float:
    """The x where a falling curve passes a height, by bisection to machine accuracy."""
    low, high = 0.0, 1.0
    x = curve[0]
    for _ in range(60):
        t = (low + high) / 2.0
        u = 1.0 - t
        a, b, c, d = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        x = a * curve[0] + b * curve[2] + c * curve[4] + d * curve[6]
        if a * curve[1] + b * curve[3] + c * curve[5] + d * curve[7] > y:
            low = t
        else:
            high = t
    return x


def lower_side(panel: PanelNumbers, levels: Levels, hip: float) -> tuple[Numbers, Numbers]:
    """The side from the hem to the knee and on to the hip line."""
    mean = (hip - panel.knee_half) / (levels.hip - levels.knee)
    slope = even_slope(mean, taper(panel, levels))
    return (
        upright(panel.hem_half, levels.hem, 0.0, panel.knee_half, levels.knee, slope),
        upright(
            panel.knee_half, levels.knee, slope, hip, levels.hip, hip_slope(panel, levels, hip)
        ),
    )


def hip_slope(panel: PanelNumbers, levels: Levels, hip: float) -> float:
    """dx/dy of the side at the hip line."""
    below = (hip - panel.knee_half) / (levels.hip - levels.knee)
    return even_slope(below, -panel.side_in / (levels.waist - levels.hip))


def top_slope(panel: PanelNumbers, levels: Levels, hip: float) -> float:
    """dx/dy of the side at the waist."""
    mean = -panel.side_in / (levels.waist - levels.hip)
    return TOP_SLOPE_FACTOR * mean - (TOP_SLOPE_FACTOR - 1.0) * hip_slope(panel, levels, hip)


def thigh_width(side: Numbers, inner: Numbers, levels: Levels) -> float:
    """Width 25 below the crotch line between the side and the inseam, mm, exact."""
    y = levels.crotch - THIGH_BELOW
    return x_at(side, y) - x_at(inner, y)
