"""Closed outlines and their named edges."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point
from studio.errors import GeometryRefused
from tests.curves.strategies import RIGID
from tests.shapes import back_panel, front_panel

FRONT = front_panel().outline
SHARE = st.floats(0.05, 0.95)


@given(RIGID)
def test_a_moved_or_mirrored_outline_keeps_area_and_stays_counter_clockwise(move):
    moved = FRONT.transformed(move)
    assert moved.area_mm2 == pytest.approx(FRONT.area_mm2, abs=1e-4)
    assert moved.perimeter == pytest.approx(FRONT.perimeter, abs=1e-6)
    assert sorted(edge.name for edge in moved) == sorted(edge.name for edge in FRONT)


@given(SHARE, SHARE)
def test_a_stretch_of_a_stretch_keeps_its_place_on_the_edge_first_drawn(one, two):
    whole = FRONT.edge("front.side")
    low, high = sorted((one * whole.length, two * whole.length))
    if high - low < 1.0:
        return
    stretch = whole.between(low, high)
    again = stretch.between(stretch.length * 0.25, stretch.length * 0.75)
    assert again.name == whole.name
    assert whole.chain.at(again.start).distance_to(again.chain.start) < 1e-5
    assert whole.chain.at(again.end).distance_to(again.chain.end) < 1e-5


@given(SHARE)
def test_a_reversed_edge_counts_its_place_down(share):
    whole = FRONT.edge("front.side")
    back = whole.reversed()
    assert (back.start, back.end) == (whole.end, whole.start)
    along = share * back.length
    assert back.along(back.place(along)) == pytest.approx(along, abs=1e-9)
    assert whole.chain.at(back.place(along)).distance_to(back.chain.at(along)) < 1e-6


def test_corners_tell_their_edges_and_the_angle_inside():
    square = Outline.of(
        Edge.whole(name, Chain.straight(one, two))
        for name, one, two in (
            ("low", Point(0, 0), Point(10, 0)),
            ("right", Point(10, 0), Point(10, 10)),
            ("slant", Point(10, 10), Point(0, 0)),
        )
    )
    angles = {(c.before, c.after): round(c.inner, 6) for c in square.corners()}
    assert angles == {("slant", "low"): 45.0, ("low", "right"): 90.0, ("right", "slant"): 45.0}


def test_an_open_clockwise_or_empty_outline_is_refused():
    low = Edge.whole("low", Chain.straight(Point(0, 0), Point(10, 0)))
    up = Edge.whole("up", Chain.straight(Point(10, 0.01), Point(0, 10)))
    with pytest.raises(GeometryRefused, match=r"open by 0\.01 mm between low and up"):
        Outline.of((low, up))
    back = Edge.whole(
        "back", Chain((Cubic(Point(10, 0), Point(8, -9), Point(2, -9), Point(0, 0)),))
    )
    with pytest.raises(GeometryRefused, match="clockwise"):
        Outline.of((low, back))
    with pytest.raises(GeometryRefused):
        Outline.of(())


def test_edges_are_found_by_name():
    assert FRONT.edge("front.hem").length == pytest.approx(200.0)
    assert FRONT.has("front.rise")
    with pytest.raises(KeyError):
        FRONT.edge("back.rise")
    turned = FRONT.starting_with("front.rise")
    assert turned.edges[0].name == "front.rise"
    assert turned.area_mm2 == pytest.approx(FRONT.area_mm2)


def test_two_mirrored_panels_are_mirror_images():
    panel = back_panel().outline
    mirrored = panel.transformed(Affine.mirror_x())
    for edge in panel:
        twin = mirrored.edge(edge.name)
        assert twin.length == pytest.approx(edge.length, abs=1e-9)
        assert twin.chain.start.x == pytest.approx(-edge.chain.end.x, abs=1e-12)
