"""Dragging under constraints: nothing explodes, limits hold, home is found again."""

import pytest

from studio.constrain import Drag, PointRef, solved
from studio.curves import Point
from tests.constrain.sketches import ladder, yoke
from tests.constrain.wild_drags import ends_well


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_wild_drags_end_well(first):
    start = solved(yoke()).sketch
    for seed in range(first, first + 50):
        ends_well(start, seed)


def test_a_drag_follows_the_mouse_where_it_may():
    drag = Drag(solved(ladder(3)).sketch, PointRef(6))
    start = drag.to(Point(2.0, 120.0)).nodes[6].at
    for k in range(1, 30):
        mouse = Point(start.x - k, start.y)
        drag.to(mouse)
    placed = drag.release().nodes[6].at
    assert placed.x < start.x - 15.0


def test_a_drag_held_against_a_limit_says_so_and_stays():
    drag = Drag(solved(yoke()).sketch, PointRef(6))
    for k in range(60):
        drag.to(Point(-30.0, 150.0 + 20.0 * k))
    assert drag.held_back
    rise_top = 230.0
    assert drag.release().nodes[6].at.y <= rise_top + 1e-6


def test_a_point_slides_across_a_joint_of_the_edge_and_back():
    start = solved(yoke()).sketch
    drag = Drag(start, PointRef(6))
    for k in range(120):
        drag.to(Point(-20.0, 150.0 - k))
    crossed = drag.to(Point(-10.0, 40.0))
    assert crossed.slides[0] < 1.0 < start.slides[0]
    for k in range(120):
        drag.to(Point(-20.0, 40.0 + k))
    back = drag.to(start.nodes[6].at)
    for _ in range(30):
        drag.to(Point(start.nodes[6].at.x, start.nodes[6].at.y + 1e-6 * _))
    back = drag.release()
    for one, two in zip(back.nodes, start.nodes, strict=True):
        assert one.at.distance_to(two.at) < 1.0


def test_the_press_state_is_untouched_by_a_drag():
    start = solved(yoke()).sketch
    nodes = start.nodes
    drag = Drag(start, PointRef(7))
    drag.to(Point(70.0, 190.0))
    assert start.nodes is nodes
    assert Drag(start, PointRef(7)).release().nodes[7].at.distance_to(start.nodes[7].at) < 1e-6


def test_a_held_point_refuses_the_drag():
    drag = Drag(yoke(), PointRef(1))
    assert drag.to(Point(500.0, 500.0)).nodes[1] == yoke().nodes[1]
    assert drag.held_back


@pytest.mark.parametrize("mouse", [Point(float("nan"), 0.0), Point(float("inf"), 1.0)])
def test_a_mouse_that_is_nowhere_moves_nothing(mouse):
    start = solved(yoke()).sketch
    assert Drag(start, PointRef(7)).to(mouse).nodes == start.nodes
