"""Parallels."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Cubic, Point, Vector, offset_left
from studio.errors import GeometryRefused
from tests.curves.strategies import CUBICS

CURVE = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))


@given(st.floats(-40.0, 40.0))
def test_there_and_back_leads_home(distance):
    for cubic in offset_left(CURVE, distance).cubics:
        for back in offset_left(cubic, -distance).cubics:
            for k in range(1, 8):
                assert CURVE.nearest(back.at(k / 8))[1] < 0.03


def test_left_is_left():
    level = Cubic.straight(Point(0, 0), Point(100, 0))
    moved = offset_left(level, 12.0).cubics
    assert len(moved) == 1
    assert moved[0] == Cubic.straight(Point(0, 12), Point(100, 12))
    assert moved[0].is_straight


def test_no_distance_is_the_curve_itself():
    assert offset_left(CURVE, 0.0).cubics == (CURVE,)


def test_the_same_distance_gives_the_same_curves_again():
    one = offset_left(CURVE, 12.0)
    assert offset_left(CURVE, 12.0) is one
    assert offset_left(CURVE, 13.0) is not one


@pytest.mark.parametrize(("distance", "folds"), [(30.0, False), (70.0, True), (-70.0, False)])
def test_a_curve_rounder_than_the_distance_folds_on_its_hollow_side(distance, folds):
    # A cubic quarter turn of radius 50, to the left: its hollow side is the left.
    handle = 0.5522847498307936 * 50.0
    bend = Cubic(Point(50, 0), Point(50, handle), Point(handle, 50), Point(0, 50))
    assert offset_left(bend, distance).folds == folds


@given(CUBICS, st.floats(-60.0, 60.0))
def test_a_parallel_folds_where_its_curve_is_rounder_than_the_distance(cubic, distance):
    try:
        folds = offset_left(cubic, distance).folds
    except GeometryRefused:
        return
    coarse, fine = (max(distance * cubic.curvature(k / n) for k in range(n + 1)) for n in (16, 64))
    chord = cubic.p3 - cubic.p0
    turns_back = any(Vector(x, y).dot(chord) <= 0.0 for x, y in cubic.legs)
    # Of a curve that does not turn back, where only fine places show it, between coarse ones that
    # are slight, either may be said.
    if folds:
        assert fine > 1.0 - 1e-9
    elif coarse > 0.5 + 1e-9 or turns_back:
        assert fine < 1.0 + 1e-9


def test_parallels_start_and_end_square_to_the_curve():
    for distance in (-20.0, 8.0, 20.0):
        cubics = offset_left(CURVE, distance).cubics
        for t, place in ((0.0, cubics[0].p0), (1.0, cubics[-1].p3)):
            wanted = CURVE.at(t) + CURVE.tangent(t).left() * distance
            assert place.distance_to(wanted) < 1e-6
            assert isinstance(wanted - place, Vector)


@pytest.mark.parametrize(
    ("distance", "places"),
    [
        (-15.0, ((-1715.8, 1970.9), (-1715.8, 2262.9), (136.5, -1172.4), (2425.2, 1094.9))),
        (6.0, ((78.4, -223.8), (-250.6, 76.1), (-72.6, -230.0), (89.5, 31.9))),
        (100.0, ((2238.9, 2518.6), (2315.9, 2997.3), (1377.0, -2642.2), (-2185.4, 2343.4))),
    ],
)
def test_a_curve_that_turns_back_sharply_between_few_places_is_seen_to_fold(distance, places):
    # Curvature from the control points, as any handbook on differential geometry has it.
    at = [complex(x, y) for x, y in places]
    legs = [3.0 * (q - p) for p, q in itertools.pairwise(at)]
    turns = [2.0 * (q - p) for p, q in itertools.pairwise(legs)]

    def roundness(t):
        first = legs[0] * (1 - t) ** 2 + 2 * legs[1] * t * (1 - t) + legs[2] * t * t
        second = turns[0] * (1 - t) + turns[1] * t
        return distance * (first.conjugate() * second).imag / abs(first) ** 3

    assert max(roundness(k / 64) for k in range(65)) > 1.5
    assert max(roundness(k / 16) for k in range(17)) < 0.5
    assert offset_left(Cubic(*(Point(x, y) for x, y in places)), distance).folds
