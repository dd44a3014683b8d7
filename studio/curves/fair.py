"""One fair curve in place of a run of curves with kinks or steps between them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.point import Vector

_SAMPLES = 8
"""Points taken of each chain, shared among its cubics."""

_ROUNDS = 3
_DAMPING = 1e-3
"""Share of the normal equations' trace added to both: where a handle lies along the curve, its
length moves nothing and must not run away."""

_LEAST, _MOST = 0.05, 0.8
"""Handle lengths are kept within these shares of the chord: no loop, no cusp."""


def faired(run: Sequence[Chain]) -> tuple[Cubic, float]:
    """The cubic that lies closest to a run of chains, and how far off it lies at the worst (mm).

    Ends and end directions are kept; the two handle lengths are found by Gauss-Newton on the
    distances along the curve's normal, each sample brought to its nearest parameter in between.
    What is given back as worst is measured at the samples.
    """
    start, end = run[0].start, run[-1].end
    leaving, arriving = run[0].start_tangent, run[-1].end_tangent
    samples = np.array([place for chain in run for place in _samples(chain)])
    chord = start.distance_to(end)
    steps = np.hypot(*np.diff(samples, axis=0, prepend=[[start.x, start.y]]).T)
    t = np.cumsum(steps) / (steps.sum() + np.hypot(*(samples[-1] - (end.x, end.y))))
    out = np.array([leaving.x, leaving.y])
    back = np.array([-arriving.x, -arriving.y])
    p0, p3 = np.array([start.x, start.y]), np.array([end.x, end.y])
    handles = np.array([chord / 3.0, chord / 3.0])
    for _ in range(_ROUNDS):
        p1, p2 = p0 + out * handles[0], p3 + back * handles[1]
        point, first = _at(p0, p1, p2, p3, t)
        gap = samples - point
        speed2 = (first * first).sum(axis=1)
        normal = np.stack([-first[:, 1], first[:, 0]], axis=1) / np.sqrt(speed2)[:, None]
        off = (gap * normal).sum(axis=1)
        t = np.clip(t + (gap * first).sum(axis=1) / speed2, 0.0, 1.0)
        one = 3.0 * (1 - t) ** 2 * t * (normal @ out)
        two = 3.0 * (1 - t) * t**2 * (normal @ back)
        handles = np.clip(handles + _step(one, two, off), _LEAST * chord, _MOST * chord)
    point, first = _at(p0, p0 + out * handles[0], p3 + back * handles[1], p3, t)
    across = (samples - point)[:, ::-1] * first * (1.0, -1.0)
    worst = np.abs(across.sum(axis=1)) / np.hypot(first[:, 0], first[:, 1])
    cubic = Cubic(
        start,
        start + Vector(*(out * handles[0]).tolist()),
        end + Vector(*(back * handles[1]).tolist()),
        end,
    )
    return cubic, float(worst.max())


def _samples(chain: Chain) -> list[tuple[float, float]]:
    """Points on each cubic, as many in all whatever the number of cubics."""
    each = max(2, _SAMPLES // len(chain.cubics))
    places = (cubic.at((k + 0.5) / each) for cubic in chain.cubics for k in range(each))
    return [(place.x, place.y) for place in places]


def _at(
    p0: np.ndarray, p1: np.ndarray, p2: np.ndarray, p3: np.ndarray, t: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Points and first derivatives at many parameters."""
    s = t[:, None]
    u = 1.0 - s
    a, b, c = p1 - p0, p2 - p1, p3 - p2
    point = u**3 * p0 + 3.0 * u * u * s * p1 + 3.0 * u * s * s * p2 + s**3 * p3
    return point, 3.0 * (u * u * a + 2.0 * u * s * b + s * s * c)


def _step(one: np.ndarray, two: np.ndarray, off: np.ndarray) -> np.ndarray:
    """Change of both handle lengths by the two normal equations."""
    a, b, mixed = float(one @ one), float(two @ two), float(one @ two)
    damping = _DAMPING * (a + b) + 1e-12
    a, b = a + damping, b + damping
    right_one, right_two = float(one @ off), float(two @ off)
    area = a * b - mixed * mixed
    return np.array(
        [(right_one * b - mixed * right_two) / area, (a * right_two - mixed * right_one) / area]
    )
