"""Where the label of a piece stands: as large as fits, never across an edge or a line."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import TypeAlias

import msgspec
from shapely.geometry import Polygon

from studio.curves import Affine, Point, Vector
from studio.exchange.clear_place import Polyline, clear_place

SizeOf: TypeAlias = Callable[[tuple[str, ...], float], tuple[float, float]]
"""Width and height, mm, of lines of text under a size, mm."""

LEAST_LABEL = 0.5
"""The smallest label, as a share of the size wished for."""

_SIZES = ((1.0, 0.85, 0.7), (0.6, LEAST_LABEL))
"""Shares of the size wished for; with each group all lines are tried, then fewer of them, down to
two."""

_NAME_ALONE = (0.85, 0.7, 0.6, LEAST_LABEL, 0.4, 0.32, 0.25)
"""Shares of the size wished for at which the first line is tried without others."""

LEAST_NAME = 0.4
"""The smallest of these, if nothing else is said."""

_CLEAR = 0.35
"""Kept clear round a label, as a share of its size."""

_UPRIGHT = 2.0
"""A piece that runs so few degrees off upright or level has its label so."""


class LabelPlace(msgspec.Struct, frozen=True):
    """The middle of a label (mm), its size, how far it is turned (degrees) and its lines. One that
    has no room on its piece stands beside it, and a `leader` runs from it to the piece.
    """

    middle: Point
    size: float
    turned: float
    lines: tuple[str, ...]
    leader: tuple[Point, Point] | None = None


def place_on(
    lines: tuple[str, ...],
    size: float,
    near: Point,
    room: Polyline,
    in_the_way: Sequence[Polyline],
    size_of: SizeOf,
    least: float = LEAST_NAME,
) -> LabelPlace | None:
    """A label clear of a piece's edge and of every line on it, upright if it can be, else up the
    piece, else along it.

    Rather than below seven tenths of the size the last lines are left out, then all but the first;
    None when not even that fits at the `least` share of the size.
    """
    turns = (0.0, 90.0, *_along(room))
    for count, share in _attempts(len(lines), least):
        kept, asked = lines[:count], share * size
        for turned in turns:
            needs = size_of(kept, asked)
            middle = _clear(room, in_the_way, needs, near, _CLEAR * asked, turned)
            if middle is not None:
                return LabelPlace(middle, asked, turned, kept)
    return None


def place_beside(
    name: str,
    size: float,
    near: Point,
    outer: Polyline,
    gap: float,
    size_of: SizeOf,
) -> LabelPlace:
    """A name below a piece on which it has no room, with a leader up to a place on the piece. It is
    so small that it keeps within `gap` mm of the piece, which nothing else comes nearer to.
    """
    bounds = Polygon(outer).bounds
    wide, high = size_of((name,), LEAST_LABEL * size)
    room = bounds[2] - bounds[0] + gap
    asked = LEAST_LABEL * size * min(1.0, room / wide, 0.7 * gap / high)
    _, high = size_of((name,), asked)
    middle = Point((bounds[0] + bounds[2]) / 2.0, bounds[1] - 0.15 * gap - high / 2.0)
    top = middle + Vector(0.0, high / 2.0)
    return LabelPlace(middle, asked, 0.0, (name,), (top, near))


def _attempts(count: int, least: float) -> Iterator[tuple[int, float]]:
    """How many lines are tried at which share of the size."""
    for shares in _SIZES:
        for kept in range(count, 1, -1):
            for share in shares:
                yield kept, share
    for share in _NAME_ALONE:
        if share >= least:
            yield 1, share


def _along(room: Polyline) -> tuple[float, ...]:
    """The direction in which a piece is longest, degrees, read from the left or from below; none
    when that is level or upright.
    """
    frame = Polygon(room).minimum_rotated_rectangle
    if not isinstance(frame, Polygon):
        return ()
    points = list(frame.exterior.coords)
    one, two = (
        (b[0] - a[0], b[1] - a[1]) for a, b in ((points[0], points[1]), (points[1], points[2]))
    )
    x, y = max(one, two, key=lambda side: math.hypot(*side))
    turned = math.degrees(math.atan2(y, x))
    turned -= 180.0 * math.floor((turned + 90.0 - 1e-9) / 180.0)
    off = abs(turned) % 90.0
    return () if min(off, 90.0 - off) < _UPRIGHT else (turned,)


def _clear(
    room: Polyline,
    in_the_way: Sequence[Polyline],
    needs: tuple[float, float],
    near: Point,
    clearance: float,
    turned: float,
) -> Point | None:
    """The middle of a clear box turned by degrees: all else is turned back by them."""
    if turned == 0.0:
        return clear_place(room, in_the_way, needs, near, clearance)
    if turned == 90.0:
        return clear_place(room, in_the_way, needs[::-1], near, clearance)
    back = Affine.turn(-turned, near)
    found = clear_place(
        _moved(room, back), [_moved(line, back) for line in in_the_way], needs, near, clearance
    )
    return None if found is None else back.inverse()(found)


def _moved(line: Polyline, move: Affine) -> Polyline:
    return [(at.x, at.y) for at in (move(Point(x, y)) for x, y in line)]
