"""Where ease lies along a seam: evenly, or over the stretch the maker eases it into."""

from __future__ import annotations

import itertools

from studio.design.joins import Join


def partner_of(join: Join, length_a: float, length_b: float, along: float) -> float:
    """The place on side b (mm) that meets a place `along` side a.

    The meant ease is spread evenly over side a, or over `join.eased`; what the sides differ by
    beyond it is spread over all of the seam, since nobody can say where it will be lost.
    """
    if length_a <= 0.0:
        return 0.0
    over = length_b - length_a - join.ease
    eased = join.ease * taken_up(join, length_a, along) if join.ease else 0.0
    return along + eased + over * along / length_a


def partner_on_a(join: Join, length_a: float, length_b: float, along: float) -> float:
    """The place on side a (mm) that meets a place `along` side b: the inverse of `partner_of`,
    within 1e-9 mm.

    Where all ease is taken up at one place of side a, all of side b that is eased there meets it.
    Where so much is taken away that side b would run back, the first place that meets is given.
    """
    if length_a <= 0.0:
        return 0.0
    over = (length_b - length_a - join.ease) / length_a
    met = [(at, at + join.ease * taken + over * at) for at, taken in _kinks(join, length_a)]
    for (low, start), (high, end) in itertools.pairwise(met):
        if min(start, end) <= along <= max(start, end):
            share = 0.0 if end == start else (along - start) / (end - start)
            return low + (high - low) * share
    return 0.0 if along < met[0][1] else length_a


def _kinks(join: Join, length_a: float) -> list[tuple[float, float]]:
    """Where on side a (mm) ease begins and ends to be taken up, with the share taken up there;
    first and last its ends.
    """
    low, high = (0.0, length_a) if join.eased is None else join.eased
    inner = [(low, 0.0), (max(low, min(high, length_a)), 1.0)]
    return [
        (0.0, taken_up(join, length_a, 0.0)),
        *((at, taken) for at, taken in inner if 0.0 < at <= length_a),
        (length_a, taken_up(join, length_a, length_a)),
    ]


def taken_up(join: Join, length_a: float, along: float) -> float:
    """Share of the ease (0 to 1) taken up `along` mm of side a."""
    low, high = (0.0, length_a) if join.eased is None else join.eased
    high = min(high, length_a)
    if high - low <= 0.0:
        return 0.0 if along < low else 1.0
    return min(1.0, max(0.0, (along - low) / (high - low)))
