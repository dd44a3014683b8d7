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
        cubic = Cubic(start, start + out * one, end + back * two, end)
        more, further = _step(cubic, out, back, samples, at)
        one = min(max(one + more, _LEAST * chord), _MOST * chord)
        two = min(max(two + further, _LEAST * chord), _MOST * chord)
    return Cubic(start, start + out * one, end + back * two, end)


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
    v0, v1, v2, w0, w1, w2 = x1 - x0, x2 - x1, x3 - x2, y1 - y0, y2 - y1, y3 - y2
    out_x, out_y, back_x, back_y = out.x, out.y, back.x, back.y
    one = two = mixed = right_one = right_two = 0.0
    # In plain numbers: this is most of the work of a yoke that is dragged.
    for k, place in enumerate(samples):
        t = at[k]
        u = 1.0 - t
        a, b, c, d = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        gap_x = place.x - (a * x0 + b * x1 + c * x2 + d * x3)
        gap_y = place.y - (a * y0 + b * y1 + c * y2 + d * y3)
        a, b, c = 3.0 * u * u, 6.0 * u * t, 3.0 * t * t
        first_x = a * v0 + b * v1 + c * v2
        first_y = a * w0 + b * w1 + c * w2
        square = first_x * first_x + first_y * first_y
        normal_x, normal_y = -first_y / square**0.5, first_x / square**0.5
        off = gap_x * normal_x + gap_y * normal_y
        at[k] = t = min(1.0, max(0.0, t + (gap_x * first_x + gap_y * first_y) / square))
        u = 1.0 - t
        a = 3.0 * u * u * t * (normal_x * out_x + normal_y * out_y)
        b = 3.0 * u * t * t * (normal_x * back_x + normal_y * back_y)
        one, two, mixed = one + a * a, two + b * b, mixed + a * b
        right_one, right_two = right_one + a * off, right_two + b * off
    damping = _DAMPING * (one + two) + 1e-12
    one, two = one + damping, two + damping
    area = one * two - mixed * mixed
    return (right_one * two - mixed * right_two) / area, (
        one * right_two - mixed * right_one
    ) / area
