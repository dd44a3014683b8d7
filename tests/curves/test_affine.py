"""Moves of the plane."""

import pytest
from hypothesis import given

from studio.curves import Affine, Point, Vector
from tests.curves.strategies import POINTS, RIGID


@given(RIGID, POINTS, POINTS)
def test_rigid_moves_keep_distances(move, one, two):
    assert move(one).distance_to(move(two)) == pytest.approx(one.distance_to(two), abs=1e-9)


@given(RIGID, POINTS)
def test_a_move_and_its_inverse_lead_back(move, point):
    assert move.inverse()(move(point)).distance_to(point) < 1e-9


@given(RIGID, RIGID, POINTS)
def test_moves_follow_each_other(first, second, point):
    assert first.then(second)(point).distance_to(second(first(point))) < 1e-8


@given(POINTS, POINTS, POINTS)
def test_mirroring_twice_leads_back_and_keeps_the_mirror(start, end, point):
    if start.distance_to(end) < 1.0:
        return
    mirror = Affine.mirror(start, end)
    assert mirror.flips
    assert mirror(mirror(point)).distance_to(point) < 1e-6
    assert mirror(start).distance_to(start) < 1e-9
    middle = point.toward(mirror(point), 0.5)
    assert abs((end - start).unit().cross(middle - start)) < 1e-6


def test_a_turn_leaves_its_centre_and_turns_left():
    turn = Affine.turn(90.0, Point(10.0, 10.0))
    assert turn(Point(10.0, 10.0)).distance_to(Point(10.0, 10.0)) < 1e-12
    assert turn(Point(20.0, 10.0)).distance_to(Point(10.0, 20.0)) < 1e-12
    assert not turn.flips


def test_a_frame_takes_one_along_its_axis_and_one_to_its_left():
    frame = Affine.frame(Point(5.0, 5.0), Vector(0.0, 10.0))
    assert frame(Point(1.0, 0.0)) == Point(5.0, 15.0)
    assert frame(Point(0.0, 1.0)) == Point(-5.0, 5.0)


def test_a_flattened_plane_cannot_be_undone():
    with pytest.raises(ZeroDivisionError):
        Affine.scale(1.0, 0.0).inverse()
