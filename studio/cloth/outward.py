"""A ring of points with fewer points that lies outside the ring it was made of, never inside."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Ring: TypeAlias = npt.NDArray[np.float64]
"""Corners in mm, one a row, the last not the first again; what it bounds lies to its left."""

_Corner: TypeAlias = tuple[float, float, float]
"""x, y, and how far the edge that leaves it has gone out so far, mm."""

_LEAST = 4
"""A ring of so few corners is left as it is."""


def outward(ring: Ring, within: float) -> Ring:
    """A ring that holds all that `ring` holds and goes beyond it by no more than `within` mm.

    Hollow corners are cut across, and short edges of bulging runs give way to the corner in which
    the edges beside them meet; straight edges stay where they are. What each edge has gone out
    so far is added up, so that the bound is one. A ring that crosses itself may come out.
    """
    corners = [(float(x), float(y), 0.0) for x, y in ring]
    idle = 0
    while idle < 2 and len(corners) > _LEAST:
        before = len(corners)
        for merged in (_cut_across, _brought_together):
            corners = _round(corners, within, merged)
        idle = idle + 1 if len(corners) == before else 0
        half = len(corners) // 2
        corners = corners[half:] + corners[:half]
    return np.array([(x, y) for x, y, _ in corners])


_Merge: TypeAlias = Callable[[list[_Corner], float], list[_Corner] | None]


def _round(corners: list[_Corner], within: float, merged: _Merge) -> list[_Corner]:
    """Every run of four corners that may be merged, once, but not over the ring's first corner."""
    kept = list(corners)
    at = 0
    while at + 4 <= len(kept) and len(kept) > _LEAST:
        made = merged(kept[at : at + 4], within)
        if made is not None:
            kept[at : at + 4] = made
        at += 1
    return kept


def _cut_across(run: list[_Corner], within: float) -> list[_Corner] | None:
    """Without the second corner, where it is hollow or in line."""
    first, second, third, fourth = run
    wide = math.hypot(third[0] - first[0], third[1] - first[1])
    turn = _cross(first, second, third)
    if wide == 0.0 or turn > 0.0:
        return None
    gone = max(first[2], second[2]) - turn / wide
    return [(first[0], first[1], gone), third, fourth] if gone <= within else None


def _brought_together(run: list[_Corner], within: float) -> list[_Corner] | None:
    """The second and third corner as the one in which the edges beside them meet."""
    first, second, third, fourth = run
    turn = _cross(first, second, third)
    if turn <= 0.0 or _cross(second, third, fourth) <= 0.0:
        return None
    ax, ay = second[0] - first[0], second[1] - first[1]
    bx, by = fourth[0] - third[0], fourth[1] - third[1]
    area = ax * by - ay * bx
    if area <= 0.0:
        return None
    share = ((third[0] - second[0]) * by - (third[1] - second[1]) * bx) / area
    meet = (second[0] + ax * share, second[1] + ay * share)
    wide = math.hypot(third[0] - second[0], third[1] - second[1])
    gone = max(first[2], second[2], third[2]) + share * turn / wide
    if gone > within:
        return None
    return [(first[0], first[1], gone), (*meet, gone), fourth]


def _cross(first: _Corner, second: _Corner, third: _Corner) -> float:
    """Twice the area of three corners, above 0 for a left turn."""
    return (second[0] - first[0]) * (third[1] - second[1]) - (second[1] - first[1]) * (
        third[0] - second[0]
    )
