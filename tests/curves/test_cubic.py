"""Laws of one cubic."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Affine, Cubic, Point, Vector
from tests.curves.strategies import CUBICS, POINTS, RIGID

SHARE = st.floats(0.01, 0.99)
STRAIGHT = Cubic.straight(Point(0.0, 0.0), Point(30.0, 40.0))


@given(CUBICS, SHARE)
def test_parts_meet_and_their_lengths_add_up(cubic, t):
    before, after = cubic.part(0.0, t), cubic.part(t, 1.0)
    assert before.p3.distance_to(after.p0) < 1e-9
    assert before.length + after.length == pytest.approx(cubic.length, abs=1e-6)
    assert before.p0 is cubic.p0
    assert after.p3 is cubic.p3


@given(CUBICS, SHARE)
def test_the_parameter_at_a_distance_is_at_that_distance(cubic, share):
    t = cubic.parameter_at(cubic.length * share)
    assert cubic.length_to(t) == pytest.approx(cubic.length * share, abs=1e-6)


@given(CUBICS)
def test_reversed_it_is_as_long_and_runs_from_end_to_start(cubic):
    back = cubic.reversed()
    fresh = Cubic(back.p0, back.p1, back.p2, back.p3)
    assert fresh.length == pytest.approx(cubic.length, abs=1e-7)
    assert fresh.swept_area() == pytest.approx(-cubic.swept_area(), abs=1e-6)
    assert back.reversed() == cubic


@given(CUBICS, RIGID)
def test_rigid_moves_keep_length(cubic, move):
    assert cubic.transformed(move).length == pytest.approx(cubic.length, abs=1e-6)


@given(CUBICS, SHARE)
def test_a_point_on_the_curve_is_its_own_nearest(cubic, t):
    place = cubic.at(t)
    found, gap = cubic.nearest(place)
    assert gap < 1e-6
    assert cubic.at(found).distance_to(place) < 1e-6


@given(CUBICS, POINTS)
def test_no_sampled_point_is_nearer_than_the_nearest(cubic, point):
    _, gap = cubic.nearest(point)
    assert gap <= min(cubic.at(k / 200).distance_to(point) for k in range(201)) + 1e-6


@given(CUBICS)
def test_the_box_holds_the_curve_and_touches_it(cubic):
    places = [cubic.at(k / 400) for k in range(401)]
    box = cubic.box
    for low, values, high in (
        (box.left, [p.x for p in places], box.right),
        (box.bottom, [p.y for p in places], box.top),
    ):
        assert low - 1e-9 <= min(values)
        assert max(values) <= high + 1e-9
        assert min(values) - low < 0.05
        assert high - max(values) < 0.05


@given(CUBICS)
def test_the_curve_bows_off_its_stations_by_no_more_than_the_sagitta(cubic):
    chords = list(zip(cubic.stations, cubic.stations[1:], strict=False))
    for k, (one, two) in enumerate(chords):
        chord = two - one
        if chord.length < 1e-6:
            continue
        for j in range(1, 8):
            place = cubic.at((k + j / 8) / len(chords))
            along = min(1.0, max(0.0, (place - one).dot(chord) / chord.dot(chord)))
            assert place.distance_to(one + chord * along) <= cubic.sagitta + 1e-6


def test_a_straight_stretch_knows_that_it_is_straight():
    assert STRAIGHT.is_straight
    assert STRAIGHT.length == 50.0
    assert STRAIGHT.curvature(0.3) == pytest.approx(0.0, abs=1e-12)
    assert STRAIGHT.part(0.2, 0.9).is_straight
    uneven = Cubic(Point(0, 0), Point(1, 0), Point(2, 0), Point(30, 0))
    assert not uneven.is_straight
    assert uneven.length == pytest.approx(30.0, abs=1e-9)


@pytest.mark.parametrize("scale", [1e-3, 1e-1, 1.0, 1e3, 1e5])
def test_lengths_scale(scale):
    cubic = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))
    scaled = cubic.transformed(Affine.scale(scale))
    assert scaled.length == pytest.approx(cubic.length * scale, rel=1e-7)


def test_far_from_the_origin_lengths_stay():
    cubic = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))
    far = cubic.transformed(Affine.shift(Vector(1e5, -1e5)))
    assert far.length == pytest.approx(cubic.length, abs=1e-6)


@pytest.mark.parametrize(
    "cubic",
    [
        Cubic(Point(0, 0), Point(0, 0), Point(50, 50), Point(100, 0)),
        Cubic(Point(0, 0), Point(50, 50), Point(100, 0), Point(100, 0)),
        Cubic(Point(0, 0), Point(0, 0), Point(100, 0), Point(100, 0)),
    ],
    ids=["no handle out", "no handle in", "no handles"],
)
def test_directions_are_found_where_a_handle_is_missing(cubic):
    for t in (0.0, 1.0):
        assert cubic.tangent(t).length == pytest.approx(1.0)
    ahead = (cubic.at(1e-4) - cubic.p0).unit()
    assert cubic.tangent(0.0).dot(ahead) == pytest.approx(1.0, abs=1e-4)


def test_curvature_of_a_circle_is_one_over_its_radius():
    # Closed form; a cubic arc of 30 degrees strays by 4e-8 of the radius.
    handle = 4.0 / 3.0 * math.tan(math.radians(30.0) / 4.0) * 80.0
    c, s = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
    arc = Cubic(
        Point(80.0, 0.0),
        Point(80.0, handle),
        Point(80.0 * c + handle * s, 80.0 * s - handle * c),
        Point(80.0 * c, 80.0 * s),
    )
    for k in range(11):
        assert arc.curvature(k / 10) == pytest.approx(1.0 / 80.0, rel=2e-3)


@given(CUBICS, POINTS, POINTS)
def test_with_other_ends_handles_go_along(cubic, start, end):
    moved = cubic.with_ends(start, end)
    assert (moved.p0, moved.p3) == (start, end)
    assert ((moved.p1 - start) - (cubic.p1 - cubic.p0)).length < 1e-9


BOWS = st.one_of(st.just(0.0), st.floats(-12.0, 0.0).map(lambda power: 10.0**power))
"""How far handles lie off the thirds of a chord, mm: from rounding to slightly."""


@given(st.floats(5.0, 900.0), BOWS, POINTS, RIGID)
def test_nearest_to_a_curve_that_is_all_but_straight_is_where_fine_places_show_it(
    length, bow, point, move
):
    thirds = Point(length / 3.0, bow), Point(2.0 * length / 3.0, 0.4 * bow)
    curve = Cubic(Point(0.0, 0.0), *thirds, Point(length, 0.0)).transformed(move)
    least = min(curve.at(k / 4000).distance_to(point) for k in range(4001))
    for t, gap in (curve.near(point), curve.nearest(point)):
        # Fine places stand an eighth of a millimetre to either side of the nearest at most.
        assert least - (0.113**2 / (2.0 * max(least, 0.06))) - 2e-3 <= gap <= least + 1e-3
        assert curve.at(t).distance_to(point) <= least + 1e-3


def test_a_place_in_the_midst_of_a_slanting_straight_is_not_measured_from_its_ends():
    # By plane geometry: a step to the left of a straight is so far off it.
    for angle in range(0, 360, 7):
        way = Vector.at_angle(float(angle) + 0.3)
        start = Point(261.7, 580.9)
        line = Cubic.straight(start, start + way * 337.0)
        for along in (20.0, 168.5, 300.0):
            place = line.at(along / 337.0) + way.left() * 0.25
            t, gap = line.near(place)
            assert gap == pytest.approx(0.25, abs=1e-9)
            assert t == pytest.approx(along / 337.0, abs=1e-9)
