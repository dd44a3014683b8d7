"""A fair curve lies close to what it replaces and keeps ends and end directions."""

import pytest
from shapely import LineString
from shapely import Point as ShapelyPoint

from studio.curves import Affine, Chain, Cubic, Point, Vector, turn_between
from studio.curves.fair import faired

CURVE = Cubic(Point(0, 0), Point(70, 30), Point(150, 30), Point(240, -10))


def furthest(run, found):
    """How far the run strays from a curve, mm, by shapely on chords 1e-4 mm from it."""
    line = LineString([(p.x, p.y) for p in (found.at(k / 4000) for k in range(4001))])
    places = [chain.at(chain.length * k / 200) for chain in run for k in range(201)]
    return max(line.distance(ShapelyPoint(place.x, place.y)) for place in places)


def test_a_curve_that_is_fair_already_stays_where_it_is():
    found = faired([Chain((CURVE,))])
    for k in range(11):
        assert CURVE.nearest(found.at(k / 10))[1] < 0.02


def test_a_curve_in_pieces_is_put_together_again():
    parts = [Chain((CURVE.part(a, b),)) for a, b in ((0.0, 0.3), (0.3, 0.65), (0.65, 1.0))]
    found = faired(parts)
    assert furthest(parts, found) < 0.05
    assert found.length == pytest.approx(CURVE.length, abs=0.02)


def test_ends_and_end_directions_are_kept_over_a_kink():
    bent = CURVE.part(0.5, 1.0).transformed(Affine.turn(-4.0, CURVE.at(0.5)))
    run = [Chain((CURVE.part(0.0, 0.5),)), Chain((bent,))]
    found = faired(run)
    assert found.p0 == run[0].start
    assert found.p3 == run[1].end
    assert turn_between(found.tangent(0.0), run[0].start_tangent) == pytest.approx(0.0, abs=1e-9)
    assert turn_between(found.tangent(1.0), run[1].end_tangent) == pytest.approx(0.0, abs=1e-9)
    assert 0.1 < furthest(run, found) < 3.0


def test_a_step_between_two_stretches_is_shared_out():
    shifted = CURVE.part(0.5, 1.0).transformed(Affine.shift(Vector(0.0, 2.0)))
    run = [Chain((CURVE.part(0.0, 0.5),)), Chain((shifted,))]
    assert furthest(run, faired(run)) < 2.0


def test_a_straight_run_gives_a_straight_curve():
    run = [Chain.straight(Point(0, 0), Point(60, 0)), Chain.straight(Point(60, 0), Point(200, 0))]
    found = faired(run)
    assert furthest(run, found) < 1e-9
    assert found.length == pytest.approx(200.0, abs=1e-9)
