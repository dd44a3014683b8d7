"""Notches stand at the same walked length on both sides and never pass the sewing line."""

import pytest

from studio.curves import Chain, Edge, Outline, Point
from studio.cut import Piece
from studio.design import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.sew import measured, notch_places
from studio.sew.notches import cut_notch
from tests.shapes import back_panel, front_panel


def strip(name, length, panel="front"):
    """A strip whose lower edge is called `<name>.low` and whose upper edge `<name>.high`."""
    corners = [Point(0, 0), Point(length, 0), Point(length, 60), Point(0, 60), Point(0, 0)]
    names = ("low", "right", "high", "left")
    return Piece(
        name,
        Outline.of(
            Edge.whole(f"{name}.{part}", Chain.straight(one, two))
            for part, one, two in zip(names, corners, corners[1:], strict=False)
        ),
        panel=panel,
    )


def join(a, b, **more):
    return Join(
        "seam",
        JoinSide(tuple(EdgeRef(piece, edge) for piece, edge in a)),
        JoinSide(tuple(EdgeRef(piece, edge) for piece, edge in b)),
        **more,
    )


def test_a_chain_is_as_long_as_its_edges_and_notches_where_it_changes_piece():
    pieces = {p.name: p for p in (strip("one", 300.0), strip("two", 200.0), strip("long", 500.0))}
    # Low edges run to the right; side b is walked the other way, so the long strip starts right.
    seam = measured(join([("one", "one.low"), ("two", "two.low")], [("long", "long.low")]), pieces)
    assert seam.a.length == pytest.approx(500.0, abs=1e-9)
    assert seam.difference == pytest.approx(0.0, abs=1e-9)
    places = notch_places(seam, pieces)
    assert [place.piece for place in places] == ["long"]
    notch = cut_notch(places[0], 12.0)
    assert notch.at.distance_to(Point(200.0, 0.0)) < 1e-9


def test_both_sides_are_notched_at_the_same_walked_length():
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0, panel="back"))}
    seam = measured(
        join([("one", "one.low")], [("two", "two.low")], notches=(100.0, -50.0)), pieces
    )
    places = notch_places(seam, pieces)
    at = {(place.piece, round(cut_notch(place, 12.0).at.x, 6)) for place in places}
    assert at == {("one", 100.0), ("one", 350.0), ("two", 300.0), ("two", 50.0)}
    # One for a front, two for a back: common practice, no source.
    assert {place.kind for place in places if place.piece == "two"} == {"double"}
    assert {place.kind for place in places if place.piece == "one"} == {"single"}


def test_ease_is_shared_out_along_the_seam():
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 410.0))}
    seam = measured(
        join([("one", "one.low")], [("two", "two.low")], notches=(200.0,), ease=10.0), pieces
    )
    at = {place.piece: place.along for place in notch_places(seam, pieces)}
    assert at == {"one": pytest.approx(200.0), "two": pytest.approx(205.0)}


@pytest.mark.parametrize("allowance", [4.0, 12.0, 24.0])
def test_a_notch_runs_from_the_cut_line_inward_at_most_half_the_allowance(allowance):
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0))}
    seam = measured(join([("one", "one.low")], [("two", "two.low")], notches=(100.0,)), pieces)
    notch = cut_notch(notch_places(seam, pieces)[0], allowance)
    assert notch.mouth.y == pytest.approx(-allowance)
    depth = notch.mouth.distance_to(notch.tip)
    assert 0.0 < depth <= allowance / 2.0 + 1e-9
    assert notch.tip.y < 0.0


def test_real_panels_are_notched_at_hip_and_knee():
    front, back = front_panel(), back_panel()
    pieces = {
        panel.name: Piece(panel.name, panel.outline, levels=panel.levels, panel=panel.name)
        for panel in (front, back)
    }
    seam = measured(join([("front", "front.side")], [("back", "back.side")]), pieces)
    heights = sorted(
        round(cut_notch(place, 12.0).at.y, 3)
        for place in notch_places(seam, pieces)
        if place.piece == "front"
    )
    assert heights == [445.0, 860.0]


def test_a_lapped_join_needs_no_notches():
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0))}
    seam = measured(
        join([("one", "one.low")], [("two", "two.low")], construction="lapped", notches=(100.0,)),
        pieces,
    )
    assert notch_places(seam, pieces) == []


@pytest.mark.parametrize(
    ("ref", "reason"),
    [
        (EdgeRef("none", "one.low"), "no piece none"),
        (EdgeRef("one", "one.lower"), "no edge one.lower"),
        (EdgeRef("one", "one.low", before="mouth"), "mouth does not end on"),
    ],
)
def test_a_side_that_cannot_be_found_says_what_is_missing(ref, reason):
    pieces = {"one": strip("one", 400.0)}
    with pytest.raises(GeometryRefused, match=reason):
        measured(Join("seam", JoinSide((ref,)), JoinSide(())), pieces)
