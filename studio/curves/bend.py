"""A chain bent so that one end moves and the other stays."""

from __future__ import annotations

from collections.abc import Callable

from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.point import Vector


def rising(share: float) -> tuple[float, float]:
    """A smooth step from 0 to 1, and its slope."""
    return share * share * (3.0 - 2.0 * share), 6.0 * share * (1.0 - share)


def falling(share: float) -> tuple[float, float]:
    """A smooth step from 1 to 0, and its slope."""
    value, slope = rising(share)
    return 1.0 - value, -slope


def bent(chain: Chain, step: Vector, weight: Callable[[float], tuple[float, float]]) -> Chain:
    """Each point moved by a smooth share of `step`; joints stay as smooth as they were.

    A handle of length h moves with its node and turns by the slope of the share over h mm, the
    same on both sides of a joint.
    """
    starts, length = chain.starts, chain.length
    cubics: list[Cubic] = []
    for start, cubic in zip(starts, chain.cubics, strict=True):
        low, low_slope = weight(start / length)
        high, high_slope = weight(min(1.0, (start + cubic.length) / length))
        out = cubic.p0.distance_to(cubic.p1) / length
        back = cubic.p2.distance_to(cubic.p3) / length
        first = cubics[-1].p3 if cubics else cubic.p0 + step * low
        cubics.append(
            Cubic(
                first,
                cubic.p1 + step * (low + low_slope * out),
                cubic.p2 + step * (high - high_slope * back),
                cubic.p3 + step * high,
            )
        )
    return Chain(tuple(cubics))


def end_moved(chain: Chain, step: Vector, *, at_end: bool) -> Chain:
    """A chain with its end, or its start, moved by a step and the other where it is: bent, but a
    straight one stays straight, as a hem must that is folded.
    """
    if not chain.is_straight:
        return bent(chain, step, rising if at_end else falling)
    if at_end:
        return Chain.straight(chain.start, chain.end + step)
    return Chain.straight(chain.start + step, chain.end)
