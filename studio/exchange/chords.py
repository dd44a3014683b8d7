"""Curves as chords in a file: as few as keep every printed digit of what is measured along them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from studio import numbers
from studio.curves import Chain

CHORD_ERROR = 0.005
"""Chords keep this near the curve, mm, or nearer: 3 m of sewing line are 0.005 mm short then, which
most often shows in no digit.
"""

LEAST_ERROR = CHORD_ERROR / 32.0
"""No chords are finer, mm: a length within 0.0002 mm of a rounding edge is not worth more vertices.
"""

_Places = Sequence[tuple[float, float]]


def chord_error(chains: Sequence[Chain], *, closed: bool) -> float:
    """The chord error, mm, for lines drawn one after the other, `closed` to a ring or not.

    `CHORD_ERROR`, halved until each line, their sum and the area of a ring are printed alike from
    curves and chords, in every unit; `LEAST_ERROR` where that is not enough.
    """
    curves = _digits([chain.length for chain in chains])
    area = _areas(abs(sum(chain.swept_area() for chain in chains)))
    error = CHORD_ERROR
    while error > LEAST_ERROR:
        lines = [chain.polyline(error) for chain in chains]
        same = _digits([_length(line) for line in lines]) == curves
        if same and (not closed or _areas(_area(lines)) == area):
            return error
        error /= 2.0
    return LEAST_ERROR


def _digits(lengths: Sequence[float]) -> list[str]:
    """Every length and the sum of them as they are printed."""
    return [
        numbers.bare(mm, unit, decimals)
        for mm in (*lengths, sum(lengths))
        for unit, decimals in ((unit, numbers.DECIMALS[unit]) for unit in numbers.DECIMAL_UNITS)
    ]


def _areas(mm2: float) -> list[str]:
    """An area as it is printed, whatever the unit of lengths."""
    return [numbers.area(mm2, numbers.squares(unit)) for unit in numbers.DECIMAL_UNITS]


def _length(line: _Places) -> float:
    return sum(math.dist(one, two) for one, two in pairwise(line))


def _area(lines: Sequence[_Places]) -> float:
    """The area inside lines drawn one after the other, mm2, by the shoelace formula."""
    ring = [place for line in lines for place in line[:-1]]
    sides = zip(ring, (*ring[1:], *ring[:1]), strict=True)
    return abs(sum(one[0] * two[1] - one[1] * two[0] for one, two in sides)) / 2.0
