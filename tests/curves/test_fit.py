"""Fitted curves keep near their points, follow no noise, and are few."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Cubic, Point, turn_between
from studio.curves.fit import corners, direction_at, fitted

CURVE = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))


def sampled(curve, step=0.5, noise=0.0, seed=1):
    count = int(curve.length / step)
    places = [curve.at(curve.parameter_at(curve.length * k / count)) for k in range(count + 1)]
    points = np.array([(place.x, place.y) for place in places])
    return points + np.random.default_rng(seed).normal(0.0, noise, points.shape)


def farthest(cubics, curve):
    return max(curve.nearest(cubic.at(k / 24))[1] for cubic in cubics for k in range(25))


def test_points_of_one_cubic_give_that_one_cubic():
    found = fitted(sampled(CURVE))
    assert len(found) == 1
    assert farthest(found, CURVE) < 1e-6


@pytest.mark.parametrize("seed", range(5))
def test_noisy_points_are_fitted_within_the_width_of_a_line(seed):
    found = fitted(sampled(CURVE, noise=0.05, seed=seed))
    assert len(found) <= 2
    # The ends may overshoot along the run by the noise of one point; across it they are near.
    places = [cubic.at(k / 24) for cubic in found for k in range(25)][1:-1]
    assert max(CURVE.nearest(place)[1] for place in places) < 0.05
    assert sum(cubic.length for cubic in found) == pytest.approx(CURVE.length, abs=0.3)


def test_a_parabola_is_one_cubic_exactly():
    # Closed form: y = x^2 / 200 for x from 0 to 100 is a quadratic, hence a cubic.
    x = np.linspace(0.0, 100.0, 160)
    found = fitted(np.column_stack([x, x * x / 200.0]))
    assert len(found) == 1
    for k in range(21):
        place = found[0].at(k / 20)
        assert place.y == pytest.approx(place.x**2 / 200.0, abs=1e-3)


@pytest.mark.parametrize(("a", "b"), [(100.0, 100.0), (200.0, 80.0), (40.0, 90.0)])
def test_half_an_ellipse_keeps_its_tolerance_with_few_cubics(a, b):
    # Closed form: (x/a)^2 + (y/b)^2 = 1.
    angle = np.linspace(0.0, math.pi, 600)
    found = fitted(np.column_stack([a * np.cos(angle), b * np.sin(angle)]))
    assert len(found) <= 5
    for cubic in found:
        for k in range(21):
            place = cubic.at(k / 20)
            off = math.hypot(place.x / a, place.y / b) - 1.0
            assert abs(off) * max(a, b) < 0.1
    for one, two in itertools.pairwise(found):
        assert abs(turn_between(one.tangent(1.0), two.tangent(0.0))) < 0.5


def test_a_curve_never_runs_back_between_few_uneven_points():
    # A cut line over the mouths of two darts, flattened: steps of 20, 0.6, 7.7 and 9 mm.
    points = np.array(
        [
            (117.822, 234.611), (118.47, 255.348), (119.182, 276.086), (119.959, 296.825),
            (120.785, 317.16), (121.662, 337.18), (122.604, 357.202), (123.611, 377.224),
            (123.627, 377.847), (123.627, 385.536), (124.518, 402.21), (125.456, 418.885),
            (126.442, 435.562), (127.476, 452.24), (128.113, 461.706), (128.816, 471.175),
            (129.586, 480.646), (129.629, 481.658), (129.627, 489.15), (130.556, 499.667),
            (131.551, 510.187), (132.661, 521.18), (133.927, 533.039), (135.261, 544.912),
            (136.893, 558.796), (138.593, 572.683),
        ]
    )  # fmt: skip
    found = fitted(points)
    for cubic in found:
        chord = cubic.p3 - cubic.p0
        assert all(cubic.tangent(k / 24).dot(chord) > 0.0 for k in range(25))
    steps = np.hypot(*np.diff(points, axis=0).T).sum()
    assert sum(cubic.length for cubic in found) == pytest.approx(steps, abs=0.3)


def test_points_in_line_are_one_straight_stretch():
    x = np.linspace(0.0, 300.0, 200)
    noise = np.random.default_rng(3).normal(0.0, 0.01, 200)
    found = fitted(np.column_stack([x, 0.25 * x + noise]))
    assert len(found) == 1
    assert found[0].is_straight


def polygon(*corners_, step=0.5, noise=0.0):
    points = []
    for one, two in zip(corners_, (*corners_[1:], corners_[0]), strict=True):
        count = int(math.dist(one, two) / step)
        points += [
            (one[0] + (two[0] - one[0]) * k / count, one[1] + (two[1] - one[1]) * k / count)
            for k in range(count)
        ]
    ring = np.array(points)
    return ring + np.random.default_rng(5).normal(0.0, noise, ring.shape)


@pytest.mark.parametrize("noise", [0.0, 0.05])
def test_every_corner_is_found_where_it_is(noise):
    wanted = ((0.0, 0.0), (200.0, 0.0), (230.0, 300.0), (120.0, 200.0), (0.0, 280.0))
    ring = polygon(*wanted, noise=noise)
    found = [ring[index] for index in corners(ring, closed=True)]
    assert len(found) == 5
    for corner in wanted:
        assert min(math.dist(corner, place) for place in found) < 0.6


def test_a_circle_has_no_corner():
    angle = np.linspace(0.0, 2.0 * math.pi, 900, endpoint=False)
    ring = np.column_stack([60.0 * np.cos(angle), 60.0 * np.sin(angle)])
    assert corners(ring, closed=True) == []


@given(st.floats(0.0, 360.0), st.floats(30.0, 300.0))
def test_directions_on_a_circle_are_square_to_its_radius(start, radius):
    angle = np.radians(start) + np.linspace(0.0, 1.2, 400)
    run = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    way = direction_at(run, 200, closed=False)
    radial = run[200] / radius
    assert way.x * radial[0] + way.y * radial[1] == pytest.approx(0.0, abs=1e-3)


def rise(step, noise, seed):
    """A straight stretch that bends into a fork, as a hand traces it, and its true length."""
    down = np.column_stack([np.zeros(400), np.linspace(180.0, 0.0, 400)])
    bend = Cubic(Point(0, 0), Point(-3, -60), Point(-30, -95), Point(-75, -93))
    whole = np.vstack([down, [(bend.at(k / 2000).x, bend.at(k / 2000).y) for k in range(1, 2001)]])
    s = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(whole, axis=0).T))])
    at = np.linspace(0.0, s[-1], int(s[-1] / step) + 1)
    points = np.column_stack([np.interp(at, s, whole[:, axis]) for axis in (0, 1)])
    return points + np.random.default_rng(seed).normal(
        0.0, noise, points.shape
    ), 180.0 + bend.length


@pytest.mark.parametrize("step", [0.5, 1.0])
def test_a_traced_rise_is_few_curves_none_of_which_runs_back(step):
    counts = []
    for seed in range(12):
        points, length = rise(step, 0.05, seed)
        found = fitted(points)
        counts.append(len(found))
        for cubic in found:
            chord = cubic.p3 - cubic.p0
            assert (cubic.p1 - cubic.p0).dot(chord) > 0.0
            assert (cubic.p3 - cubic.p2).dot(chord) > 0.0
        assert sum(cubic.length for cubic in found) == pytest.approx(length, abs=0.3)
    assert max(counts) <= 20


def test_the_corner_of_a_fork_is_found_where_curves_run_into_it():
    bend = Cubic(Point(0, 0), Point(0, -60), Point(-50, -93), Point(-75, -93))
    tight = [bend.at(bend.parameter_at(float(s))) for s in range(1, int(bend.length))]
    run = np.array([(place.x, place.y) for place in tight])
    down = np.arange(1, 120)
    leg = run[-1] + np.column_stack([0.35 * down - 0.0009 * down * down, -0.95 * down])
    for seed in range(6):
        noise = np.random.default_rng(seed).normal(0.0, 0.02, (len(run) + len(leg), 2))
        assert corners(np.vstack([run, leg]) + noise, closed=False) == [len(run) - 1]


def test_a_traced_edge_ends_in_the_direction_in_which_it_was_drawn():
    # Straight at both ends by its formula: the angles at the corners of a panel are read off these.
    y = np.linspace(0.0, 780.0, 3000)
    x = 24.0 * np.exp(-(((y - 520.0) / 110.0) ** 2))
    s = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    for step, noise in ((1.0, 0.05), (5.0, 0.1), (8.0, 0.03)):
        at = np.linspace(0.0, s[-1], int(s[-1] / step) + 1)
        clean = np.column_stack([np.interp(at, s, x), np.interp(at, s, y)])
        for seed in range(12):
            points = clean + np.random.default_rng(seed).normal(0.0, noise, clean.shape)
            found = fitted(points)
            for along in (found[0].tangent(0.0), found[-1].tangent(1.0)):
                assert abs(math.degrees(math.atan2(along.x, along.y))) < 5.0
