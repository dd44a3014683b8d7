"""Pockets put to use: hands, depths, boxes; against closed forms and shapely."""

import math

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from studio.check import in_unit
from studio.check.pockets import Pocket, fits, judge_pockets, use_of
from studio.curves import Affine, Chain, Edge, Outline, Point
from studio.demo import demo_design
from studio.design.carried import THINGS, Carried
from studio.pattern import evaluate

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)


def bag(width, height):
    points = [Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)]
    return Outline.of(
        Edge.whole(str(k), Chain.straight(points[k], points[(k + 1) % 4])) for k in range(4)
    )


def pocket(mouth=160.0, width=180.0, height=260.0, below=200.0):
    return Pocket("pocket", "hand", mouth, bag(width, height), below)


@pytest.mark.parametrize(
    ("ground", "long", "wide", "lies"),
    [
        (shapely.box(0, 0, 100, 60), 100.0, 60.0, True),
        (shapely.box(0, 0, 100, 60), 101.0, 60.0, False),
        # Turned upright.
        (shapely.box(0, 0, 60, 100), 100.0, 60.0, True),
        # A square of 100 holds a stick of its diagonal less its own width.
        (shapely.box(0, 0, 100, 100), 125.0, 14.0, True),
        (shapely.box(0, 0, 100, 100), 125.0, 20.0, False),
        # In a circle of 100 a rectangle needs its diagonal.
        (shapely.Point(0, 0).buffer(50.0, quad_segs=64), 79.0, 59.0, True),
        (shapely.Point(0, 0).buffer(50.0, quad_segs=64), 85.0, 60.0, False),
        # In an L each arm holds a strip, but not a square.
        (shapely.box(0, 0, 100, 30).union(shapely.box(0, 0, 30, 100)), 95.0, 28.0, True),
        (shapely.box(0, 0, 100, 30).union(shapely.box(0, 0, 30, 100)), 60.0, 45.0, False),
    ],
)
def test_a_rectangle_fits_or_not_in_any_turn(ground, long, wide, lies):
    assert fits(ground, long, wide) == lies


@pytest.mark.parametrize("seed", range(12))
def test_a_shape_without_hollows_is_judged_by_ends_as_by_every_place_between(seed, monkeypatch):
    draw = np.random.default_rng(seed)
    turns = np.sort(draw.uniform(0.0, 2.0 * math.pi, 7))
    ground = shapely.Polygon(100.0 * np.column_stack([np.cos(turns), np.sin(turns)]))
    sides = [(draw.uniform(40.0, 170.0), draw.uniform(20.0, 110.0)) for _ in range(12)]
    by_ends = [fits(ground, *side) for side in sides]
    monkeypatch.setattr("studio.check.pockets._HOLLOW_MM2", -1.0)
    assert by_ends == [fits(ground, *side) for side in sides]


def test_the_mouth_takes_a_box_as_wide_and_thick_as_it_is_long():
    """Common practice, no source: width and thickness, with 10 to spare."""
    phone = Carried("pocket", "phone", *THINGS["phone"])
    assert use_of(pocket(mouth=97.0), phone).passes
    use = use_of(pocket(mouth=96.0), phone)
    assert not use.passes
    assert use.short == pytest.approx(1.0)


def test_a_thing_lies_in_the_bag_with_ten_round_it():
    """160 + 20 by 78 + 9 + 20 mm."""
    phone = Carried("pocket", "phone", *THINGS["phone"])
    assert use_of(pocket(width=107.5, height=180.5), phone).lies
    assert not use_of(pocket(width=106.5, height=180.5), phone).lies
    assert not use_of(pocket(width=107.5, height=179.5), phone).lies
    assert use_of(pocket(width=180.5, height=107.5), phone).lies


def test_a_loop_lets_the_head_of_a_tool_through():
    loop = Pocket("loop", "loop", 45.0)
    hammer = Carried("loop", "hammer", *THINGS["hammer"])
    assert use_of(loop, hammer).passes
    assert not use_of(Pocket("loop", "loop", 35.0), hammer).passes


