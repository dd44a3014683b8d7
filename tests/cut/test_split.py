"""Cutting conserves area and length and keeps the name and place of every edge."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.block.places import EdgePlace
from studio.curves import Vector
from studio.cut import draw_line, kept_side
from studio.cut.split import place_of
from studio.design import AnchoredPath, Node, OnEdge, StyleLine
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel


def line(start, end, nodes=(), name="cut", panel="front", kind="seam"):
    return StyleLine(name, panel, kind, AnchoredPath(start, end, tuple(nodes)))


def mouth(from_waist=150.0):
    return line(
        OnEdge("front.waist", "front.side", mm=50.0),
        OnEdge("front.side", "front.waist", mm=from_waist),
        [Node(Vector(0.5, -0.08))],
    )


@given(st.floats(20.0, 150.0), st.floats(60.0, 400.0), st.floats(-0.15, 0.15))
def test_the_two_sides_of_a_cut_add_up_to_the_panel(along, down, bow):
    panel = front_panel()
    drawn = draw_line(
        line(
            OnEdge("front.waist", "front.side", mm=along),
            OnEdge("front.side", "front.waist", mm=down),
            [Node(Vector(0.5, bow))],
        ),
        panel,
    )
    try:
        left, right = (kept_side(panel.outline, drawn, side) for side in ("left", "right"))
    except GeometryRefused:
        # A strong bow may leave the panel; then both sides must be refused alike.
        for side in ("left", "right"):
            with pytest.raises(GeometryRefused):
                kept_side(panel.outline, drawn, side)
        return
    assert left.area_mm2 + right.area_mm2 == pytest.approx(panel.outline.area_mm2, abs=1e-6)
    edges = left.perimeter + right.perimeter - 2.0 * drawn.chain.length
    assert edges == pytest.approx(panel.outline.perimeter, abs=1e-6)


def test_edges_keep_their_name_and_place_on_the_edge_first_drawn():
    panel = front_panel()
    leg = kept_side(panel.outline, draw_line(mouth(), panel), "right")
    whole = panel.outline.edge("front.side")
    side = leg.edge("front.side")
    assert side.start == 0.0
    assert side.end == pytest.approx(whole.length - 150.0, abs=1e-9)
    assert side.chain.end.distance_to(whole.chain.at(side.end)) < 1e-6
    assert leg.edge("front.waist").start == pytest.approx(50.0, abs=1e-9)
    assert [edge.name for edge in leg.edges] == [
        "cut",
        "front.waist",
        "front.rise",
        "front.inseam",
        "front.hem",
        "front.side",
    ]


def test_the_line_runs_both_ways_round_its_two_faces():
    panel = front_panel()
    drawn = draw_line(mouth(), panel)
    left = kept_side(panel.outline, drawn, "left").edge("cut")
    right = kept_side(panel.outline, drawn, "right").edge("cut")
    assert left.start == 0.0
    assert right.end == 0.0
    assert left.length == pytest.approx(right.length, abs=1e-9)


def test_a_second_cut_finds_its_end_where_the_first_took_it_away():
    panel = front_panel()
    drawn = draw_line(mouth(200.0), panel)
    leg = kept_side(panel.outline, drawn, "right")
    level = draw_line(
        line(
            OnEdge("front.side", "front.waist", mm=100.0),
            OnEdge("front.rise", "front.waist", mm=120.0),
            name="level",
        ),
        panel,
    )
    top = kept_side(leg, level, "right")
    bottom = kept_side(leg, level, "left")
    assert top.area_mm2 + bottom.area_mm2 == pytest.approx(leg.area_mm2, abs=1e-6)
    assert not top.has("front.side")


def test_an_end_on_a_corner_goes_through_the_corner_without_a_sliver():
    panel = front_panel()
    drawn = draw_line(
        line(
            OnEdge("front.side", "front.waist", mm=0.0),
            OnEdge("front.rise", "front.waist", mm=100.0),
        ),
        panel,
    )
    top = kept_side(panel.outline, drawn, "right")
    assert [edge.name for edge in top.edges] == ["cut", "front.waist", "front.rise"]


@pytest.mark.parametrize(
    ("nodes", "reason"),
    [
        ([Node(Vector(0.5, 0.9))], "leaves the panel"),
        ([Node(Vector(0.2, 0.6)), Node(Vector(0.8, -0.6))], "leaves the panel"),
    ],
)
def test_a_line_that_leaves_the_panel_is_refused_by_name(nodes, reason):
    panel = front_panel()
    drawn = draw_line(
        line(
            OnEdge("front.side", "front.waist", mm=300.0),
            OnEdge("front.side", "front.waist", mm=500.0),
            nodes,
        ),
        panel,
    )
    with pytest.raises(GeometryRefused, match="cut") as refusal:
        kept_side(panel.outline, drawn, "left")
    assert refusal.value.where == "cut"
    assert reason in str(refusal.value) or "outside" in str(refusal.value)


@pytest.mark.parametrize(
    ("place", "reason"),
    [
        (OnEdge("front.side", "front.waist", mm=5000.0), "past the end"),
        (OnEdge("front.side", "front.rise", mm=5.0), "does not meet"),
        (OnEdge("front.sides", "front.rise", mm=5.0), "no edge"),
    ],
)
def test_an_end_that_cannot_be_placed_says_why(place, reason):
    with pytest.raises(GeometryRefused, match=reason):
        draw_line(line(place, OnEdge("front.side", "front.hem", mm=5.0)), front_panel())


def test_a_share_and_a_distance_name_the_same_place():
    panel = back_panel()
    length = panel.outline.edge("back.side").length
    by_share = line(
        OnEdge("back.side", "back.waist", share=0.25),
        OnEdge("back.rise", "back.waist", mm=80.0),
        panel="back",
    )
    drawn = draw_line(by_share, panel)
    assert drawn.ends[0].distance == pytest.approx(length * 0.25, abs=1e-9)


def test_a_place_cut_away_is_not_found():
    panel = front_panel()
    leg = kept_side(panel.outline, draw_line(mouth(), panel), "right")
    length = panel.outline.edge("front.side").length
    assert place_of(leg, EdgePlace("front.side", length - 10.0)) is None
    assert place_of(leg, EdgePlace("front.side", 100.0)) is not None
