"""One fair curve in place of a run of curves with kinks or steps between them."""

from __future__ import annotations

from collections.abc import Sequence

from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.point import Point, Vector

_SAMPLES = 8
"""Points taken of each chain, shared among its cubics."""

_ROUNDS = 3
_DAMPING = 1e-3
"""Share of the normal equations' trace added to both: where a handle lies along the curve, its
length moves nothing and must not run away."""

_LEAST, _MOST = 0.1, 0.8
"""Handle lengths are kept within these shares of the chord: no loop, no cusp, no end bent so
tightly that a band beside it could not have its allowance."""


def faired(run: Sequence[Chain]) -> Cubic:
    """The cubic that lies closest to a run of chains.

    Ends and end directions are kept; the two handle lengths are found by Gauss-Newton on the
    distances along the curve's normal, each sample brought to its nearest parameter in between.
    """
    start, end = run[0].start, run[-1].end
    out, back = run[0].start_tangent, -run[-1].end_tangent
    samples = [place for chain in run for place in _samples(chain)]
    chord = start.distance_to(end)
    at = _shares(start, samples, end)
    one = two = chord / 3.0
    for _ in range(_ROUNDS):
        cubic = Cubic(start, start.off(out, one), end.off(back, two), end)
        more, further = _step(cubic, out, back, samples, at)
        one = min(max(one + more, _LEAST * chord), _MOST * chord)
        two = min(max(two + further, _LEAST * chord), _MOST * chord)
    return Cubic(start, start.off(out, one), end.off(back, two), end)


def _samples(chain: Chain) -> list[Point]:
    """Points on each cubic, as many in all whatever the number of cubics."""
    each = max(2, _SAMPLES // len(chain.cubics))
    return [cubic.at((k + 0.5) / each) for cubic in chain.cubics for k in range(each)]


def _shares(start: Point, samples: Sequence[Point], end: Point) -> list[float]:
    """How far along the way through all samples each lies, 0 to 1."""
    passed, before, found = 0.0, start, []
    for place in samples:
        passed += before.distance_to(place)
        found.append(passed)
        before = place
    whole = passed + before.distance_to(end)
    return [one / whole for one in found]


def _step(
    cubic: Cubic, out: Vector, back: Vector, samples: Sequence[Point], at: list[float]
) -> tuple[float, float]:
    """Change of both handle lengths, mm, by the two normal equations; the parameters `at` which
    the samples are measured are brought nearer.
    """
    x0, y0, x1, y1, x2, y2, x3, y3 = cubic.numbers
    # In powers of the parameter and in plain numbers: this is much of a yoke that is dragged.
    p1, p2, p3 = 3.0 * (x1 - x0), 3.0 * (x2 - 2.0 * x1 + x0), x3 - x0 + 3.0 * (x1 - x2)
    q1, q2, q3 = 3.0 * (y1 - y0), 3.0 * (y2 - 2.0 * y1 + y0), y3 - y0 + 3.0 * (y1 - y2)
    out_x, out_y, back_x, back_y = out.x, out.y, back.x, back.y
    one = two = mixed = right_one = right_two = 0.0
    for k, place in enumerate(samples):
        t = at[k]
        gap_x = place.x - (((p3 * t + p2) * t + p1) * t + x0)
        gap_y = place.y - (((q3 * t + q2) * t + q1) * t + y0)
        first_x = (3.0 * p3 * t + 2.0 * p2) * t + p1
        first_y = (3.0 * q3 * t + 2.0 * q2) * t + q1
        square = first_x * first_x + first_y * first_y
        speed = square**0.5
        off = (gap_y * first_x - gap_x * first_y) / speed
        t += (gap_x * first_x + gap_y * first_y) / square
        at[k] = t = 0.0 if t < 0.0 else 1.0 if t > 1.0 else t
        share = 3.0 * (1.0 - t) * t / speed
        a = share * (1.0 - t) * (first_x * out_y - first_y * out_x)
        b = share * t * (first_x * back_y - first_y * back_x)
        one += a * a
        two += b * b
        mixed += a * b
        right_one += a * off
        right_two += b * off
    damping = _DAMPING * (one + two) + 1e-12
    one, two = one + damping, two + damping
    area = one * two - mixed * mixed
    return (right_one * two - mixed * right_two) / area, (
        one * right_two - mixed * right_one
    ) / area
