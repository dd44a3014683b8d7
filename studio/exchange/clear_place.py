"""Where a box of text fits on a piece or a page without covering a line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TypeAlias

import numpy as np
import shapely
from shapely import LineString, Polygon, STRtree

from studio.curves import Point

Polyline: TypeAlias = Sequence[tuple[float, float]]

_STEPS = 40
"""Places tried along the longer side of the room."""

_FIRST = 16
"""So many places are tried at once at first, four times as many each further time: often one of the
first is clear.
"""


def clear_place(
    room: Polyline,
    lines: Iterable[Polyline],
    size: tuple[float, float],
    near: Point,
    clearance: float,
    taken: Sequence[Polyline] = (),
) -> Point | None:
    """The middle of an upright box of `size` (width, height in mm) inside a closed `room`.

    The box keeps `clearance` mm from the room's edge, from each of `lines` and from all that lies
    inside the closed outlines `taken`. Of the places
    tried, on a grid of a fortieth of the room, the nearest to `near` is given; None when none of
    them is clear. Best effort: a hole smaller than the grid may be missed.
    """
    width, height = size[0] + 2.0 * clearance, size[1] + 2.0 * clearance
    ground = Polygon(room)
    if not ground.is_valid:
        ground = ground.buffer(0.0)
    shapely.prepare(ground)
    in_the_way = STRtree(
        [
            *(LineString(line) for line in lines if len(line) > 1),
            *(Polygon(outline) for outline in taken),
        ]
    )
    places = np.array(_candidates(ground.bounds, width, height, near)).reshape(-1, 2)
    half, at, many = np.array((width, height)) / 2.0, 0, _FIRST
    while at < len(places):
        tried = places[at : at + many]
        low, high = tried - half, tried + half
        boxes = shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1])
        clear = np.flatnonzero(shapely.contains(ground, boxes))
        hit, _ = in_the_way.query(boxes[clear], predicate="intersects")
        clear = np.delete(clear, np.unique(hit))
        if len(clear):
            x, y = tried[clear[0]]
            return Point(float(x), float(y))
        at, many = at + many, 4 * many
    return None


def is_clear(outline: Polyline, room: Polyline, lines: Iterable[Polyline]) -> bool:
    """True when a closed outline lies inside a closed room and meets none of the lines."""
    tried, ground = Polygon(outline), Polygon(room)
    if not ground.is_valid:
        ground = ground.buffer(0.0)
    return bool(ground.contains(tried)) and not any(
        tried.intersects(LineString(line)) for line in lines if len(line) > 1
    )


def _candidates(
    bounds: tuple[float, float, float, float], width: float, height: float, near: Point
) -> list[tuple[float, float]]:
    left, bottom, right, top = bounds
    step = max(right - left, top - bottom) / _STEPS
    xs = _along(left + width / 2.0, right - width / 2.0, near.x, step)
    ys = _along(bottom + height / 2.0, top - height / 2.0, near.y, step)
    return sorted(
        ((x, y) for x in xs for y in ys),
        key=lambda place: (math.hypot(place[0] - near.x, place[1] - near.y), place),
    )


def _along(least: float, most: float, near: float, step: float) -> list[float]:
    """Places from `least` to `most` in steps counted from `near`."""
    if most < least:
        return []
    first = math.ceil((least - near) / step - 1e-9)
    last = math.floor((most - near) / step + 1e-9)
    return [near + k * step for k in range(first, last + 1)] or [(least + most) / 2.0]