@pytest.mark.parametrize(
    ("girth", "mouth", "told"),
    [(None, 150.0, 0), (None, 149.0, 1), (220.0, 135.0, 0), (260.0, 150.0, 1), (260.0, 155.0, 0)],
)
def test_a_hand_passes_or_not(girth, mouth, told):
    """Half the hand girth and 25 (common practice, no source); 150 for a hand not measured."""
    found = judge_pockets((pocket(mouth=mouth),), (), girth)
    assert len(found) == told


def test_a_shallow_bag_is_told():
    (found,) = judge_pockets((pocket(below=100.0),), (), None)
    assert "100.0 mm below" in found.message


def test_a_mouth_and_what_a_hand_needs_are_told_so_that_they_differ():
    (found,) = judge_pockets((pocket(mouth=149.7),), (), None)
    assert "is 149.7 mm long: a hand needs 150.0 mm" in found.message
    # In inches from what was measured, not from what is left of it in mm: 149.72 / 25.4 = 5.894.
    (found,) = judge_pockets((pocket(mouth=149.72),), (), None)
    assert "is 5.894 inch long: a hand needs 5.906 inch" in in_unit(found, "inch").message


def test_what_does_not_pass_is_told_to_be_too_short_by_something():
    phone = Carried("pocket", "phone", *THINGS["phone"])
    assert use_of(pocket(mouth=96.97), phone).passes
    told = [one.message for one in judge_pockets((pocket(mouth=96.6),), (phone,), 100.0)]
    assert "The phone does not pass pocket: its mouth is 0.4 mm too short." in told


def test_a_thing_for_a_pocket_that_is_not_there_is_told():
    (found,) = judge_pockets((), (Carried("gone", "phone", 1.0, 1.0, 1.0),), None)
    assert "no pocket or loop gone" in found.message


def test_the_pockets_of_the_demonstration():
    known = {one.name: one for one in PATTERN.pockets}
    hand = known["hand-pocket"]
    line = next(line for line in PATTERN.lines if line.name == "hand-pocket")
    assert hand.mouth == pytest.approx(line.chain.length)
    low = min(line.chain.start.y, line.chain.end.y)
    bag_piece = PATTERN.piece("pocket-bag").piece
    assert hand.depth == pytest.approx(low - bag_piece.outline.box.bottom)
    assert known["back-pocket"].kind == "patch"
    assert math.isclose(known["back-pocket"].mouth, 150.0, abs_tol=1e-6)


def test_what_is_carried_is_judged_with_the_pattern():
    rule = Carried("back-pocket", "folding rule", *THINGS["folding rule"])
    told = [f for f in evaluate(replace(DESIGN, carried=(rule,))).findings if f.rule == "pocket"]
    assert len(told) == 1
    assert "does not lie" in told[0].message
    small = Carried("hand-pocket", "small phone", 118.0, 60.0, 8.0)
    assert evaluate(replace(DESIGN, carried=(small,))).findings == ()


@pytest.mark.parametrize("lean", [-30.0, -4.0, 0.0, 12.0])
def test_a_patch_is_as_deep_as_it_is_high_however_it_leans(lean):
    """150 at its sides and a point of 20: 170 below its top, as a rotation keeps lengths."""
    corners = [(0.0, 0.0), (70.0, -20.0), (140.0, 0.0), (140.0, 150.0), (0.0, 150.0)]
    turn = Affine.turn(lean, Point(0.0, 0.0))
    points = [turn(Point(*corner)) for corner in corners]
    names = ("1", "2", "3", "top", "5")
    shape = Outline.of(
        Edge.whole(name, Chain.straight(points[k], points[(k + 1) % 5]))
        for k, name in enumerate(names)
    )
    patch = Pocket("patch", "patch", 140.0, shape, top=shape.edge("top").chain)
    assert patch.depth == pytest.approx(170.0, abs=1e-9)


def test_the_patches_of_a_design_are_measured_square_to_their_tops():
    leaning = next(one for one in PATTERN.pockets if one.name == "back-pocket")
    assert leaning.top is not None
    assert leaning.top.start.y != pytest.approx(leaning.top.end.y, abs=1.0)
    ground = shapely.Polygon(leaning.shape.polyline(0.01))
    top = shapely.LineString([(end.x, end.y) for end in (leaning.top.start, leaning.top.end)])
    far = max(top.distance(shapely.Point(place)) for place in ground.exterior.coords)
    assert leaning.depth == pytest.approx(far, abs=0.5)
