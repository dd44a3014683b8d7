"""Style lines keep what the maker said of them."""

import pytest

from studio.curves import Point, Vector
from studio.cut import draw_line
from studio.design import AnchoredPath, Node, OnEdge, PlacedPath, StyleLine
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel

START = OnEdge("front.waist", "front.side", mm=50.0)
END = OnEdge("front.side", "front.waist", mm=150.0)


def drawn(nodes=(), stretches=(), **handles):
    path = AnchoredPath(START, END, tuple(nodes), **handles)
    return draw_line(StyleLine("line", "front", "seam", path, tuple(stretches)), front_panel())


def test_ends_lie_at_their_distances_along_the_edges():
    line = drawn()
    outline = front_panel().outline
    assert line.chain.start == outline.edge("front.waist").chain.at(50.0)
    side = outline.edge("front.side").chain
    assert line.chain.end == side.at(side.length - 150.0)


def test_a_line_without_nodes_is_straight():
    assert drawn().chain.is_straight


def test_nodes_are_shares_of_the_chord_so_they_follow_their_ends():
    line = drawn([Node(Vector(0.5, 0.1))])
    chord = line.chain.end - line.chain.start
    middle = line.chain.start + chord * 0.5 + chord.left() * 0.1
    assert line.nodes[1].at.distance_to(middle) < 1e-9
    assert line.frame(Point(0.5, 0.1)).distance_to(middle) < 1e-9


def test_a_smooth_node_has_one_direction_and_a_corner_two():
    line = drawn([Node(Vector(0.3, 0.1)), Node(Vector(0.7, -0.2), smooth=False)])
    first, second, third = line.chain.cubics
    assert first.tangent(1.0).cross(second.tangent(0.0)) == pytest.approx(0.0, abs=1e-9)
    assert abs(second.tangent(1.0).cross(third.tangent(0.0))) > 0.05


def test_one_set_handle_of_a_smooth_node_turns_the_other():
    line = drawn([Node(Vector(0.5, 0.1), handle_out=Vector(0.2, 0.05))])
    before, after = line.chain.cubics
    assert before.tangent(1.0).cross(after.tangent(0.0)) == pytest.approx(0.0, abs=1e-9)


def test_stretches_between_corners_bear_the_names_given():
    corners = [Node(Vector(0.2, 0.1), smooth=False), Node(Vector(0.8, 0.1), smooth=False)]
    assert [edge.name for edge in drawn(corners, ("top", "inner")).edges] == [
        "line.top",
        "line.inner",
        "line.3",
    ]
    assert [edge.name for edge in drawn().edges] == ["line"]


def test_nodes_that_fall_together_are_refused():
    with pytest.raises(GeometryRefused, match="fall together"):
        drawn([Node(Vector(0.5, 0.1)), Node(Vector(0.5, 0.1))])


SQUARE = tuple(
    Node(Vector(x, y), smooth=False)
    for x, y in ((0.0, 0.0), (-150.0, 0.0), (-150.0, -160.0), (0.0, -160.0))
)


def placed(turn=0.0, nodes=SQUARE):
    path = PlacedPath(OnEdge("back.rise", "back.waist", mm=100.0), 60.0, turn, nodes)
    return draw_line(StyleLine("pocket", "back", "patch", path), back_panel())


def test_a_placed_shape_keeps_its_size_and_stands_square_to_its_edge():
    line = placed(turn=7.0)
    assert [round(edge.length, 9) for edge in line.edges] == [150.0, 160.0, 150.0, 160.0]
    rise = back_panel().outline.edge("back.rise").chain
    along, gap = rise.nearest(line.nodes[0].at)
    assert gap == pytest.approx(60.0, abs=1e-6)
    assert rise.length - along == pytest.approx(100.0, abs=1e-6)


def test_a_placed_shape_closes_and_runs_counter_clockwise():
    line = placed()
    assert line.edges[0].chain.start == line.edges[-1].chain.end
    assert sum(edge.chain.swept_area() for edge in line.edges) == pytest.approx(24000.0, abs=1e-6)


def test_the_nodes_of_a_placed_shape_stay_in_the_makers_order():
    nodes = (Node(Vector(-75.0, 10.0)), *SQUARE[1:], SQUARE[0])
    line = placed(nodes=nodes)
    for node, shown in zip(nodes, line.nodes, strict=True):
        assert line.frame(Point(node.at.x, node.at.y)).distance_to(shown.at) < 1e-9
        assert node.smooth == shown.smooth
