"""Smooth curves through points."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Point, Vector, through, turn_between


@given(
    st.lists(st.floats(-60.0, 60.0), min_size=3, max_size=7),
)
def test_the_curve_passes_every_point_and_is_smooth(heights):
    points = [Point(40.0 * k, height) for k, height in enumerate(heights)]
    cubics = through(points)
    assert [cubic.p0 for cubic in cubics] == points[:-1]
    assert cubics[-1].p3 == points[-1]
    for one, two in itertools.pairwise(cubics):
        assert abs(turn_between(one.tangent(1.0), two.tangent(0.0))) < 1e-6


def test_two_points_give_a_straight_stretch():
    assert through([Point(0, 0), Point(30, 40)])[0].is_straight


@pytest.mark.parametrize("radius", [20.0, 100.0, 900.0])
def test_points_on_a_circle_give_that_circle(radius):
    # Closed form: a cubic arc of up to a quarter strays by at most 2.7e-4 of the radius.
    points = [
        Point(radius * math.cos(angle), radius * math.sin(angle))
        for angle in (0.0, 0.5, 1.2, 1.9, 2.4)
    ]
    for cubic in through(points):
        for k in range(11):
            place = cubic.at(k / 10)
            assert abs(math.hypot(place.x, place.y) - radius) < 3e-4 * radius


def test_given_directions_are_kept():
    leaving, arriving = Vector(0.0, 1.0), Vector(1.0, 0.0)
    cubics = through([Point(0, 0), Point(50, 60), Point(120, 80)], leaving, arriving)
    assert turn_between(cubics[0].tangent(0.0), leaving) == pytest.approx(0.0, abs=1e-9)
    assert turn_between(cubics[-1].tangent(1.0), arriving) == pytest.approx(0.0, abs=1e-9)
