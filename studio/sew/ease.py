"""Where ease lies along a seam: evenly, or over the stretch the maker eases it into."""

from __future__ import annotations

from studio.design.joins import Join


def partner_of(join: Join, length_a: float, length_b: float, along: float) -> float:
    """The place on side b (mm) that meets a place `along` side a.

    The meant ease is spread evenly over side a, or over `join.eased`; what the sides differ by
    beyond it is spread over all of the seam, since nobody can say where it will be lost.
    """
    if length_a <= 0.0:
        return 0.0
    over = length_b - length_a - join.ease
    return along + join.ease * taken_up(join, length_a, along) + over * along / length_a


def taken_up(join: Join, length_a: float, along: float) -> float:
    """Share of the ease (0 to 1) taken up `along` mm of side a."""
    low, high = (0.0, length_a) if join.eased is None else join.eased
    high = min(high, length_a)
    if high - low <= 0.0:
        return 0.0 if along < low else 1.0
    return min(1.0, max(0.0, (along - low) / (high - low)))
