"""Where two curves meet.

The kernel crosses one curve with twelve chords of the other (never its own path intersection,
which misses crossings), then Newton brings both parameters to the meeting. Only chords that come
near the other curve are tried. Where some come near and none is hit, the curve may slip through
between chord and arc, twice: those chords are divided and tried again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from studio.curves import kernel, tolerance
from studio.curves.chain import Chain
from studio.curves.cubic import CHORDS, Cubic
from studio.curves.point import Point
from studio.errors import GeometryRefused

_FINER = 8
"""Into how many a near chord is divided when none is hit."""

_ROUGH_MM = 0.25
"""A curve that bows further than this off its chords gives guesses too rough to tell two close
crossings apart."""

_HAIR = 1e-5
"""How far (mm) a chord is prolonged at both ends, so that no crossing falls between two."""

_MOST_MEETINGS = 9


class Meeting(msgspec.Struct, frozen=True, gc=False):
    """A crossing: mm along the first chain, mm along the second, and the point."""

    first: float
    second: float
    point: Point


def meetings(first: Chain, second: Chain) -> list[Meeting]:
    """All crossings of two chains, sorted along the first; points within 1e-6 mm on both.

    Raises:
        GeometryRefused: two of their curves lie on each other over a stretch.
    """
    found: list[Meeting] = []
    for i, one in enumerate(first.cubics):
        for j, two in enumerate(second.cubics):
            for t, u in cubic_meetings(one, two):
                found.append(Meeting(first.distance_at(i, t), second.distance_at(j, u), one.at(t)))
    found.sort(key=lambda meeting: meeting.first)
    distinct: list[Meeting] = []
    for meeting in found:
        if not any(
            meeting.point.distance_to(other.point) < tolerance.CORNER_MM
            and abs(meeting.first - other.first) < tolerance.CORNER_MM
            for other in distinct
        ):
            distinct.append(meeting)
    return distinct


def cubic_meetings(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    """Parameters (on one, on two) of all crossings of two cubics; raises GeometryRefused."""
    if not one.box.meets(two.box, tolerance.MEET_MM):
        return []
    if one.is_straight:
        if two.is_straight:
            return _straight_meeting(one, two)
        return [(t, u) for u, t in cubic_meetings(two, one)]
    if two.is_straight:
        return _polished(one, two, _line_hits(one, two.p0, two.p3, 0.0, 1.0))
    guesses: list[tuple[float, float]] = []
    for chord in _near_chords(one, two.stations, 0.0, 1.0 / CHORDS, two.sagitta):
        hits = _line_hits(one, *chord)
        if two.sagitta > (tolerance.TOUCH_MM if not hits else _ROUGH_MM):
            finer = _divided(one, two, chord[2], chord[3])
            hits = [hit for part in finer for hit in _line_hits(one, *part)]
        guesses += hits
    return _polished(one, two, guesses)


def _straight_meeting(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    a, b = one.p3 - one.p0, two.p3 - two.p0
    cross = a.cross(b)
    if abs(cross) <= tolerance.PARALLEL * a.length * b.length:
        return []
    gap = two.p0 - one.p0
    t, u = gap.cross(b) / cross, gap.cross(a) / cross
    slack_t, slack_u = tolerance.MEET_MM / a.length, tolerance.MEET_MM / b.length
    if -slack_t <= t <= 1 + slack_t and -slack_u <= u <= 1 + slack_u:
        return [(min(1.0, max(0.0, t)), min(1.0, max(0.0, u)))]
    return []


def _line_hits(
    curve: Cubic, start: Point, end: Point, from_: float, share: float
) -> list[tuple[float, float]]:
    """Hits of a chord as (parameter on the curve, on the chord's own curve)."""
    x, y = end.x - start.x, end.y - start.y
    over = min(0.01, _HAIR / (abs(x) + abs(y) + 1e-12))
    hits = kernel.crossings_with_line(
        curve.twin,
        start.x - x * over,
        start.y - y * over,
        end.x + x * over,
        end.y + y * over,
    )
    return [(t, from_ + (line_t * (1.0 + 2.0 * over) - over) * share) for line_t, t in hits]


def _near_chords(
    one: Cubic, stations: Sequence[Point], from_: float, share: float, fat: float
) -> list[tuple[Point, Point, float, float]]:
    """Chords between neighbouring stations that come within `fat` mm of a curve's box, each with
    the parameter it starts at and the share of the parameter it spans.
    """
    box = one.box
    left, right = box.left - fat, box.right + fat
    bottom, top = box.bottom - fat, box.top + fat
    found = []
    before = stations[0]
    for k in range(1, len(stations)):
        after = stations[k]
        if not (
            (before.x < left and after.x < left)
            or (before.x > right and after.x > right)
            or (before.y < bottom and after.y < bottom)
            or (before.y > top and after.y > top)
        ) and not _aside(one, before, after, fat):
            found.append((before, after, from_ + (k - 1) * share, share))
        before = after
    return found


def _aside(curve: Cubic, start: Point, end: Point, fat: float) -> bool:
    """True when a curve's control points all lie on one side of a chord, more than `fat` mm off:
    then so does the curve.
    """
    x, y = end.x - start.x, end.y - start.y
    slack = fat * (abs(x) + abs(y)) + 1e-12
    sides = [
        x * (point.y - start.y) - y * (point.x - start.x)
        for point in (curve.p0, curve.p1, curve.p2, curve.p3)
    ]
    return min(sides) > slack or max(sides) < -slack


def _divided(
    one: Cubic, two: Cubic, from_: float, share: float
) -> list[tuple[Point, Point, float, float]]:
    finer = share / _FINER
    stations = [two.at(from_ + k * finer) for k in range(_FINER + 1)]
    return _near_chords(one, stations, from_, finer, two.sagitta / (_FINER * _FINER))


def _polished(
    one: Cubic, two: Cubic, guesses: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for guess in guesses:
        pair = _newton(one, two, *guess)
        if pair is None:
            continue
        place = one.at(pair[0])
        if all(place.distance_to(one.at(other)) > tolerance.CORNER_MM for other, _ in found):
            found.append(pair)
    if len(found) > _MOST_MEETINGS:
        raise GeometryRefused("Two curves lie on each other over a stretch.")
    return found


def _newton(one: Cubic, two: Cubic, t: float, u: float) -> tuple[float, float] | None:
    for _ in range(12):
        gap = one.at(t) - two.at(u)
        if math.hypot(gap.x, gap.y) < 1e-12:
            break
        a, b = one.derivative(t), two.derivative(u)
        cross = a.cross(b)
        if abs(cross) <= tolerance.PARALLEL * a.length * b.length:
            break
        t = min(1.02, max(-0.02, t - gap.cross(b) / cross))
        u = min(1.02, max(-0.02, u - gap.cross(a) / cross))
    t, u = min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
    return (t, u) if one.at(t).distance_to(two.at(u)) <= tolerance.MEET_MM else None
