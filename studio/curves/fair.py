"""One fair curve in place of a run of curves with kinks or steps between them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.point import Vector

_SAMPLES = 8
_ROUNDS = 4
_LEAST_HANDLE_SHARE = 0.05


def faired(run: Sequence[Chain]) -> tuple[Cubic, float]:
    """The cubic that lies closest to a run of chains, and how far off it lies at the worst (mm).

    Ends and end directions are kept; the two handle lengths are found by least squares with the
    samples' parameters brought back onto the curve each round (measured, not bounded).
    """
    start, end = run[0].start, run[-1].end
    leaving, arriving = run[0].start_tangent, run[-1].end_tangent
    samples = np.array([place for chain in run for place in _samples(chain)])
    chord = start.distance_to(end)
    steps = np.hypot(*np.diff(samples, axis=0, prepend=[[start.x, start.y]]).T)
    t = np.cumsum(steps) / (steps.sum() + np.hypot(*(samples[-1] - (end.x, end.y))))
    out, back = np.array([leaving.x, leaving.y]), -np.array([arriving.x, arriving.y])
    p0, p3 = np.array([start.x, start.y]), np.array([end.x, end.y])
    handles = np.array([chord / 3.0, chord / 3.0])
    for _ in range(_ROUNDS):
        b1, b2 = 3.0 * (1 - t) ** 2 * t, 3.0 * (1 - t) * t**2
        base = ((1 - t) ** 3 + b1)[:, None] * p0 + (t**3 + b2)[:, None] * p3
        handles = np.maximum(
            _least_squares(b1, b2, out, back, samples - base), _LEAST_HANDLE_SHARE * chord
        )
        t = _brought_back(p0, p0 + out * handles[0], p3 + back * handles[1], p3, samples, t)
    cubic = Cubic(
        start,
        start + Vector(*(out * handles[0]).tolist()),
        end + Vector(*(back * handles[1]).tolist()),
        end,
    )
    points = _at(cubic, t)
    return cubic, float(np.hypot(*(points - samples).T).max())


def _least_squares(
    b1: np.ndarray, b2: np.ndarray, out: np.ndarray, back: np.ndarray, wanted: np.ndarray
) -> np.ndarray:
    """Handle lengths by the two normal equations; a third of nothing when they are singular."""
    mixed = float(b1 @ b2) * float(out @ back)
    one, two = float(b1 @ b1), float(b2 @ b2)
    right_one, right_two = float(b1 @ (wanted @ out)), float(b2 @ (wanted @ back))
    area = one * two - mixed * mixed
    if area <= 1e-12:
        return np.zeros(2)
    return np.array(
        [(right_one * two - mixed * right_two) / area, (one * right_two - mixed * right_one) / area]
    )


def _samples(chain: Chain) -> list[tuple[float, float]]:
    """Points on each cubic, as many in all whatever the number of cubics."""
    each = max(2, _SAMPLES // len(chain.cubics))
    places = (cubic.at((k + 0.5) / each) for cubic in chain.cubics for k in range(each))
    return [(place.x, place.y) for place in places]


def _at(cubic: Cubic, t: np.ndarray) -> np.ndarray:
    x0, y0, x1, y1, x2, y2, x3, y3 = cubic.numbers
    weights = np.stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3], axis=1)
    controls = np.array([[x0, y0], [x1, y1], [x2, y2], [x3, y3]])
    points: np.ndarray = weights @ controls
    return points


def _brought_back(
    p0: np.ndarray,
    p1: np.ndarray,
    p2: np.ndarray,
    p3: np.ndarray,
    samples: np.ndarray,
    t: np.ndarray,
) -> np.ndarray:
    """One Newton step towards each sample's nearest parameter."""
    u = (1 - t)[:, None]
    s = t[:, None]
    point = u**3 * p0 + 3 * u**2 * s * p1 + 3 * u * s**2 * p2 + s**3 * p3
    first = 3 * (u**2 * (p1 - p0) + 2 * u * s * (p2 - p1) + s**2 * (p3 - p2))
    second = 6 * (u * (p2 - 2 * p1 + p0) + s * (p3 - 2 * p2 + p1))
    gap = point - samples
    slope = (first * first).sum(axis=1) + (gap * second).sum(axis=1)
    step = np.where(slope > 0, (gap * first).sum(axis=1) / np.where(slope > 0, slope, 1.0), 0.0)
    moved: np.ndarray = np.clip(t - step, 0.0, 1.0)
    return moved
