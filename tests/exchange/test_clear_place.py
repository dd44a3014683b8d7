"""Where words fit on a piece."""

import pytest
from shapely.geometry import LineString, Polygon, box

from studio.curves import Point
from studio.exchange.clear_place import clear_place, is_clear

ROOM = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)]
ACROSS = [(0.0, 30.0), (100.0, 30.0)]


def covered(middle, size):
    return box(
        middle.x - size[0] / 2,
        middle.y - size[1] / 2,
        middle.x + size[0] / 2,
        middle.y + size[1] / 2,
    )


def test_an_empty_room_gives_the_place_wished_for():
    assert clear_place(ROOM, [], (20, 10), Point(50, 30), 1.0) == Point(50, 30)


def test_the_place_keeps_clear_of_lines_and_edge():
    size = (40.0, 12.0)
    middle = clear_place(ROOM, [ACROSS], size, Point(50, 30), 2.0)
    assert covered(middle, size).distance(LineString(ACROSS)) >= 2.0
    assert covered(middle, size).distance(Polygon(ROOM).exterior) >= 2.0


def test_the_inside_of_a_taken_outline_is_not_clear():
    taken = [(10.0, 5.0), (90.0, 5.0), (90.0, 55.0), (10.0, 55.0)]
    assert clear_place(ROOM, [], (30, 10), Point(50, 30), 0.0, [taken]) is None
    small = clear_place(ROOM, [], (4, 4), Point(50, 30), 0.0, [taken])
    assert covered(small, (4, 4)).intersection(Polygon(taken)).area == 0.0


@pytest.mark.parametrize("size", [(120, 10), (20, 70), (60, 31)])
def test_what_does_not_fit_is_told(size):
    assert clear_place(ROOM, [ACROSS], size, Point(50, 30), 0.0) is None


def test_a_box_on_a_line_or_over_the_edge_is_not_clear():
    free = [(10.0, 5.0), (20.0, 5.0), (20.0, 10.0), (10.0, 10.0)]
    over = [(90.0, 5.0), (110.0, 5.0), (110.0, 10.0), (90.0, 10.0)]
    assert is_clear(free, ROOM, [ACROSS])
    assert not is_clear(over, ROOM, [])
    assert not is_clear(free, ROOM, [[(0.0, 7.0), (50.0, 7.0)]])
