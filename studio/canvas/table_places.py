"""Where cloths and tray lie on the table: cloths in rows with their warp upright, the tray beside.

Places are in millimetres, y up; the upper edge of the first row is at 0.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec
import shapely

from studio.cloth.bed import Bed
from studio.curves import Affine, Point, Vector

BETWEEN = 150.0
"""Between two cloths beside one another, mm: room for an arrow."""

BELOW = 300.0
"""Between two rows of cloths, mm: room for names."""

TRAY_MARGIN = 35.0
BETWEEN_WAITING = 24.0
_LEAST_TRAY = (380.0, 500.0)
_LOOSE = 1.8
"""A tray takes so many times the area of the pieces in it, about."""

_ASPECT = 1.3
"""Width to height that a window has for the table, about."""


class TablePlaces(msgspec.Struct, frozen=True):
    """For each stock the move from its own places to the table, and the room all of them take."""

    moves: Mapping[str, Affine]
    width: float
    height: float


class TrayPlaces(msgspec.Struct, frozen=True):
    """The middle of every waiting piece, and the tray's left edge, width and height."""

    middles: Mapping[tuple[str, int], Point]
    left: float
    width: float
    height: float


def place_cloths(beds: Sequence[Bed], waiting_mm2: float) -> TablePlaces:
    """Cloths in their order, in as many rows as make them largest on a screen beside a tray for
    pieces of so much area.
    """
    sizes = {bed.name: _upright(bed) for bed in beds}
    if not sizes:
        return TablePlaces({}, 0.0, 0.0)
    ways = [_rows(beds, sizes, count) for count in range(1, len(beds) + 1)]

    def extent(way: TablePlaces) -> float:
        tray = max(_LEAST_TRAY[0], _LOOSE * waiting_mm2 / way.height) + BETWEEN
        return max((way.width + tray) / _ASPECT, way.height)

    return min(ways, key=extent)


def _rows(
    beds: Sequence[Bed], sizes: Mapping[str, tuple[Affine, float, float]], count: int
) -> TablePlaces:
    whole = sum(sizes[bed.name][1] + BETWEEN for bed in beds)
    rows: list[list[Bed]] = [[]]
    passed = 0.0
    for bed in beds:
        wide = sizes[bed.name][1] + BETWEEN
        if rows[-1] and passed + wide / 2.0 > whole * len(rows) / count and len(rows) < count:
            rows.append([])
        rows[-1].append(bed)
        passed += wide
    moves: dict[str, Affine] = {}
    top, widest = 0.0, 0.0
    for row in rows:
        left, high = 0.0, 0.0
        for bed in row:
            to_corner, wide, tall = sizes[bed.name]
            moves[bed.name] = to_corner.then(Affine.shift(Vector(left, top - tall)))
            left += wide + BETWEEN
            high = max(high, tall)
        widest = max(widest, left - BETWEEN)
        top -= high + BELOW
    return TablePlaces(moves, widest, -top - BELOW)


def _upright(bed: Bed) -> tuple[Affine, float, float]:
    """The move that makes its warp upright and its box begin at the origin; its width, height."""
    turn = Affine.turn(90.0 - bed.warp, Point(0.0, 0.0))
    places = [turn(Point(x, y)) for x, y in shapely.get_coordinates(bed.outline).tolist()]
    left, low = min(at.x for at in places), min(at.y for at in places)
    right, high = max(at.x for at in places), max(at.y for at in places)
    return turn.then(Affine.shift(Vector(-left, -low))), right - left, high - low


def place_waiting(
    sizes: Mapping[tuple[str, int], tuple[float, float]], left: float, height: float
) -> TrayPlaces:
    """A tray at `left` for pieces of some width and height, as high as the cloths if it may be."""
    tall = max(height, _LEAST_TRAY[1])
    widest = max((wide for wide, _ in sizes.values()), default=0.0)
    room = max(_LEAST_TRAY[0] - 2.0 * TRAY_MARGIN, widest)
    while True:
        middles, deep = _shelves(sizes, left + TRAY_MARGIN, room)
        if deep + 2.0 * TRAY_MARGIN <= tall or room > tall * 2.0:
            high = max(tall, deep + 2.0 * TRAY_MARGIN)
            return TrayPlaces(middles, left, room + 2.0 * TRAY_MARGIN, high)
        room += 60.0


def _shelves(
    sizes: Mapping[tuple[str, int], tuple[float, float]], left: float, room: float
) -> tuple[dict[tuple[str, int], Point], float]:
    """Tallest first, shelf under shelf."""
    middles: dict[tuple[str, int], Point] = {}
    x, top, high = 0.0, TRAY_MARGIN, 0.0
    for key in sorted(sizes, key=lambda one: (-sizes[one][1], one)):
        wide, tall = sizes[key]
        if x > 0.0 and x + wide > room:
            top += high + BETWEEN_WAITING
            x, high = 0.0, 0.0
        middles[key] = Point(left + x + wide / 2.0, -(top + tall / 2.0))
        x += wide + BETWEEN_WAITING
        high = max(high, tall)
    return middles, top + high - TRAY_MARGIN
