"""Where two cubics meet.

A straight stretch and a curve that draws near to it all along meet once at most, and so do two
curves whose control legs all turn the same way to each other: that is found at once. Else the
kernel crosses one curve with twelve chords of the other (never its own path intersection, which
misses crossings), then Newton brings both parameters to the meeting. Only chords that come near the
other curve are tried. Where one comes near and is not hit, the curve may slip through between chord
and arc, twice; where Newton comes home from a hit with nothing, the chord was too rough: that chord
is divided and tried again. Where a crossing is slanting there may be another close by: then fine
chords of both are tried, all against all.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from studio.curves import kernel, tolerance
from studio.curves.cubic import CHORDS, Cubic
from studio.curves.point import Point
from studio.errors import GeometryRefused

_FINER = 8
"""Into how many a chord is divided that is near and not hit, or hit in vain."""

_SLANTING = 0.6
"""Sine of the angle under which two curves that cross may well cross again close by: Newton then
comes home to one of the two from guesses that are rough."""

_DENSE = 96
"""Chords of both curves tried against each other where a crossing is slanting."""

_HAIR = 1e-5
"""How far (mm) a chord is prolonged at both ends, so that no crossing falls between two."""

_HOME_MM = 1e-11
"""Newton has come home where the curves are no further apart: less is lost in rounding a metre off
the origin, and would be sought in vain."""

_MOST_MEETINGS = 9
_LIES_ON_MM = 10.0 * tolerance.MEET_MM
_MAY_LIE_ON_MM = 0.01
"""Between these, Newton says whether a point lies on a curve."""


_T = np.linspace(0.0, 1.0, _DENSE + 1)
_WEIGHTS = np.stack([(1 - _T) ** 3, 3 * (1 - _T) ** 2 * _T, 3 * (1 - _T) * _T**2, _T**3], axis=1)


def cubic_meetings(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    """Parameters (on one, on two) of all crossings of two cubics; raises GeometryRefused."""
    if not one.box.meets(two.box, tolerance.MEET_MM):
        return []
    if one.is_straight:
        if two.is_straight:
            return _straight_meeting(one, two)
        return [(t, u) for u, t in cubic_meetings(two, one)]
    if two.is_straight:
        once = _crossed_once(one, two)
        if once is not None:
            return once
        guesses = [*_ends_on(one, two), *_line_hits(one, two.p0, two.p3, 0.0, 1.0)]
        return _polished(one, two, guesses)
    only = _only_meeting(one, two)
    if only is not None:
        return [only]
    if one.sagitta < two.sagitta:
        return [(t, u) for u, t in _curved_meetings(two, one)]
    return _curved_meetings(one, two)


def _curved_meetings(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    """As `cubic_meetings`, of two that are not straight; the second, which is cut into chords, is
    the one that bows off them less.
    """
    guesses = _ends_on(one, two) + [(t, u) for u, t in _ends_on(two, one)]
    for chord in _near_chords(one, two.stations, 0.0, 1.0 / CHORDS, two.sagitta):
        hits = _line_hits(one, *chord)
        homes = [_newton(one, two, *hit) for hit in hits]
        guesses += [home for home in homes if home is not None]
        if None in homes or (not hits and _comes_near(one, two, chord)):
            for part in _divided(one, two, chord[2], chord[3]):
                guesses += _line_hits(one, *part)
    found = _polished(one, two, guesses)
    if any(_is_slanting(one, two, *pair) for pair in found):
        found = _polished(one, two, [*found, *_dense_guesses(one, two)])
    return found


def _crossed_once(curve: Cubic, line: Cubic) -> list[tuple[float, float]] | None:
    """Where a curve meets a straight stretch that it draws near to, or away from, all along; None
    for any other curve, which may cross it twice.

    It does where its control points do: its moment about the line runs from the first one's to the
    last one's without turning, and is 0 in one place at most.
    """
    start, x, y = line.p0, line.p3.x - line.p0.x, line.p3.y - line.p0.y
    v0, w0, v1, w1, v2, w2, v3, w3 = curve.numbers
    a = x * (w0 - start.y) - y * (v0 - start.x)
    b = x * (w1 - start.y) - y * (v1 - start.x)
    c = x * (w2 - start.y) - y * (v2 - start.x)
    d = x * (w3 - start.y) - y * (v3 - start.x)
    if not (a < b < c < d or a > b > c > d):
        return None
    size = math.hypot(x, y)
    slack = tolerance.MEET_MM * size
    if (a > slack and d > slack) or (a < -slack and d < -slack):
        return []
    t = _rooted(a, b, c, d, 1e-13 * size)
    u, off = line.near(curve.at(t))
    return [(t, u)] if off <= tolerance.MEET_MM else []


def _rooted(a: float, b: float, c: float, d: float, enough: float) -> float:
    """Where, from 0 to 1, a cubic in Bernstein's form that rises or falls all along is 0, within
    `enough` of its value; the nearer end where it is so nowhere. Newton, and halving where that
    leaves what is left.
    """
    if a * d >= 0.0:
        return 0.0 if abs(a) < abs(d) else 1.0
    low, high, t = 0.0, 1.0, a / (a - d)
    for _ in range(60):
        r = 1.0 - t
        off = ((a * r + 3.0 * b * t) * r + 3.0 * c * t * t) * r + d * t * t * t
        if abs(off) <= enough:
            break
        if (off < 0.0) is (a < 0.0):
            low = t
        else:
            high = t
        slope = 3.0 * (((b - a) * r + 2.0 * (c - b) * t) * r + (d - c) * t * t)
        before, t = t, t - off / slope
        if not low < t < high:
            t = 0.5 * (low + high)
        if t == before:
            break
    return t


def _only_meeting(one: Cubic, two: Cubic) -> tuple[float, float] | None:
    """The meeting of two curves that cannot meet twice, found from where their chords cross; None
    where they might, and where it does not show at once.

    A chord of a curve points between the directions of its three control legs. Where every leg of
    the one turns the same way to every leg of the other, no chord of the one can be one of the
    other, so the curves have no two places in common.
    """
    a, b = one.legs, two.legs
    ways = [p_x * q_y - p_y * q_x for p_x, p_y in a for q_x, q_y in b]
    if not (min(ways) > 0.0 or max(ways) < 0.0):
        return None
    start, other = one.p0, two.p0
    a_x, a_y, b_x, b_y = (
        one.p3.x - start.x,
        one.p3.y - start.y,
        two.p3.x - other.x,
        two.p3.y - other.y,
    )
    cross = a_x * b_y - a_y * b_x
    gap_x, gap_y = other.x - start.x, other.y - start.y
    t, u = (gap_x * b_y - gap_y * b_x) / cross, (gap_x * a_y - gap_y * a_x) / cross
    return _newton(one, two, min(1.0, max(0.0, t)), min(1.0, max(0.0, u)))


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


def _foot(cubic: Cubic, point: Point) -> tuple[float, float]:
    """Parameter of the nearest point and its distance, mm; that is sought closely where it tells
    whether the point lies on the curve.
    """
    u, gap = cubic.near(point)
    return cubic.nearest(point) if _LIES_ON_MM < gap < _MAY_LIE_ON_MM else (u, gap)


def _ends_on(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    """Ends of one cubic that lie on another, which rounding may hide from both it and the cubic
    that follows it.
    """
    found = []
    for t, end in ((0.0, one.p0), (1.0, one.p3)):
        if two.box.is_near(end, tolerance.MEET_MM):
            u, gap = _foot(two, end)
            if gap <= _LIES_ON_MM:
                found.append((t, u))
    return found


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


def _comes_near(one: Cubic, two: Cubic, chord: tuple[Point, Point, float, float]) -> bool:
    """True when a curve comes so near to a chord that it could meet the arc over it."""
    if two.sagitta <= tolerance.TOUCH_MM:
        return False
    middle = chord[0].toward(chord[1], 0.5)
    reach = 0.5 * chord[0].distance_to(chord[1]) + two.sagitta
    return one.near(middle)[1] <= reach + tolerance.TOUCH_MM


def _is_slanting(one: Cubic, two: Cubic, t: float, u: float) -> bool:
    a, b = one.derivative(t), two.derivative(u)
    return abs(a.cross(b)) < _SLANTING * a.length * b.length


def _dense_guesses(one: Cubic, two: Cubic) -> list[tuple[float, float]]:
    """Where the chords of two finely divided curves cross, all against all."""
    p, q = _dense(one), _dense(two)
    a, b = np.diff(p, axis=0)[:, None, :], np.diff(q, axis=0)[None, :, :]
    gap = q[None, :-1, :] - p[:-1, None, :]
    cross = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap[..., 0] * b[..., 1] - gap[..., 1] * b[..., 0]) / cross
        u = (gap[..., 0] * a[..., 1] - gap[..., 1] * a[..., 0]) / cross
    hair = 1e-6
    rows, columns = np.nonzero((t >= -hair) & (t <= 1 + hair) & (u >= -hair) & (u <= 1 + hair))
    return [
        ((int(i) + float(t[i, j])) / _DENSE, (int(j) + float(u[i, j])) / _DENSE)
        for i, j in zip(rows, columns, strict=True)
    ]


def _dense(cubic: Cubic) -> np.ndarray:
    x0, y0, x1, y1, x2, y2, x3, y3 = cubic.numbers
    controls = np.array([[x0, y0], [x1, y1], [x2, y2], [x3, y3]])
    return np.asarray(_WEIGHTS @ controls)


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
        if found:
            place = one.at(pair[0])
            if any(place.distance_to(one.at(t)) <= tolerance.CORNER_MM for t, _ in found):
                continue
        found.append(pair)
    if len(found) > _MOST_MEETINGS:
        raise GeometryRefused("Two curves lie on each other over a stretch.")
    return found


def _newton(one: Cubic, two: Cubic, t: float, u: float) -> tuple[float, float] | None:
    """Both parameters brought to a meeting; None when it lies beyond an end or is none.

    Written out in plain numbers: it is run for every guess, and its points and directions are seen
    by nobody.
    """
    x0, y0, x1, y1, x2, y2, x3, y3 = one.numbers
    v0, w0, v1, w1, v2, w2, v3, w3 = two.numbers
    # In powers of both parameters.
    a1, a2, a3 = 3.0 * (x1 - x0), 3.0 * (x2 - 2.0 * x1 + x0), x3 - x0 + 3.0 * (x1 - x2)
    b1, b2, b3 = 3.0 * (y1 - y0), 3.0 * (y2 - 2.0 * y1 + y0), y3 - y0 + 3.0 * (y1 - y2)
    c1, c2, c3 = 3.0 * (v1 - v0), 3.0 * (v2 - 2.0 * v1 + v0), v3 - v0 + 3.0 * (v1 - v2)
    d1, d2, d3 = 3.0 * (w1 - w0), 3.0 * (w2 - 2.0 * w1 + w0), w3 - w0 + 3.0 * (w1 - w2)
    apart_x, apart_y = x0 - v0, y0 - w0
    for _ in range(12):
        gap_x = apart_x + ((a3 * t + a2) * t + a1) * t - ((c3 * u + c2) * u + c1) * u
        gap_y = apart_y + ((b3 * t + b2) * t + b1) * t - ((d3 * u + d2) * u + d1) * u
        if abs(gap_x) < _HOME_MM > abs(gap_y):
            if 0.0 <= t <= 1.0 and 0.0 <= u <= 1.0:
                return t, u
            break
        one_x, one_y = (3.0 * a3 * t + 2.0 * a2) * t + a1, (3.0 * b3 * t + 2.0 * b2) * t + b1
        two_x, two_y = (3.0 * c3 * u + 2.0 * c2) * u + c1, (3.0 * d3 * u + 2.0 * d2) * u + d1
        cross = one_x * two_y - one_y * two_x
        if abs(cross) <= tolerance.PARALLEL * math.hypot(one_x, one_y) * math.hypot(two_x, two_y):
            break
        t -= (gap_x * two_y - gap_y * two_x) / cross
        u -= (gap_x * one_y - gap_y * one_x) / cross
        t = -0.02 if t < -0.02 else 1.02 if t > 1.02 else t
        u = -0.02 if u < -0.02 else 1.02 if u > 1.02 else u
    t, u = min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
    return (t, u) if one.at(t).distance_to(two.at(u)) <= tolerance.MEET_MM else None
