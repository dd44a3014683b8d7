"""Edits by hand land where the hand is, as near as the edge allows, and change nothing else."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from studio.block.places import place_at
from studio.curves import Point, Vector
from studio.cut import edit
from studio.cut.edit import Grip
from studio.demo import demo_design
from studio.design import OnEdge
from studio.pattern import evaluate

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)
PANELS = {panel.name: panel for panel in PATTERN.panels}


def drawn_of(pattern, name):
    return next(line for line in pattern.lines if line.name == name)


def drag(grip, to, design=DESIGN):
    pattern = evaluate(design)
    drawn = drawn_of(pattern, grip.line)
    return edit.moved(design, drawn, PANELS[drawn.panel], grip, to)


def place(design, grip):
    return edit.place_of_grip(design.line(grip.line), drawn_of(evaluate(design), grip.line), grip)


ALL_GRIPS = [
    grip for line in DESIGN.lines for grip, _ in edit.grips(line, drawn_of(PATTERN, line.name))
]


def test_every_kind_of_grip_is_there():
    kinds = {grip.kind for grip in ALL_GRIPS}
    assert kinds == {"start", "end", "node", "handle-in", "handle-out", "shape"}


@pytest.mark.parametrize("grip", ALL_GRIPS, ids=str)
def test_a_grip_brought_to_where_it_is_leaves_the_line_where_it_was(grip):
    before = drawn_of(PATTERN, grip.line).chain
    after = drawn_of(evaluate(drag(grip, place(DESIGN, grip))), grip.line).chain
    for k in range(9):
        assert after.nearest(before.at(before.length * k / 8))[1] < 1e-6


@given(st.floats(-25.0, 25.0), st.floats(-25.0, 25.0))
def test_a_node_goes_where_the_hand_goes(right, up):
    grip = Grip("yoke", "node", 1)
    to = place(DESIGN, grip) + Vector(right, up)
    assert place(drag(grip, to), grip).distance_to(to) < 1e-6


def test_a_handle_goes_where_the_hand_goes_and_turns_its_partner():
    grip = Grip("yoke", "handle-out", 1)
    first = drag(grip, place(DESIGN, grip) + Vector(-5.0, 12.0))
    other = Grip("yoke", "handle-in", 1)
    second = drag(other, place(first, other) + Vector(4.0, 9.0), first)
    node = place(second, Grip("yoke", "node", 1))
    one, two = place(second, grip) - node, place(second, other) - node
    assert one.unit().cross(two.unit()) == pytest.approx(0.0, abs=1e-6)
    assert one.dot(two) < 0.0


def test_an_end_slides_along_its_edge_and_stays_on_it():
    index = len(drawn_of(PATTERN, "hand-pocket").nodes) - 1
    grip = Grip("hand-pocket", "end", index)
    moved = drag(grip, place(DESIGN, grip) + Vector(80.0, -30.0))
    side = PANELS["front"].outline.edge("front.side").chain
    assert side.nearest(place(moved, grip))[1] < 1e-6
    assert moved.line("hand-pocket").path.start == DESIGN.line("hand-pocket").path.start
    assert 180.0 < moved.line("hand-pocket").path.end.mm < 205.0


def test_an_end_dragged_past_its_edge_stops_at_the_corner():
    index = len(drawn_of(PATTERN, "hand-pocket").nodes) - 1
    grip = Grip("hand-pocket", "end", index)
    moved = drag(grip, Point(0.0, -5000.0))
    length = PANELS["front"].outline.edge("front.side").length
    assert moved.line("hand-pocket").path.end.mm == pytest.approx(length, abs=1e-6)


def test_an_end_kept_as_a_share_stays_a_share():
    place_ = OnEdge("front.side", "front.waist", share=0.2)
    moved = place_at(PANELS["front"], place_, 100.0)
    length = PANELS["front"].outline.edge("front.side").length
    assert moved.mm is None
    assert moved.share == pytest.approx(1.0 - 100.0 / length)


def test_a_shape_moves_whole_and_keeps_its_size():
    grip = Grip("back-pocket", "shape")
    to = place(DESIGN, grip) + Vector(-12.0, -9.0)
    moved = drag(grip, to)
    before, after = (drawn_of(p, "back-pocket").chain for p in (PATTERN, evaluate(moved)))
    assert after.length == pytest.approx(before.length, abs=1e-9)
    assert place(moved, grip).distance_to(to) < 1.0


def test_a_node_added_on_a_straight_line_lies_on_it():
    drawn = drawn_of(PATTERN, "knee-panel")
    near = drawn.edges[1].chain.at(60.0)
    more = edit.with_node(DESIGN, drawn, near + Vector(2.0, 0.0))
    assert len(more.line("knee-panel").path.nodes) == 3
    nodes = drawn_of(evaluate(more), "knee-panel").nodes
    assert min(node.at.distance_to(near) for node in nodes) < 2.1


def test_a_node_added_to_a_closed_shape_goes_between_its_neighbours():
    drawn = drawn_of(PATTERN, "back-pocket")
    near = drawn.edges[1].chain.at(50.0)
    more = edit.with_node(DESIGN, drawn, near)
    nodes = more.line("back-pocket").path.nodes
    assert len(nodes) == 6
    assert [node.at for node in nodes if node.smooth] == [nodes[2].at]


@pytest.mark.parametrize(("name", "handle"), [("fly", "start"), ("back-pocket", "node")])
def test_a_node_added_beside_a_handle_that_was_set_leaves_the_curve_as_it_was(name, handle):
    line = DESIGN.line(name)
    long = Vector(0.3, 0.25) if handle == "start" else Vector(-30.0, 25.0)
    if handle == "start":
        line = replace(line, path=replace(line.path, start_handle=long))
    else:
        nodes = (replace(line.path.nodes[0], handle_out=long), *line.path.nodes[1:])
        line = replace(line, path=replace(line.path, nodes=nodes))
    design = DESIGN.with_line(line)
    drawn = drawn_of(evaluate(design), name)
    for share in (0.1, 0.5, 0.9):
        first = next(c for c in drawn.chain.cubics if not c.is_straight)
        more = edit.with_node(design, drawn, first.at(share))
        assert len(more.line(name).path.nodes) == len(line.path.nodes) + 1
        after = drawn_of(evaluate(more), name)
        # The sum of the parts is the whole, and shapely lays one on the other.
        assert after.chain.length == pytest.approx(drawn.chain.length, abs=1e-3)
        lines = [shapely.LineString(one.chain.polyline(0.001)) for one in (drawn, after)]
        assert lines[0].hausdorff_distance(lines[1]) < 0.01


def test_ends_cannot_be_removed_and_a_shape_keeps_three_nodes():
    assert edit.without_node(DESIGN, Grip("yoke", "start", 0)) is DESIGN
    design = DESIGN
    for _ in range(6):
        design = edit.without_node(design, Grip("back-pocket", "node", 0))
    assert len(design.line("back-pocket").path.nodes) == 3


def test_toggling_a_node_twice_gives_it_back_without_set_handles():
    grip = Grip("yoke", "node", 1)
    once = edit.toggled(DESIGN, grip)
    assert not once.line("yoke").path.nodes[0].smooth
    assert edit.toggled(once, grip) == DESIGN
