"""Notches stand at the same walked length on both sides and never pass the sewing line."""

import itertools

import pytest
from msgspec.structs import replace

from studio.block.panel import Dart
from studio.curves import Chain, Edge, Outline, Point
from studio.cut import Piece
from studio.demo import demo_design
from studio.design import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.pattern import evaluate
from studio.sew import Notched, measured, notch_places
from studio.sew.dart_notches import dart_places
from studio.sew.notches import NotchPlace, cut_notch
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
    places = notch_places(seam)
    assert [place.piece for place in places] == ["long"]
    notch = cut_notch(places[0], 12.0)
    assert notch.at.distance_to(Point(200.0, 0.0)) < 1e-9


def test_both_sides_are_notched_at_the_same_walked_length():
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0, panel="back"))}
    seam = measured(
        join([("one", "one.low")], [("two", "two.low")], notches=(100.0, -50.0)), pieces
    )
    places = notch_places(seam)
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
    at = {place.piece: place.along for place in notch_places(seam)}
    assert at == {"one": pytest.approx(200.0), "two": pytest.approx(205.0)}


@pytest.mark.parametrize("allowance", [4.0, 12.0, 24.0])
def test_a_notch_runs_from_the_cut_line_inward_at_most_half_the_allowance(allowance):
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0))}
    seam = measured(join([("one", "one.low")], [("two", "two.low")], notches=(100.0,)), pieces)
    notch = cut_notch(notch_places(seam)[0], allowance)
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
        for place in notch_places(seam)
        if place.piece == "front"
    )
    assert heights == [445.0, 860.0]


def darted(name, length, *mouths):
    """A strip with darts of 30 depth in its lower edge, each from `low` to `high`."""
    piece = strip(name, length)
    corners = [0.0, *(x for mouth in mouths for x in mouth), length]
    low = Edge.whole(f"{name}.low", Chain.straight(*(Point(x, 0.0) for x in corners)))
    edges = [low, *list(piece.outline)[1:]]
    darts = tuple(
        Dart(
            f"{name}-dart-{k}",
            f"{name}.low",
            Point(one, 0.0),
            Point(two, 0.0),
            Point((one + two) / 2.0, 30.0),
        )
        for k, (one, two) in enumerate(mouths, start=1)
    )
    return replace(piece, outline=Outline.of(edges), darts=darts)


@pytest.mark.parametrize("against", [False, True])
def test_darts_are_closed_when_a_side_is_measured_and_its_joints_found(against):
    pieces = {
        p.name: p for p in (darted("one", 320.0, (50, 60), (200, 210)), strip("two", 200.0),
                            strip("long", 500.0))
    }  # fmt: skip
    chain, whole = [("one", "one.low"), ("two", "two.low")], [("long", "long.low")]
    seam = measured(join(whole, chain) if against else join(chain, whole), pieces)
    side = seam.b if against else seam.a
    assert side.length == pytest.approx(500.0, abs=1e-9)
    assert side.joints() == pytest.approx([300.0])
    (place,) = notch_places(seam)
    assert place.piece == "long"
    assert cut_notch(place, 12.0).at.x == pytest.approx(300.0 if against else 200.0, abs=1e-9)


def test_a_notch_beyond_a_dart_stands_at_its_sewn_length():
    pieces = {p.name: p for p in (darted("one", 310.0, (50, 60)), strip("two", 300.0))}
    seam = measured(join([("one", "one.low")], [("two", "two.low")], notches=(40.0, 150.0)), pieces)
    at = {(place.piece, round(cut_notch(place, 12.0).at.x, 9)) for place in notch_places(seam)}
    # 150 sewn is 160 along the open edge; side b is walked the other way.
    assert at == {("one", 40.0), ("one", 160.0), ("two", 260.0), ("two", 150.0)}


def test_sewn_and_open_places_on_a_stretch_answer_each_other():
    (one,) = measured(
        join([("one", "one.low")], [("one", "one.high")]),
        {"one": darted("one", 320.0, (50, 60), (200, 210))},
    ).a.stretches
    assert [one.sewn(along) for along in (0, 50, 55, 60, 200, 210, 320)] == pytest.approx(
        [0, 50, 50, 50, 190, 190, 300]
    )
    assert [one.on_edge(sewn) for sewn in (0, 49, 51, 189, 191, 300)] == pytest.approx(
        [0, 49, 61, 199, 211, 320]
    )


def test_only_the_darts_on_a_stretch_are_taken_off_it():
    piece = replace(darted("one", 320.0, (50, 60), (200, 210)), splits=((0, 100.0, "line"),))
    low = Join(
        "seam",
        JoinSide((EdgeRef("one", "one.low", before="line"),)),
        JoinSide((EdgeRef("one", "one.low", after="line"),)),
    )
    seam = measured(low, {"one": piece})
    assert (seam.a.length, seam.b.length) == pytest.approx((90.0, 210.0))


