"""Places and directions."""

import math

import pytest
from hypothesis import given

from studio.curves import Vector, turn_between
from tests.curves.strategies import POINTS


@given(POINTS, POINTS)
def test_a_step_from_one_point_to_another_leads_there(one, two):
    assert (one + (two - one)).distance_to(two) < 1e-9
    assert one.toward(two, 1.0).distance_to(two) < 1e-9
    assert one.toward(two, 0.5).distance_to(one) == pytest.approx(one.distance_to(two) / 2.0)


def test_left_is_a_quarter_counter_clockwise_and_right_the_other_way():
    up = Vector(0.0, 1.0)
    assert up.left() == Vector(-1.0, 0.0)
    assert up.right() == Vector(1.0, 0.0)
    assert Vector(1.0, 0.0).turned(90.0).y == pytest.approx(1.0)


@pytest.mark.parametrize("degrees", [-170.0, -90.0, -1e-3, 0.0, 30.0, 90.0, 179.0])
def test_turns_are_signed_left_positive(degrees):
    start = Vector.at_angle(25.0)
    assert turn_between(start, start.turned(degrees)) == pytest.approx(degrees, abs=1e-9)


def test_three_four_five():
    # Closed form: Pythagoras.
    assert Vector(3.0, 4.0).length == 5.0
    assert Vector(3.0, 4.0).angle == pytest.approx(math.degrees(math.atan2(4.0, 3.0)))


def test_no_direction_has_no_unit():
    with pytest.raises(ZeroDivisionError):
        Vector(0.0, 0.0).unit()
