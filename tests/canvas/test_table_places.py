"""Cloths lie upright beside one another without touching; what waits lies in the tray."""

from itertools import combinations

import pytest
from shapely import Polygon, box

from studio.canvas.table_places import BETWEEN, TRAY_MARGIN, place_cloths, place_waiting
from studio.cloth.bed import bed_of
from studio.curves import Point, Vector
from studio.design.cloth import Roll, SalvagedPanel

LEG = ((0.0, 0.0), (400.0, 60.0), (330.0, 1000.0), (40.0, 960.0))


def beds(count):
    found = [
        bed_of(SalvagedPanel(f"leg {at}", "main", LEG, ((0.0, 0.0), (300.0 * at, 500.0))))
        for at in range(count)
    ]
    return [*found, bed_of(Roll("canvas", "main", 1500.0, 900.0))]


def on_table(bed, move):
    return Polygon(
        [(p.x, p.y) for p in (move(Point(x, y)) for x, y in bed.outline.exterior.coords)]
    )


@pytest.mark.parametrize("count", [0, 1, 3, 6])
def test_cloths_lie_apart_within_the_room_told(count):
    laid = beds(count)
    places = place_cloths(laid, 1e6)
    shapes = [on_table(bed, places.moves[bed.name]) for bed in laid]
    for one, other in combinations(shapes, 2):
        assert box(*one.bounds).distance(box(*other.bounds)) >= BETWEEN - 1e-6
    room = box(0.0, -places.height, places.width, 0.0).buffer(1e-6)
    assert all(room.covers(shape) for shape in shapes)


def test_every_warp_points_up():
    for bed in beds(3):
        move = place_cloths([bed], 0.0).moves[bed.name]
        along = move.vector(Vector(1.0, 0.0).turned(bed.warp))
        assert (along.x, along.y) == pytest.approx((0.0, 1.0), abs=1e-9)


def test_no_cloth_takes_no_room():
    assert place_cloths([], 5.0).width == 0.0


def test_what_waits_lies_in_the_tray_without_touching():
    sizes = {("leg", 0): (350.0, 1090.0), ("leg", 1): (350.0, 1090.0)}
    sizes |= {("loop", copy): (36.0, 74.0) for copy in range(9)}
    tray = place_waiting(sizes, 2000.0, 1200.0)
    boxes = [
        box(at.x - wide / 2.0, at.y - high / 2.0, at.x + wide / 2.0, at.y + high / 2.0)
        for (wide, high), at in ((sizes[key], tray.middles[key]) for key in sizes)
    ]
    room = box(2000.0, -tray.height, 2000.0 + tray.width, 0.0).buffer(1e-6 - TRAY_MARGIN)
    assert all(room.covers(one) for one in boxes)
    assert all(one.distance(other) > 0.0 for one, other in combinations(boxes, 2))
    assert tray.height == pytest.approx(1200.0)


def test_a_piece_higher_than_all_cloth_still_has_room():
    tray = place_waiting({("leg", 0): (350.0, 1090.0)}, 0.0, 300.0)
    assert tray.height >= 1090.0
