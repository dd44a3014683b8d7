"""Few smooth cubics through many measured points, with the corners found first.

Points carry noise: a scanner's, a digitiser's, a flattened curve's own chords. Corners are where
two straight fits of 4 mm before and after a point differ in direction; between corners cubics are
fitted by least squares of the distances along the curve's normal, each point brought back to its
nearest parameter every round, and a knot is added where the misfit is worst.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from studio.curves import tolerance
from studio.curves.cubic import Cubic
from studio.curves.point import Point, Vector

CORNER_DEGREES = 12.0
"""A change of direction over this is a corner; below it the run is smooth."""

_CORNER_REACH = 4.0
"""Length (mm) of the straight fits before and after a point."""

_BESIDE = 4
"""Points on each side of where a corner seems to be, among which it is sought."""

_DIRECTION_REACH = 12.0
"""Length (mm) on each side over which the direction at a knot is measured."""

_LEAST_HANDLE = 0.1
"""Of its chord: the direction of a shorter handle is that of the noise, and corners go by it."""

_LEAST_FORWARD = 0.9
"""Cosine of the most that a handle leaves the direction which the points have at their end."""

_ROUNDS = 20
_STILL_MM = 1e-5
"""The rounds end sooner when no control point moves farther."""

_MOST_DEPTH = 7
_LONGEST, _LONGEST_AHEAD = 1.5, 0.75
_QUIET_MM = 1e-4
"""Noise below this is none."""

_RMS_OF_SIGMA, _WORST_OF_SIGMA = 1.12, 4.5
"""How far a good fit may stray from noisy points, in standard deviations of their noise."""


def corners(points: np.ndarray, *, closed: bool) -> list[int]:
    """Indices of corner points of a run.

    `points` has shape (n, 2), mm, in order; of a closed run the first point is not repeated. Open
    runs never report their ends. Measured: corners of 20 degrees and more are found to the point
    at noise up to 0.05 mm.
    """
    count = len(points)
    if count < 5:
        return []
    turns = np.zeros(count)
    for index in range(count):
        before = _reach(points, index, -1, closed)
        after = _reach(points, index, 1, closed)
        if len(before) >= 2 and len(after) >= 2:
            turns[index] = abs(_turn(_direction(before[::-1]), _direction(after)))
    found: list[int] = []
    for index in range(count):
        left, right = _neighbour_turns(turns, points, index, closed)
        is_peak = turns[index] >= max(left.max(initial=0.0), right.max(initial=0.0))
        base = min(left[-1] if len(left) else 0.0, right[-1] if len(right) else 0.0)
        if is_peak and turns[index] - base > CORNER_DEGREES:
            place = _sharpened(points, index, closed)
            if not any(_near(points, other, place) for other in found):
                found.append(place)
    return sorted(found)


def _sharpened(points: np.ndarray, index: int, closed: bool) -> int:
    """The point nearest to where the straight runs on both sides of a corner meet."""
    before = _reach(points, index, -1, closed, 3.0 * _CORNER_REACH)
    after = _reach(points, index, 1, closed, 3.0 * _CORNER_REACH)
    if len(before) < 6 or len(after) < 6:
        return index
    one, two = before[len(before) // 3 :], after[len(after) // 3 :]
    a, b = _direction(one), _direction(two)
    cross = float(a[0] * b[1] - a[1] * b[0])
    if abs(cross) < 0.05:
        return index
    gap = two.mean(axis=0) - one.mean(axis=0)
    meeting = one.mean(axis=0) + a * float(gap[0] * b[1] - gap[1] * b[0]) / cross
    away = np.hypot(*(points - meeting).T)
    nearest = int(np.argmin(away))
    moved = float(np.hypot(*(points[nearest] - points[index])))
    return _parting(points, nearest if moved <= _CORNER_REACH else index, closed)


def _parting(points: np.ndarray, index: int, closed: bool) -> int:
    """Of a corner's neighbours the one from which a parabola each way strays least from the points:
    where a curve runs into a corner, straight fits meet beside it.
    """
    count = len(points)
    places = [(index + step) % count for step in range(-_BESIDE, _BESIDE + 1)]
    if not closed:
        places = [index + step for step in range(-_BESIDE, _BESIDE + 1)]
        places = [place for place in places if 0 < place < count - 1]
    return min(places, key=lambda place: (_strayed(points, place, closed), abs(place - index)))


def _strayed(points: np.ndarray, index: int, closed: bool) -> float:
    """Mean square of the distances, across the run, from a parabola on each side of a point."""
    total, count = 0.0, 0
    for step in (-1, 1):
        side = _reach(points, index, step, closed, 3.0 * _CORNER_REACH)
        along = _direction(side)
        off = side - side[0]
        s, across = off @ along, off[:, 1] * along[0] - off[:, 0] * along[1]
        left = across - np.polyval(np.polyfit(s, across, 2), s) if len(side) > 3 else across * 0.0
        total += float((left**2).sum())
        count += len(side)
    return total / max(count, 1)


def fitted(
    points: np.ndarray,
    accuracy: float = tolerance.FIT_MM,
    start_direction: Vector | None = None,
    end_direction: Vector | None = None,
) -> tuple[Cubic, ...]:
    """Smooth cubics through an open run without corners, within `accuracy` mm of its points.

    `points` has shape (n, 2), n at least 2. Noise is measured from third differences and not
    followed; the ends are kept where there is none, else put where the run leads. A run that is
    straight within the accuracy is one straight stretch. Directions at the ends are free unless
    given. Measured within 0.05 at noise 0.05.
    """
    points = np.asarray(points, dtype=float)
    first, last = Point(*points[0].tolist()), Point(*points[-1].tolist())
    sigma = _noise(points)
    if len(points) == 2 or _is_straight(points, max(accuracy, _WORST_OF_SIGMA * sigma)):
        return (Cubic.straight(first, last),)
    calm = points.copy()
    if sigma > _QUIET_MM:
        calm[0], calm[-1] = _calmed(points), _calmed(points[::-1])
    return tuple(_fit(calm, accuracy, sigma, start_direction, end_direction, 0))


def direction_at(points: np.ndarray, index: int, *, closed: bool) -> Vector:
    """Unit direction of travel of a smooth run at a point, from a parabola through its
    neighbours within 12 mm on each side.
    """
    before = _reach(points, index, -1, closed, _DIRECTION_REACH)[::-1]
    after = _reach(points, index, 1, closed, _DIRECTION_REACH)
    window = np.vstack([before[:-1], after])
    steps = np.hypot(*np.diff(window, axis=0).T)
    s = np.concatenate([[0.0], np.cumsum(steps)]) - steps[: len(before) - 1].sum()
    degree = 2 if len(window) >= 4 else 1
    slope = [np.polyfit(s, window[:, axis], degree)[-2] for axis in (0, 1)]
    return Vector(float(slope[0]), float(slope[1])).unit()


def _calmed(points: np.ndarray) -> np.ndarray:
    """The first point of a noisy run, put on the parabola through its neighbours: the noise of
    one point must not bend the whole curve.
    """
    window = _reach(points, 0, 1, False, _DIRECTION_REACH)
    s = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(window, axis=0).T))])
    degree = 2 if len(window) >= 4 else 1
    return np.array([np.polyfit(s, window[:, axis], degree)[-1] for axis in (0, 1)])


def _calmed_at(points: np.ndarray, index: int) -> np.ndarray:
    """An inner point put on the parabola through its neighbours on both sides."""
    before = _reach(points, index, -1, False, _DIRECTION_REACH)[::-1]
    after = _reach(points, index, 1, False, _DIRECTION_REACH)
    window = np.vstack([before[:-1], after])
    if len(window) < 5:
        kept: np.ndarray = points[index]
        return kept
    s = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(window, axis=0).T))])
    at = s[len(before) - 1]
    return np.array([np.polyval(np.polyfit(s - at, window[:, axis], 2), 0.0) for axis in (0, 1)])


def _fit(
    points: np.ndarray,
    accuracy: float,
    sigma: float,
    start: Vector | None,
    end: Vector | None,
    depth: int,
) -> list[Cubic]:
    cubic, off = _one_cubic(points, start, end)
    rms, worst = float(np.sqrt((off**2).mean())), float(np.abs(off).max())
    good = rms <= max(accuracy / 3.0, _RMS_OF_SIGMA * sigma) and worst <= max(
        accuracy, _WORST_OF_SIGMA * sigma
    )
    if good or depth == _MOST_DEPTH or len(points) < 9:
        return [cubic]
    knot = _worst_place(off)
    through = direction_at(points, knot, closed=False)
    if sigma > _QUIET_MM:
        points = points.copy()
        points[knot] = _calmed_at(points, knot)
    return [
        *_fit(points[: knot + 1], accuracy, sigma, start, through, depth + 1),
        *_fit(points[knot:], accuracy, sigma, through, end, depth + 1),
    ]


def _one_cubic(
    points: np.ndarray, start: Vector | None, end: Vector | None
) -> tuple[Cubic, np.ndarray]:
    """The best cubic of up to 20 rounds and its signed distances from the points."""
    p0, p3 = points[0], points[-1]
    steps = np.hypot(*np.diff(points, axis=0).T)
    length = steps.sum()
    t = np.concatenate([[0.0], np.cumsum(steps)]) / length
    leaving = start or direction_at(points, 0, closed=False)
    arriving = end or direction_at(points, len(points) - 1, closed=False)
    p1 = p0 + np.array([leaving.x, leaving.y]) * length / 3.0
    p2 = p3 - np.array([arriving.x, arriving.y]) * length / 3.0
    moves = _allowed_moves(start, end)
    way, back = np.array([leaving.x, leaving.y]), np.array([-arriving.x, -arriving.y])
    best: tuple[float, np.ndarray, np.ndarray, np.ndarray] | None = None
    for _ in range(_ROUNDS):
        point, first = _evaluate(p0, p1, p2, p3, t)
        speed = np.maximum((first * first).sum(axis=1), 1e-12)
        t = np.clip(t + ((points - point) * first).sum(axis=1) / speed, 0.0, 1.0)
        point, first = _evaluate(p0, p1, p2, p3, t)
        normal = np.column_stack([-first[:, 1], first[:, 0]])
        normal /= np.maximum(np.hypot(normal[:, 0], normal[:, 1]), 1e-12)[:, None]
        off = ((points - point) * normal).sum(axis=1)
        cost = float((off**2).sum())
        if best is None or cost < best[0]:
            best = (cost, p1, p2, off)
        one, two = _improved(p1, p2, p0, p3, t, normal, off, moves)
        before = p1, p2
        p1, p2 = _forward(p0, p1, one, way), _forward(p3, p2, two, back)
        if max(np.abs(p1 - before[0]).max(), np.abs(p2 - before[1]).max()) < _STILL_MM:
            break
    assert best is not None
    _, p1, p2, off = best
    cubic = Cubic(
        Point(*p0.tolist()), Point(*p1.tolist()), Point(*p2.tolist()), Point(*p3.tolist())
    )
    return cubic, off


def _allowed_moves(start: Vector | None, end: Vector | None) -> np.ndarray:
    """Directions in which the two inner control points may move, as rows (dx1, dy1, dx2, dy2)."""
    rows = (
        [(1.0, 0.0, 0.0, 0.0), (0.0, 1.0, 0.0, 0.0)]
        if start is None
        else [(start.x, start.y, 0.0, 0.0)]
    )
    rows += (
        [(0.0, 0.0, 1.0, 0.0), (0.0, 0.0, 0.0, 1.0)]
        if end is None
        else [(0.0, 0.0, -end.x, -end.y)]
    )
    return np.array(rows)


def _improved(
    p1: np.ndarray,
    p2: np.ndarray,
    p0: np.ndarray,
    p3: np.ndarray,
    t: np.ndarray,
    normal: np.ndarray,
    off: np.ndarray,
    moves: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    """Inner control points after a damped Gauss-Newton step; handles never vanish or turn back."""
    one, two = 3.0 * (1 - t) ** 2 * t, 3.0 * (1 - t) * t**2
    matrix = one[:, None] * (normal @ moves[:, :2].T) + two[:, None] * (normal @ moves[:, 2:].T)
    square = matrix.T @ matrix
    square += np.eye(len(moves)) * (1e-6 * np.trace(square) + 1e-12)
    step = np.linalg.solve(square, matrix.T @ off)
    change = step @ moves
    return _held(p0, p1, p1 + change[:2], p3), _held(p3, p2, p2 + change[2:], p0)


def _held(end: np.ndarray, old: np.ndarray, new: np.ndarray, other: np.ndarray) -> np.ndarray:
    """The new control point, its handle at least a tenth of the chord along the old one's way
    and at most one and a half chords long (half an ellipse's), three quarters along the chord: two
    longer ones can make a curve run back on itself between points that it meets.
    """
    chord = float(np.hypot(*(other - end)))
    handle, before = new - end, old - end
    size = float(np.hypot(*handle))
    if size < _LEAST_HANDLE * chord or float(handle @ before) <= 0.0:
        kept: np.ndarray = (
            end + before / max(float(np.hypot(*before)), 1e-12) * _LEAST_HANDLE * chord
        )
    else:
        ahead = max(float(handle @ (other - end)) / chord, 1e-12)
        kept = end + handle * min(1.0, _LONGEST * chord / size, _LONGEST_AHEAD * chord / ahead)
    return kept


def _forward(end: np.ndarray, old: np.ndarray, new: np.ndarray, way: np.ndarray) -> np.ndarray:
    """The new control point unless its handle has turned away from the way the points leave their
    end: round after round it could turn about, and the curve ran past its end and back.
    """
    handle = new - end
    size = float(np.hypot(*handle))
    return new if float(handle @ way) > _LEAST_FORWARD * size else old


def _evaluate(
    p0: np.ndarray, p1: np.ndarray, p2: np.ndarray, p3: np.ndarray, t: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    s = t[:, None]
    u = 1.0 - s
    point = u**3 * p0 + 3.0 * u * u * s * p1 + 3.0 * u * s * s * p2 + s**3 * p3
    first = 3.0 * (u * u * (p1 - p0) + 2.0 * u * s * (p2 - p1) + s * s * (p3 - p2))
    return point, first


def _noise(points: np.ndarray) -> float:
    """Standard deviation of the points across their run, from third differences (variance of a
    third difference of independent noise: 20 times the noise's).
    """
    if len(points) < 12:
        return 0.0
    chords = points[2:] - points[:-2]
    normal = np.column_stack([-chords[:, 1], chords[:, 0]])
    normal /= np.maximum(np.hypot(normal[:, 0], normal[:, 1]), 1e-12)[:, None]
    third = points[3:] - 3.0 * points[2:-1] + 3.0 * points[1:-2] - points[:-3]
    across = (third * normal[: len(third)]).sum(axis=1)
    middle = float(np.median(np.abs(across))) * 1.4826
    return min(middle / math.sqrt(20.0), 0.2)


def _is_straight(points: np.ndarray, slack: float) -> bool:
    chord = points[-1] - points[0]
    size = float(np.hypot(*chord))
    if size < tolerance.NOTHING_MM:
        return False
    off = points - points[0]
    across = np.abs(off[:, 0] * chord[1] - off[:, 1] * chord[0]) / size
    return bool(across.max() <= slack)


def _worst_place(off: np.ndarray) -> int:
    """The middle of the window of the run with the largest misfit, clear of both ends."""
    count = len(off)
    wide = max(3, count // 12)
    power = np.convolve(off**2, np.ones(wide), mode="same")
    margin = max(4, count // 8)
    return (
        margin + int(np.argmax(power[margin : count - margin]))
        if count > 2 * margin
        else (count // 2)
    )


def _reach(
    points: np.ndarray, index: int, way: int, closed: bool, reach: float = _CORNER_REACH
) -> np.ndarray:
    """Points from one on, in one way, as far as `reach` mm and at least two more."""
    found = [points[index]]
    for k, gone in _walk(points, index, way, closed):
        found.append(points[k])
        if gone >= reach and len(found) >= 3:
            break
    return np.array(found)


def _walk(points: np.ndarray, index: int, way: int, closed: bool) -> Iterator[tuple[int, float]]:
    """Each further point in one way, once round at most, with the length gone to it."""
    count = len(points)
    gone, k = 0.0, index
    for _ in range(count - 1):
        following = k + way
        if closed:
            following %= count
        elif not 0 <= following < count:
            return
        gone += float(np.hypot(*(points[following] - points[k])))
        k = following
        yield k, gone


def _direction(run: np.ndarray) -> np.ndarray:
    """Unit direction of the straight line that fits a run best, in its way of travel."""
    centred = run - run.mean(axis=0)
    _, _, axes = np.linalg.svd(centred, full_matrices=False)
    way: np.ndarray = axes[0]
    return way if float(way @ (run[-1] - run[0])) >= 0.0 else -way


def _turn(one: np.ndarray, two: np.ndarray) -> float:
    cross = float(one[0] * two[1] - one[1] * two[0])
    return math.degrees(math.atan2(cross, float(one @ two)))


def _neighbour_turns(
    turns: np.ndarray, points: np.ndarray, index: int, closed: bool
) -> tuple[np.ndarray, np.ndarray]:
    """Turns at the points within reach before and after one, nearest first."""
    sides = []
    for way in (-1, 1):
        found: list[float] = []
        for k, gone in _walk(points, index, way, closed):
            found.append(float(turns[k]))
            if gone >= 1.5 * _CORNER_REACH:
                break
        sides.append(np.array(found))
    return sides[0], sides[1]


def _near(points: np.ndarray, one: int, two: int) -> bool:
    """True when two points lie within a corner's reach of each other."""
    return float(np.hypot(*(points[one] - points[two]))) < _CORNER_REACH
