"""Numbers on a plan: each has a place of its own, read with shapely and out of the file itself."""

from __future__ import annotations

from itertools import combinations

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QRectF
from shapely import LineString, Polygon, affinity, box
from shapely import Point as Spot

from studio.demo_lay import second_lay
from studio.design.cloth import Placement, Roll
from studio.exchange.lay_plan import cloth_plans
from studio.exchange.number_places import LEAST, ToNumber, number_places
from studio.exchange.paint.lay import numbers_on
from studio.exchange.paint.offscreen import ensure_gui
from studio.pattern import evaluate
from studio.sew.cut_line import cut_outline_points
from tests.exchange.lays import laid_design

ROOM = QRectF(10.0, 40.0, 190.0, 135.0)
"""The drawing's room on a page of A4, mm."""


def wide(text: str, size: float, bold: bool) -> float:
    return 0.7 * size * len(text)


def tiny_plans(count: int, a_row: int):
    """Belt loops close together on a roll so long that each is 1.3 by 2.5 mm on the plan."""
    design = laid_design()
    roll = Roll("long roll", "main", 1500.0, 4000.0)
    loops = tuple(
        Placement(
            "belt-loop", k, roll.name, (400.0 + 40.0 * (k % a_row), 100.0 + 76.0 * (k // a_row))
        )
        for k in range(count)
    )
    recipes = tuple(
        replace(one, count=count) if one.name == "belt-loop" else one for one in design.pieces
    )
    lay = replace(design.lay, placements=loops)
    return cloth_plans(evaluate(replace(design, pieces=recipes, stash=(roll,), lay=lay)))


def judge(places, shapes):
    """Every number its own: no two boxes overlap; on its piece, or a leader ends in it."""
    assert [place.text for place in places] == [str(k + 1) for k in range(len(shapes))]
    boxes = [box(*place.box) for place in places]
    for one, two in combinations(boxes, 2):
        assert one.intersection(two).area == 0.0
    for k, (place, shape) in enumerate(zip(places, shapes, strict=True)):
        assert place.size >= LEAST
        if place.leader is None:
            assert shape.buffer(1e-6).contains(boxes[k])
            continue
        start, end = (Spot(at.x, at.y) for at in place.leader)
        assert shape.contains(end)
        assert boxes[k].distance(start) < 1e-9
        leader = LineString([start, end])
        for other, theirs in enumerate(boxes):
            assert other == k or not leader.intersects(theirs)
        assert not any(boxes[k].intersects(other) for other in shapes)


def shapes_on(plan):
    scale = min(ROOM.width() / plan.width, ROOM.height() / plan.height)
    return [
        affinity.scale(
            Polygon(cut_outline_points(one.sewn.cut_line, 0.05)), scale, scale, origin=(0.0, 0.0)
        )
        for one in plan.laid
    ]


@pytest.mark.parametrize(("count", "a_row"), [(5, 5), (12, 6), (40, 20)])
def test_tiny_neighbours_have_their_numbers_beside_them(count, a_row):
    ensure_gui()
    (plan,) = tiny_plans(count, a_row)
    places = numbers_on(plan, ROOM)
    judge(places, shapes_on(plan))
    assert all(place.leader is not None for place in places)
    assert all(place.size == LEAST for place in places)


def test_a_few_tiny_pieces_have_short_leaders_that_do_not_cross():
    ensure_gui()
    (plan,) = tiny_plans(12, 6)
    leaders = [
        LineString([(at.x, at.y) for at in place.leader]) for place in numbers_on(plan, ROOM)
    ]
    assert max(line.length for line in leaders) < 12.0
    assert not any(one.crosses(two) for one, two in combinations(leaders, 2))


def test_numbers_of_the_demonstration_stand_on_their_pieces_or_beside_them():
    ensure_gui()
    plans = [plan for plan in cloth_plans(evaluate(second_lay())) if plan.laid]
    plans += cloth_plans(evaluate(laid_design()))
    for plan in plans:
        judge(numbers_on(plan, ROOM), shapes_on(plan))


def test_a_number_stands_beside_the_lines_of_its_piece_where_it_can():
    line = [(20.0, 0.0), (20.0, 30.0)]
    piece = ToNumber(box(0.0, 0.0, 40.0, 30.0), "panel", (line,))
    (place,) = number_places([piece], (-10.0, -10.0, 50.0, 40.0), wide)
    assert place.leader is None
    assert place.name_at is not None
    assert not box(*place.box).intersects(LineString(line))
    # Where the line leaves it no room it stands over it, still on its piece.
    narrow = ToNumber(box(0.0, 0.0, 4.0, 30.0), "panel", ([(2.0, 0.0), (2.0, 30.0)],))
    (place,) = number_places([narrow], (-10.0, -10.0, 50.0, 40.0), wide)
    assert place.leader is None
    assert place.name_at is None


def test_a_name_stands_over_the_grainline_where_it_must_and_over_no_other_line():
    upright = [(20.0, 0.0), (20.0, 30.0)]
    wide_name = "a-panel-of-some-name"
    room = (-10.0, -10.0, 50.0, 40.0)
    (over,) = number_places([ToNumber(box(0, 0, 41, 30), wide_name, (), upright)], room, wide)
    assert over.name_at is not None
    (off,) = number_places([ToNumber(box(0, 0, 41, 30), wide_name, (upright,))], room, wide)
    assert off.name_at is None
    assert off.leader is None


def test_a_number_beside_its_piece_keeps_off_what_is_avoided_and_other_pieces():
    tiny = ToNumber(box(10.0, 10.0, 10.8, 10.8), "loop")
    large = ToNumber(box(11.0, 5.0, 30.0, 20.0), "panel")
    avoided = box(0.0, 0.0, 9.5, 30.0)
    places = number_places([tiny, large], (0.0, 0.0, 30.0, 30.0), wide, [avoided])
    judge(places, [tiny.shape, large.shape])
    assert not box(*places[0].box).intersects(avoided)


def test_a_number_is_left_out_only_where_there_is_no_room_at_all():
    tiny = ToNumber(box(0.0, 0.0, 0.8, 0.8), "loop")
    assert number_places([tiny], (0.0, 0.0, 0.9, 0.9), wide) == ()
