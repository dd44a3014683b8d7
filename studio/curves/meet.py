"""Where two curves meet.

The kernel crosses one curve with twelve chords of the other (never its own path intersection,
which misses crossings), then Newton brings both parameters to the meeting. Shallow double
crossings that slip between chord and curve are sought with more chords.
"""

from __future__ import annotations

import math

import msgspec

from studio.curves import kernel, tolerance
from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.point import Point
from studio.errors import GeometryRefused

_CHORDS = 12
_FINER_CHORDS = 96
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
                found.append(
                    Meeting(first.distance_at(i, t), second.distance_at(j, u), one.at(t))
                )
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
    if one.is_straight and two.is_straight:
        return _straight_meeting(one, two)
    if one.is_straight:
        return [(t, u) for u, t in cubic_meetings(two, one)]
    if two.is_straight:
        return _polished(one, two, [(t, u) for u, t in _line_hits(one, two, two.p0, two.p3)])
    guesses = _chord_guesses(one, two, _CHORDS)
    if not guesses:
        guesses = _chord_guesses(one, two, _FINER_CHORDS)
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


def _line_hits(curve: Cubic, _line: Cubic, start: Point, end: Point) -> list[tuple[float, float]]:
    """Hits as (parameter on the line, on the curve), the line prolonged a hair past its ends."""
    step = end - start
    over = min(0.01, 1e-5 / step.length) if step.length > 0.0 else 0.0
    from_, to = start + step * -over, end + step * over
    hits = kernel.crossings_with_line(curve.twin, from_.x, from_.y, to.x, to.y)
    return [(line_t * (1 + 2 * over) - over, t) for line_t, t in hits]


def _chord_guesses(one: Cubic, two: Cubic, chords: int) -> list[tuple[float, float]]:
    guesses = []
    before = two.p0
    for k in range(chords):
        after = two.at((k + 1) / chords)
        for line_t, t in _line_hits(one, two, before, after):
            guesses.append((t, (k + line_t) / chords))
        before = after
    return guesses


def _polished(
    one: Cubic, two: Cubic, guesses: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for guess in guesses:
        pair = _newton(one, two, *guess)
        if pair is None:
            continue
        t, u = pair
        place = one.at(t)
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
