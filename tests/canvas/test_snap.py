"""What a dragged point snaps to, and that it lies there exactly."""

import pytest

from studio.canvas.snap import marks_of, snap_free, snapped
from studio.curves import Point, Vector, level_meetings
from studio.cut.edit import Grip
from studio.demo import demo_design
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())
FRONT = next(panel for panel in PATTERN.panels if panel.name == "front")
BAG = next(line for line in PATTERN.lines if line.name == "pocket-bag")
YOKE = next(line for line in PATTERN.lines if line.name == "yoke")
REACH = 10.0
NODE = Grip("pocket-bag", "node", 2)


def near(x, y):
    return snapped(PATTERN, BAG, NODE, Point(x, y), REACH)


def test_a_node_snaps_to_a_level_line_and_says_so():
    snap = near(60.0, FRONT.levels["crotch"] + 4.0)
    assert snap.at == Point(60.0, FRONT.levels["crotch"])
    assert snap.words == "on the crotch line"


def test_a_node_snaps_to_the_grain_of_its_neighbour_and_shows_the_guide():
    start = BAG.nodes[0].at
    snap = near(start.x + 0.3, start.y - 60.0)
    assert snap.at.x == start.x
    assert snap.words == "along the grain with the start"
    assert snap.guides == ((start, snap.at),)


def test_a_level_and_an_upright_are_met_together():
    start, hip = BAG.nodes[0].at, FRONT.levels["hip"]
    snap = near(start.x - 4.0, hip - 5.0)
    assert snap.at == Point(start.x, hip)
    assert "hip line" in snap.words
    assert "along the grain" in snap.words


def test_a_corner_of_the_panel_is_met_before_any_line():
    corner = FRONT.outline.edge("front.side").chain.end
    snap = near(corner.x - 3.0, corner.y + 3.0)
    assert snap.at == corner
    assert "corner" in snap.words


def test_a_node_snaps_square_to_the_edge_its_line_starts_on():
    end = BAG.ends[0]
    chain = FRONT.outline.edge(end.edge).chain
    across = chain.tangent(end.distance).left()
    off = BAG.nodes[0].at + across * 130.0
    marks = marks_of(PATTERN, FRONT, BAG, node=2)
    rays_only = type(marks)(rays=marks.rays)
    snap = snap_free(rays_only, off + across.right() * 3.0, REACH)
    assert abs((snap.at - BAG.nodes[0].at).unit().cross(across)) < 1e-12
    assert snap.words == "square to front.waist"


def test_an_end_snaps_along_its_edge_to_a_level_line():
    chain, crotch = FRONT.outline.edge("front.side").chain, FRONT.levels["crotch"]
    near_it = level_meetings(chain, crotch)[0].first + 4.0
    snap = snapped(PATTERN, BAG, Grip("pocket-bag", "end", 4), chain.at(near_it), REACH)
    assert snap.words == "on the crotch line"
    assert snap.at.y == pytest.approx(crotch, abs=1e-6)
    assert chain.nearest(snap.at)[1] < 1e-6


def test_a_handle_at_an_end_snaps_square_to_the_edge():
    end = YOKE.ends[0]
    back = next(panel for panel in PATTERN.panels if panel.name == "back")
    across = back.outline.edge(end.edge).chain.tangent(end.distance).left()
    at = YOKE.nodes[0].at
    snap = snapped(
        PATTERN, YOKE, Grip("yoke", "handle-out", 0), at + across * 60.0 + Vector(0.5, 1.0), REACH
    )
    assert snap.words == "leaves back.rise square"
    assert abs((snap.at - at).unit().cross(across)) < 1e-9


def test_far_from_everything_nothing_snaps():
    assert near(71.3, 701.7) is None


def test_a_new_point_snaps_to_the_points_before_it():
    marks = marks_of(PATTERN, FRONT, None, (Point(40.0, 700.0),))
    snap = snap_free(marks, Point(90.0, 703.0), REACH)
    assert snap.at == Point(90.0, 700.0)
    assert snap.words == "level with the start"
