"""Meetings lie on both curves, are found from either side, and none is made up."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString

from studio.curves import Chain, Cubic, Point, Vector, level_meetings, meetings
from studio.errors import GeometryRefused
from tests.curves.strategies import COORDINATE, CUBICS, POINTS


@given(CUBICS, CUBICS)
def test_meetings_lie_on_both_and_are_the_same_from_either_side(first, second):
    one, two = Chain((first,)), Chain((second,))
    try:
        there, back = meetings(one, two), meetings(two, one)
    except GeometryRefused:
        return
    for meeting in there:
        assert one.at(meeting.first).distance_to(meeting.point) < 1e-5
        assert two.at(meeting.second).distance_to(meeting.point) < 1e-5
    for meeting in there:
        if _angle(one, two, meeting) > 0.3 and _inner(one, two, meeting):
            assert any(meeting.point.distance_to(other.point) < 1e-4 for other in back)


@given(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(10.0, 170.0))
def test_a_line_laid_across_a_curve_is_met_where_it_was_laid(share, where, angle):
    curve = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))
    place = curve.at(share)
    way = curve.tangent(share).turned(angle) * 4.0
    line = Chain.straight(place + way * -where, place + way * (1.0 - where))
    found = meetings(Chain((curve,)), line)
    assert min(meeting.point.distance_to(place) for meeting in found) < 1e-6


@pytest.mark.parametrize("depth", [0.002, 0.01, 0.1, 1.0, 8.0])
def test_a_shallow_double_crossing_is_found_twice(depth):
    # Closed form: y = x^2 / 400 and the level y = depth meet at x = +- 20 sqrt(depth).
    parabola = Cubic(Point(-60, 9), Point(-20, -3), Point(20, -3), Point(60, 9))
    bent = Cubic(Point(-70, depth), Point(-20, depth), Point(21, depth), Point(70, depth))
    found = meetings(Chain((parabola,)), Chain((bent,)))
    half = 20.0 * math.sqrt(depth)
    assert [round(m.point.x, 5) for m in found] == [round(-half, 5), round(half, 5)]


def roots_of(a, b, c, d):
    """Where a cubic in Bernstein's form is 0, by numpy's companion matrix."""
    power = [d - 3.0 * c + 3.0 * b - a, 3.0 * (a - 2.0 * b + c), 3.0 * (b - a), a]
    found = np.roots(power)
    return sorted(float(t.real) for t in found if abs(t.imag) < 1e-9 and -1e-9 < t.real < 1 + 1e-9)


FALLING = st.lists(st.floats(1.0, 120.0), min_size=3, max_size=3)
"""Steps down from one control point to the next, mm: the curve falls all along."""


@given(FALLING, POINTS, st.lists(COORDINATE, min_size=3, max_size=3), st.floats(-0.2, 1.2))
def test_a_curve_that_falls_meets_a_level_where_numpy_has_its_root(steps, first, across, share):
    heights = [first.y - sum(steps[:k]) for k in range(4)]
    sides = [first.x, *across]
    curve = Cubic(*(Point(x, y) for x, y in zip(sides, heights, strict=True)))
    level = heights[0] + share * (heights[3] - heights[0])
    wanted = roots_of(*(y - level for y in heights))
    found = level_meetings(Chain((curve,)), level)
    if 0.0 <= share <= 1.0:
        assert len(found) == 1
    if abs(level - heights[0]) > 1e-5 and abs(level - heights[3]) > 1e-5:
        assert len(found) == len(wanted)
    for meeting, t in zip(found, wanted, strict=False):
        assert meeting.point.distance_to(curve.at(t)) < 1e-6
        assert abs(meeting.point.y - level) < 1e-9
        assert meeting.second == meeting.point.x


@given(FALLING, st.floats(0.02, 0.98), st.floats(-60.0, 60.0), st.floats(-1.0, 2.0))
def test_a_straight_stretch_across_a_falling_curve_ends_before_it_or_meets_it_once(
    steps, share, turn, reach
):
    heights = [-sum(steps[:k]) for k in range(4)]
    curve = Cubic(*(Point(9.0 * k * (4 - k), y) for k, y in enumerate(heights)))
    place = curve.at(share)
    way = Vector.at_angle(turn if abs(turn) > 1.0 else 1.0) * 12.0
    line = Chain.straight(place + way * -1.0, place + way * reach)
    met = [m for m in meetings(Chain((curve,)), line) if m.point.distance_to(place) < 1e-6]
    assert len(met) == (1 if reach > 1e-6 else 0) or abs(reach) <= 1e-6


def test_parallels_and_curves_apart_do_not_meet():
    curve = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))
    for step in (Vector(0.0, 0.01), Vector(0.0, 500.0)):
        moved = Chain.straight(Point(0, 1) + step, Point(100, 1) + step)
        other = Chain.straight(Point(0, 1), Point(100, 1))
        assert meetings(moved, other) == []
    assert meetings(Chain((curve,)), Chain.straight(Point(0, 200), Point(260, 201))) == []


def test_curves_on_each_other_are_refused():
    curve = Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100))
    with pytest.raises(GeometryRefused, match="lie on each other"):
        meetings(Chain((curve,)), Chain((Cubic(curve.p0, curve.p1, curve.p2, curve.p3),)))


def test_a_meeting_at_a_joint_counts_once():
    bent = Chain.straight(Point(0, 0), Point(50, 50), Point(100, 0))
    assert len(meetings(bent, Chain.straight(Point(50, -10), Point(50, 90)))) == 1


def _angle(one, two, meeting):
    return abs(one.tangent(meeting.first).cross(two.tangent(meeting.second)))


def _inner(one, two, meeting):
    """Clear of both curves' ends, where a meeting may lie just beyond."""
    return all(
        1.0 < along < chain.length - 1.0
        for along, chain in ((meeting.first, one), (meeting.second, two))
    )


