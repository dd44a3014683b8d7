"""How wide a piece is between two of its edges."""

from __future__ import annotations

import math

import msgspec

from studio.curves import Chain, tolerance

EVEN_MM = 0.05
"""A piece whose width changes by no more is told as one of one width."""

_LOOKED_MM = 5.0
"""The width is looked at every so many mm; it changes by far less from one to the next."""


class Width(msgspec.Struct, frozen=True):
    """Where it is narrowest and where it is widest, mm."""

    least: float
    most: float

    @property
    def is_even(self) -> bool:
        """Whether it is one width all along."""
        return self.most - self.least <= EVEN_MM


def width_between(one: Chain, two: Chain) -> Width:
    """How far two edges lie from each other, square to one of them: looked at every 5 mm or so of
    both, each place within 1e-9. Beyond the end of the other, where it ends first, nothing is
    square to it: such places count only when there is no other.
    """
    square: list[float] = []
    aside: list[float] = []
    for here, there in ((one, two), (two, one)):
        count = max(2, math.ceil(here.length / _LOOKED_MM))
        for k in range(count + 1):
            along, off = there.nearest(here.at(here.length * k / count))
            is_inside = tolerance.CORNER_MM < along < there.length - tolerance.CORNER_MM
            (square if is_inside else aside).append(off)
    found = square or aside
    return Width(min(found), max(found))
