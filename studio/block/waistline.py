"""The waist of a panel and its darts, drawn as it will be worn: closed, then opened.

The sewn waist is one fair curve of the asked length, square to the rise and to the side. Each
dart is a cut square to it, opened by a turn about the dart's point. So the legs are equal, the
closed waist has no kink and the sewn length is exact, all by construction.
"""

from __future__ import annotations

import math
from typing import TypeAlias

import msgspec

from studio.block.proportions import DartShare
from studio.block.seams import Numbers, length

Turn: TypeAlias = tuple[float, float, float, float]
"""cosine, sine, shift x, shift y of a turn of the plane."""

_STILL: Turn = (1.0, 0.0, 0.0, 0.0)


class OpenedDart(msgspec.Struct, frozen=True):
    """A dart opened: its end nearer the rise, and its point, mm. Its other end is where the next
    stretch of the waist begins.
    """

    near_rise: tuple[float, float]
    point: tuple[float, float]


class Waistline(msgspec.Struct, frozen=True):
    """The waist opened, from the rise to the side: stretches of it with a dart between each two."""

    stretches: tuple[Numbers, ...]
    darts: tuple[OpenedDart, ...]

    @property
    def side(self) -> tuple[float, float]:
        """Where it meets the side seam."""
        return self.stretches[-1][6], self.stretches[-1][7]


def waistline(
    top: tuple[float, float],
    along: tuple[float, float],
    sewn: float,
    darts: tuple[DartShare, ...],
    end_slope: float,
    swing: float,
) -> Waistline:
    """The waist from the rise's top, heading right, square to the rise's upward direction.

    `sewn` is its length with the darts closed, `end_slope` its dy/dx at the side, `swing` turns
    its chord (radians) to lift or lower the side end without changing length or end directions.
    """
    turns = [2.0 * math.asin(min(0.9, dart.intake / (2.0 * dart.length))) for dart in darts]
    start_angle = math.atan2(-along[0], along[1])
    end_angle = math.atan(end_slope) + sum(turns)
    rest = _closed(top, start_angle, end_angle, sewn, swing)
    stretches: list[Numbers] = []
    opened: list[OpenedDart] = []
    move = _STILL
    passed = 0.0
    for dart, turn in zip(darts, turns, strict=True):
        before, rest = _split(rest, (dart.place - passed) / (1.0 - passed))
        passed = dart.place
        stretches.append(_moved(before, move))
        x, y = before[6], before[7]
        dx, dy = before[6] - before[4], before[7] - before[5]
        run = math.hypot(dx, dy)
        px, py = x + dy / run * dart.length, y - dx / run * dart.length
        near_rise = _place(move, x, y)
        point = _place(move, px, py)
        move = _then(_turn_about(px, py, -turn), move)
        opened.append(OpenedDart(near_rise, point))
    stretches.append(_moved(rest, move))
    return Waistline(tuple(stretches), tuple(opened))


def _closed(
    top: tuple[float, float], start: float, end: float, sewn: float, swing: float
) -> Numbers:
    """A cubic like an arc, of exact length, with given end angles and its chord swung."""
    chord = (start + end) / 2.0 + swing
    first = 2.0 / 3.0 / (1.0 + max(0.0, math.cos(chord - start)))
    last = 2.0 / 3.0 / (1.0 + max(0.0, math.cos(end - chord)))
    x1, y1 = first * math.cos(start), first * math.sin(start)
    x3, y3 = math.cos(chord), math.sin(chord)
    x2, y2 = x3 - last * math.cos(end), y3 - last * math.sin(end)
    scale = sewn / length((0.0, 0.0, x1, y1, x2, y2, x3, y3))
    x, y = top
    return (
        x,
        y,
        x + scale * x1,
        y + scale * y1,
        x + scale * x2,
        y + scale * y2,
        x + scale * x3,
        y + scale * y3,
    )


def _split(n: Numbers, t: float) -> tuple[Numbers, Numbers]:
    """Both parts of a cubic cut at a parameter, exact (de Casteljau)."""
    x0, y0, x1, y1, x2, y2, x3, y3 = n
    ax, ay = x0 + (x1 - x0) * t, y0 + (y1 - y0) * t
    bx, by = x1 + (x2 - x1) * t, y1 + (y2 - y1) * t
    cx, cy = x2 + (x3 - x2) * t, y2 + (y3 - y2) * t
    dx, dy = ax + (bx - ax) * t, ay + (by - ay) * t
    ex, ey = bx + (cx - bx) * t, by + (cy - by) * t
    fx, fy = dx + (ex - dx) * t, dy + (ey - dy) * t
    return (x0, y0, ax, ay, dx, dy, fx, fy), (fx, fy, ex, ey, cx, cy, x3, y3)


def _place(move: Turn, x: float, y: float) -> tuple[float, float]:
    cosine, sine, dx, dy = move
    return cosine * x - sine * y + dx, sine * x + cosine * y + dy


def _moved(n: Numbers, move: Turn) -> Numbers:
    if move is _STILL:
        return n
    return (
        *_place(move, n[0], n[1]),
        *_place(move, n[2], n[3]),
        *_place(move, n[4], n[5]),
        *_place(move, n[6], n[7]),
    )


def _turn_about(x: float, y: float, angle: float) -> Turn:
    cosine, sine = math.cos(angle), math.sin(angle)
    return cosine, sine, x - cosine * x + sine * y, y - sine * x - cosine * y


def _then(first: Turn, after: Turn) -> Turn:
    """The move `first`, followed by `after`."""
    cosine = after[0] * first[0] - after[1] * first[1]
    sine = after[1] * first[0] + after[0] * first[1]
    return (cosine, sine, *_place(after, first[2], first[3]))