def dart_notched(piece):
    """Where a piece is notched for its darts, mm along their edges."""
    return [
        place.along
        for dart in piece.darts
        for place, _ in dart_places(piece.name, piece.outline, dart)
    ]


def test_the_mouth_of_a_dart_is_notched_and_a_seam_keeps_clear_of_it():
    piece, other = darted("one", 310.0, (150, 160)), strip("two", 300.0)
    assert dart_notched(piece) == pytest.approx([150.0, 160.0])
    assert dart_notched(other) == []
    # Under 7 wide, two might be cut as one.
    assert dart_notched(darted("one", 303.0, (150, 153))) == [151.5]
    pieces = {"one": piece, "two": other}
    seam = measured(join([("one", "one.low")], [("two", "two.low")]), pieces)
    # The middle of the seam, 150, is where the dart stands: the notch steps aside.
    at = {place.piece: place.along for place in notch_places(seam)}
    assert at == pytest.approx({"one": 184.0, "two": 126.0})


def test_a_lapped_join_has_no_notches_but_those_that_are_asked_for():
    pieces = {p.name: p for p in (strip("one", 400.0), strip("two", 400.0))}
    sides = [("one", "one.low")], [("two", "two.low")]
    assert notch_places(measured(join(*sides, construction="lapped"), pieces)) == []
    seam = measured(join(*sides, construction="lapped", notches=(100.0,)), pieces)
    at = {place.piece: place.along for place in notch_places(seam)}
    assert at == pytest.approx({"one": 100.0, "two": 300.0})


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


def divided(name, *stations):
    """A strip whose lower edge is divided at stations, all in one straight line."""
    last = stations[-1]
    lows = [
        Edge(f"{name}.low-{k}", Chain.straight(Point(one, 0), Point(two, 0)), 0.0, two - one)
        for k, (one, two) in enumerate(itertools.pairwise(stations))
    ]
    corners = [Point(last, 0), Point(last, 60), Point(0, 60), Point(0, 0)]
    rest = [
        Edge.whole(f"{name}.{part}", Chain.straight(one, two))
        for part, one, two in zip(("right", "high", "left"), corners, corners[1:], strict=False)
    ]
    return Piece(name, Outline.of([*lows, *rest]))


def ends_of(seam):
    return sorted(
        (place.piece, round(cut_notch(place, 12.0).at.x, 6))
        for place in notch_places(seam)
        if place.is_end
    )


def test_a_seam_that_ends_where_its_piece_has_no_corner_is_notched_there():
    pieces = {p.name: p for p in (strip("leg", 140.0), divided("band", 0.0, 140.0, 280.0, 320.0))}
    first = measured(join([("leg", "leg.low")], [("band", "band.low-0")]), pieces)
    second = measured(join([("leg", "leg.low")], [("band", "band.low-1")]), pieces)
    # At 0 the band has a corner; at 140 and 280 it runs on, and the leg has its corners there.
    assert ends_of(first) == [("band", 140.0)]
    assert ends_of(second) == [("band", 140.0), ("band", 280.0)]


def test_two_seams_that_end_at_one_place_are_notched_there_once():
    pieces = {p.name: p for p in (strip("leg", 140.0), divided("band", 0.0, 140.0, 280.0, 320.0))}
    found = Notched(
        place
        for edge in ("band.low-0", "band.low-1")
        for place in notch_places(measured(join([("leg", "leg.low")], [("band", edge)]), pieces))
        if place.piece == "band" and place.is_end
    )
    at = sorted(round(cut_notch(place, 12.0).at.x, 6) for place in found.places)
    assert at == [140.0, 280.0]


@pytest.mark.parametrize(("apart", "cut"), [(0.4, 1), (-0.4, 1), (0.6, 2), (-0.6, 2)])
def test_of_two_notches_within_half_a_millimetre_one_is_cut(apart, cut):
    edge = strip("leg", 400.0).outline.edge("leg.low")
    places = [NotchPlace("leg", edge, along, "single", "seam") for along in (150.0, 150.0 + apart)]
    assert len(Notched(places).places) == cut


def test_a_fly_is_notched_where_it_ends_and_a_band_at_the_centre_back_and_its_overlap():
    pattern = evaluate(demo_design())
    front = pattern.piece("front-leg")
    fly = next(one for one in pattern.measured if one.join.name == "fly edge")
    end = fly.a.stretches[-1].edge.chain.end
    assert sum(notch.at.distance_to(end) < 1e-6 for notch in front.notches) == 1
    half = next(one for one in pattern.measured if one.join.name == "waist").a.length
    at = sorted(notch.at.x for notch in pattern.piece("waistband").notches)
    for wanted in (half, 2.0 * half):
        assert sum(abs(x - wanted) < 1e-6 for x in at) == 1
    assert not pattern.findings