@pytest.mark.parametrize("off", [0.0, 1e-13, -1e-13, 4e-7])
def test_a_level_through_the_joint_of_two_cubics_is_met_once(off):
    upper = Cubic(Point(0.0, 300.0), Point(8.0, 250.0), Point(10.0, 150.0), Point(6.0, 100.0))
    lower = Cubic(Point(6.0, 100.0), Point(2.0, 50.0), Point(0.0, 40.0), Point(-3.0, -20.0))
    for chain in (Chain((upper, lower)), Chain((upper, lower)).reversed()):
        found = level_meetings(chain, 100.0 + off)
        assert len(found) == 1
        assert found[0].point.distance_to(Point(6.0, 100.0)) < 1e-6


def test_a_level_through_the_end_of_a_chain_is_met():
    chain = Chain((Cubic(Point(0, 0), Point(1, 10), Point(4, 20), Point(5, 30)),))
    assert [hit.first for hit in level_meetings(chain, 30.0 + 1e-12)] == [
        pytest.approx(chain.length, abs=1e-9)
    ]


def test_a_joint_on_a_long_straight_line_is_found_wherever_it_lies():
    # The joint stands exactly on the line; both curves only touch it with an end.
    joint = Point(120.5, 445.0)
    below = Cubic(
        Point(107.5, 0.0),
        Point(107.5, 148.33333333333334),
        Point(111.96846127908636, 296.66666666666663),
        joint,
    )
    above = Cubic(
        joint,
        Point(122.33339458268182, 476.87625804215367),
        Point(125.2054203159297, 508.7525160843074),
        Point(128.54488956055124, 540.628774126461),
    )
    missed_once = (69.40239565425196, 141.50038266741606)
    for start, end in (missed_once, *((69.4 - 0.37 * k, 141.5 + 0.11 * k) for k in range(200))):
        line = Chain((Cubic.straight(Point(start, 445.0), Point(end, 445.0)),))
        (hit,) = meetings(Chain((below, above)), line)
        assert hit.first == pytest.approx(below.length, abs=1e-6)
        assert hit.second == pytest.approx(joint.x - start, abs=1e-6)


def test_a_crossing_near_a_tight_turn_is_found_where_a_rough_chord_leads_astray():
    # Chords of fine places say where: none of them bows off its curve by more than 1e-4 mm.
    slight = Cubic(
        Point(-264.8539953311111, 110.29125722780701),
        Point(-252.94512975304062, 105.33726491343609),
        Point(-246.89051773863795, 97.88282525287434),
        Point(-241.10985784346886, 96.9049098398509),
    )
    turning = Cubic(
        Point(61.767930634955235, 213.24394863272272),
        Point(-319.0251121981629, -159.49848538958076),
        Point(-270.43126700939047, 281.6285485466818),
        Point(-198.5850491642106, -5.40918676169629),
    )
    wanted = fine_crossings(slight, turning)
    assert len(wanted) == 1
    for one, two in ((slight, turning), (turning, slight)):
        (hit,) = meetings(Chain((one,)), Chain((two,)))
        assert hit.point.distance_to(wanted[0]) < 1e-3


def test_a_small_curve_that_crosses_a_long_one_three_times_is_found_to():
    looped = Cubic(
        Point(0.3608992408951901, -0.5320442552851874),
        Point(0.5762972885849305, 0.9267250157935967),
        Point(0.31985130235510506, -0.519285332826086),
        Point(-0.22302690019994342, -0.28496866390650144),
    )
    long = Cubic(
        Point(-163.83899559953602, -15.288651169612962),
        Point(-95.76597452270445, -9.919911841869663),
        Point(-21.23563173914721, 2.85709101250859),
        Point(77.12312254572316, 1.2633074459816385),
    )
    wanted = fine_crossings(looped, long)
    assert len(wanted) == 3
    for one, two in ((looped, long), (long, looped)):
        found = meetings(Chain((one,)), Chain((two,)))
        assert len(found) == 3
        assert all(min(hit.point.distance_to(at) for hit in found) < 1e-3 for at in wanted)


def fine_crossings(one, two):
    """Where fine chords of two curves cross, by shapely."""
    fine = [[curve.at(k / 3000) for k in range(3001)] for curve in (one, two)]
    first, second = (LineString([(at.x, at.y) for at in places]) for places in fine)
    met = first.intersection(second)
    return [Point(at.x, at.y) for at in getattr(met, "geoms", [met])]
