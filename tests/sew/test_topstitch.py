"""Rows of topstitching against shapely's parallels, and where they run out."""

import pytest
import shapely
from msgspec.structs import replace

from studio import numbers
from studio.curves import Chain, Edge, Outline, Point
from studio.cut.parts import HandPocket
from studio.cut.piece import Mark, Piece
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.pattern import evaluate, with_parts
from studio.sew import asked_rows, rows_of
from studio.sew.rows_at_darts import off_darts
from tests.sew.darted import DART, bowed, rectangle
from tests.shapes import front_panel


def polygon(points):
    named = [
        Edge.whole(f"e{k}", Chain.straight(points[k], points[(k + 1) % len(points)]))
        for k in range(len(points))
    ]
    return Piece("piece", Outline.of(named))


SQUARE = polygon([Point(0.0, 0.0), Point(100.0, 0.0), Point(100.0, 80.0), Point(0.0, 80.0)])
NOTCHED = polygon(
    [
        Point(0.0, 0.0),
        Point(100.0, 0.0),
        Point(100.0, 80.0),
        Point(60.0, 80.0),
        Point(60.0, 40.0),
        Point(0.0, 40.0),
    ]
)


def line(chain):
    return shapely.LineString(chain.polyline(0.001))


def test_a_row_all_round_is_the_square_made_smaller():
    (row,) = rows_of(SQUARE.outline, [(10.0,)] * 4)
    assert row.start.distance_to(row.end) < 1e-6
    wanted = shapely.box(10.0, 10.0, 90.0, 70.0).exterior
    assert line(row).hausdorff_distance(wanted) < 1e-6


def test_a_row_turns_into_a_hollow_corner_with_a_mitre():
    (row,) = rows_of(NOTCHED.outline, [(5.0,)] * 6)
    ground = shapely.Polygon(NOTCHED.outline.polyline())
    wanted = ground.buffer(-5.0, join_style="mitre").exterior
    assert line(row).hausdorff_distance(wanted) < 0.01


def test_a_row_of_some_edges_runs_out_into_the_seams_beside_them():
    (row,) = rows_of(SQUARE.outline, [(8.0,), (8.0,), (), ()])
    assert (row.start, row.end) == (Point(0.0, 8.0), Point(92.0, 80.0))
    assert row.length == pytest.approx(92.0 + 72.0, abs=1e-6)


@pytest.mark.parametrize("distance", [0.0, 4.0, 10.0, 40.0])
def test_a_row_ends_on_one_leg_of_a_dart_and_goes_on_from_the_other(distance):
    """By hand: the legs lean one in ten, so the mouth is 20 - d / 5 wide at the row."""
    one, two = rows_of(rectangle(), [(), (), (distance,), ()], (DART,))
    height, half = 300.0 - distance, 10.0 - distance / 10.0
    for end, x in (
        (one.start, 200.0),
        (one.end, 100 + half),
        (two.start, 100 - half),
        (two.end, 0),
    ):
        assert (end.x, end.y) == pytest.approx((x, height), abs=1e-6)
    # Thread is counted by length: no intake in it.
    assert one.length + two.length == pytest.approx(180.0 + distance / 5.0, abs=1e-6)


@pytest.mark.parametrize("lean", [-30.0, 0.0, 25.0])
@pytest.mark.parametrize("distance", [2.0, 10.0, 25.0])
def test_beside_a_leg_a_row_is_the_parallel_of_what_is_sewn_there(lean, distance):
    outline, dart = bowed(lean)
    one, two = rows_of(outline, [(), (), (distance,), ()], (dart,))
    edge = outline.edge("front.waist").chain
    low, high = edge.distance_of(dart.first), edge.distance_of(dart.last)
    for row, end, leg, part in (
        (one, one.end, dart.first, edge.between(0.0, low)),
        (two, two.start, dart.last, edge.between(high, edge.length)),
    ):
        on_leg = shapely.LineString([(dart.point.x, dart.point.y), (leg.x, leg.y)])
        assert on_leg.distance(shapely.Point(end.x, end.y)) < 1e-6
        # By shapely, off the edge on that side, prolonged as it runs: all of the row.
        way = part.end_tangent if leg is dart.first else -part.start_tangent
        far = leg + way.unit() * 40.0
        beside = shapely.LineString([*part.polyline(1e-4), (far.x, far.y)])
        if leg is dart.last:
            beside = shapely.LineString([(far.x, far.y), *part.polyline(1e-4)])
        for k in range(1, 21):
            at = row.at(row.length * k / 21.0)
            assert beside.distance(shapely.Point(at.x, at.y)) == pytest.approx(distance, abs=0.02)


def test_a_row_below_a_darts_point_and_one_beside_another_edge_are_not_parted():
    (below,) = rows_of(rectangle(), [(), (), (120.0,), ()], (DART,))
    assert below.length == pytest.approx(200.0, abs=1e-6)
    (side,) = rows_of(rectangle(), [(), (10.0,), (), ()], (DART,))
    assert side.length == pytest.approx(300.0, abs=1e-6)
    short = replace(DART, point=Point(100.0, 296.0))
    (over,) = rows_of(rectangle(short), [(), (), (10.0,), ()], (short,))
    assert over.length == pytest.approx(200.0, abs=1e-6)


def test_rows_all_round_and_rows_asked_for_end_on_the_legs_too():
    rows = rows_of(rectangle(), [(10.0,)] * 4, (DART,))
    assert len(rows) == 1
    (row,) = rows
    assert sorted((round(row.start.x, 6), round(row.end.x, 6))) == [91.0, 109.0]
    assert row.length == pytest.approx(2.0 * (180.0 + 280.0) - 18.0, abs=1e-6)
    piece = Piece("front", rectangle(), darts=(DART,))
    asked = asked_rows(piece, [Topstitch("front", "front.waist", (10.0, 20.0))])
    assert [round(one.length, 6) for one in asked] == [91.0, 91.0, 92.0, 92.0]


def test_a_row_of_a_seam_drawn_across_a_dart_loses_what_lies_between_its_legs():
    across = Chain.straight(Point(150.0, 290.0), Point(20.0, 290.0))
    assert [one.length for one in off_darts(across, (DART,))] == pytest.approx([41.0, 71.0])
    beside = Chain.straight(Point(150.0, 290.0), Point(120.0, 290.0))
    assert off_darts(beside, (DART,)) == (beside,)
    assert off_darts(across, ()) == (across,)


@pytest.mark.parametrize("distance", [0.0, 5.0, -12.0])
def test_a_row_along_a_mark_that_crosses_a_dart_ends_on_its_legs(distance):
    """By hand: a level mark 30 below the top; the dart is 20 - d / 5 wide d below it."""
    mark = Mark("facing", Chain.straight(Point(200.0, 270.0), Point(0.0, 270.0)))
    piece = Piece("front", rectangle(), (mark,), darts=(DART,))
    one, two = asked_rows(piece, [Topstitch("front", "facing", (distance,))])
    below = 30.0 + distance
    assert {round(at.y, 6) for at in (one.start, one.end, two.start, two.end)} == {300.0 - below}
    half = 10.0 - below / 10.0
    ends = [200.0, 100.0 + half, 100.0 - half, 0.0]
    assert [one.start.x, one.end.x, two.start.x, two.end.x] == pytest.approx(ends, abs=1e-6)
    assert one.length + two.length == pytest.approx(180.0 + below / 5.0, abs=1e-6)


def test_a_row_along_a_mark_that_ends_inside_a_dart_ends_on_the_leg():
    """A slanting mark from the side into the mouth; by shapely, what lies outside the dart."""
    mark = Mark("pleat", Chain.straight(Point(200.0, 250.0), Point(99.0, 290.0)))
    piece = Piece("front", rectangle(), (mark,), darts=(DART,))
    (row,) = asked_rows(piece, [Topstitch("front", "pleat", (0.0,))])
    dart = shapely.Polygon([(at.x, at.y) for at in (DART.first, DART.last, DART.point)])
    wanted = line(mark.chain).difference(dart)
    assert line(row).hausdorff_distance(wanted) < 1e-6
    # Below the point, and beside the dart, it is left whole.
    for level in (190.0, 250.0):
        end = Point(111.0, level) if level > 200.0 else Point(0.0, level)
        clear = Mark("pleat", Chain.straight(Point(200.0, level), end))
        beside = Piece("front", rectangle(), (clear,), darts=(DART,))
        (row,) = asked_rows(beside, [Topstitch("front", "pleat", (0.0,))])
        assert row.length == pytest.approx(clear.chain.length, abs=1e-6)


def test_a_row_beside_another_edge_that_crosses_a_dart_is_parted_too():
    """A hundred inside the side lies the middle of the dart: its row ends at the point."""
    (row,) = rows_of(rectangle(), [(), (100.0,), (), ()], (DART,))
    assert sorted((row.start.y, row.end.y)) == pytest.approx([0.0, 200.0], abs=1e-6)
    (aside,) = rows_of(rectangle(), [(), (80.0,), (), ()], (DART,))
    assert aside.length == pytest.approx(300.0, abs=1e-6)


def test_rows_along_a_mark_of_a_whole_pattern_lie_outside_its_darts():
    """Rows along a line across front and dart, in the pattern as it is drawn and sewn."""
    design = plain_design(ORCHARD_BODY)
    pattern = evaluate(design)
    front = pattern.piece("front").piece
    (dart,) = front.darts
    end = OnEdge("front.rise", "front.waist", mm=40.0), OnEdge("front.side", "front.waist", mm=40.0)
    drawn = StyleLine("across", "front", "mark", AnchoredPath(*end))
    pieces = tuple(
        replace(one, marks=("across",)) if one.name == "front" else one for one in design.pieces
    )
    rows = (Topstitch("front", "across", (0.0, 6.0)),)
    made = replace(design, lines=(*design.lines, drawn), pieces=pieces, topstitching=rows)
    stitched = evaluate(made).piece("front").rows
    legs = shapely.Polygon([(at.x, at.y) for at in (dart.first, dart.last, dart.point)])
    across = [row for row in stitched if line(row).distance(legs) < 1e-3]
    assert len(across) == 4
    assert all(line(row).intersection(legs).length < 1e-3 for row in across)


def test_two_distances_are_two_rows():
    rows = rows_of(SQUARE.outline, [(2.0, 8.0), (), (), ()])
    assert [row.start.y for row in rows] == [2.0, 8.0]


@pytest.mark.parametrize("edge", ["front.rise", "front.inseam", "front.side", "front.waist"])
@pytest.mark.parametrize("distance", [2.0, 10.0])
def test_a_row_on_a_curved_edge_is_the_true_parallel(edge, distance):
    """Against shapely at dense sampling, within 0.01 mm."""
    piece = Piece("front", front_panel().outline)
    inside = [(distance,) if one.name == edge else () for one in piece.outline.edges]
    (row,) = rows_of(piece.outline, inside)
    source = line(piece.outline.edge(edge).chain)
    ground = shapely.Polygon(piece.outline.polyline(0.001)).buffer(0.02)
    middle = row.between(2.0 * distance, row.length - 2.0 * distance)
    for x, y in middle.polyline(0.01):
        point = shapely.Point(x, y)
        assert ground.contains(point)
        assert source.distance(point) == pytest.approx(distance, abs=0.011)


def test_rows_asked_for_along_a_mark_and_over_a_stretch():
    mark = Mark("fold", Chain.straight(Point(10.0, 40.0), Point(90.0, 40.0)))
    piece = Piece("piece", SQUARE.outline, (mark,))
    asked = Topstitch("piece", "fold", (0.0, 6.0, -6.0), start=10.0, end=50.0)
    rows = asked_rows(piece, (asked,))
    assert [(row.start, row.end) for row in rows] == [
        (Point(20.0, y), Point(60.0, y)) for y in (40.0, 46.0, 34.0)
    ]


def test_rows_beside_a_mark_run_out_where_the_mark_does_and_are_matched_across_the_seam():
    design = demo_design()
    plain = evaluate(design)
    asked = Topstitch("front-leg", "knee-panel.top", (0.0, 30.0, -30.0))
    pattern = evaluate(replace(design, topstitching=(*design.topstitching, asked)))
    front, back = pattern.piece("front-leg"), pattern.piece("back-leg")
    side = front.piece.outline.edge("front.side").chain
    rows = asked_rows(front.piece, (asked,))
    ends = [min(side.nearest(end)[1] for end in (row.start, row.end)) for row in rows]
    assert ends == pytest.approx([0.0, 0.0, 0.0], abs=1e-6)
    # Both rows beside the mark are notched, on the front and, as far along, on the back.
    for sewn, edge in ((front, "front.side"), (back, "back.side")):
        before = plain.piece(sewn.piece.name).notches
        added = [n for n in sewn.notches if all(n.at.distance_to(o.at) > 1.0 for o in before)]
        assert len(added) == 2
        chain = sewn.piece.outline.edge(edge).chain
        assert all(n.join == "side seam" and chain.nearest(n.at)[1] < 1e-6 for n in added)
    assert not pattern.findings


def test_rows_that_end_inside_a_piece_mark_no_seam():
    design = demo_design()
    asked = Topstitch("back-leg", "back-pocket.inner", (6.0, -6.0))
    pattern = evaluate(replace(design, topstitching=(*design.topstitching, asked)))
    for sewn in evaluate(design).pieces:
        assert len(pattern.piece(sewn.piece.name).notches) == len(sewn.notches)


def with_facing():
    return with_parts(plain_design(ORCHARD_BODY), HandPocket(facing=40.0))


@pytest.mark.parametrize(
    ("make", "patch", "along", "rows", "on", "count"),
    [
        (demo_design, "back-pocket", "back-pocket.outer", (40.0,), "back-leg", 1),
        (demo_design, "knee-panel", "front.side", (50.0, 60.0), "front-leg", 4),
        # One row beside another, as twin needles sew: one mark for both.
        (demo_design, "knee-panel", "front.side", (50.0, 54.0), "front-leg", 2),
        # A facing lies to the right of its line, and is cut the other way round.
        (with_facing, "hand-pocket-facing", "front.waist", (60.0,), "hand-pocket-bag", 1),
    ],
    ids=["patch pocket", "knee panel", "twin rows", "facing"],
)
def test_a_row_that_ends_at_the_edge_of_a_patch_is_marked_on_what_lies_below(
    make, patch, along, rows, on, count
):
    design = make()
    asked = Topstitch(patch, along, rows)
    pattern = evaluate(replace(design, topstitching=(*design.topstitching, asked)))
    laid, below = pattern.piece(patch), pattern.piece(on)
    before = evaluate(design).piece(on).drills
    added = [drill for drill in below.drills if drill not in before]
    assert len(added) == count
    # Panel and patch lie in the same coordinates: the mark is 3 mm (common practice, no source)
    # from where the row ends, inside the patch.
    shape = shapely.Polygon(laid.piece.outline.polyline())
    ends = [end for row in asked_rows(laid.piece, (asked,)) for end in (row.start, row.end)]
    for drill in added:
        assert shape.contains(shapely.Point(drill.x, drill.y))
        assert shape.exterior.distance(shapely.Point(drill.x, drill.y)) > 2.9
        assert min(end.distance_to(drill) for end in ends) == pytest.approx(3.0, abs=0.01)
    assert not [f for f in pattern.findings if f.gravity != "note"]
    # No notch is cut for it.
    for sewn in evaluate(design).pieces:
        assert len(pattern.piece(sewn.piece.name).notches) == len(sewn.notches)


def test_a_row_along_nothing_is_refused_by_name():
    with pytest.raises(GeometryRefused, match="no edge or mark gone"):
        asked_rows(SQUARE, (Topstitch("piece", "gone", (2.0,)),))
    with pytest.raises(GeometryRefused, match="no length"):
        asked_rows(SQUARE, (Topstitch("piece", "e0", (2.0,), start=150.0),))


def test_every_row_of_the_demonstration_lies_on_its_piece():
    pattern = evaluate(demo_design())
    count = 0
    for sewn in pattern.pieces:
        ground = shapely.Polygon(sewn.piece.outline.polyline(0.01)).buffer(0.05)
        for row in sewn.rows:
            assert ground.contains(line(row)), sewn.piece.name
            count += 1
    assert count >= 7


@pytest.mark.parametrize(("along", "row"), [("e0", 500.0), ("e0", -5.0), ("fold", -60.0)])
def test_a_row_that_a_piece_has_no_room_for_is_refused_by_its_distance(along, row):
    mark = Mark("fold", Chain.straight(Point(10.0, 40.0), Point(90.0, 40.0)))
    piece = Piece("piece", SQUARE.outline, (mark,))
    with pytest.raises(
        GeometryRefused, match=f"no room for a row {numbers.length(row)} from {along} on piece"
    ):
        asked_rows(piece, (Topstitch("piece", along, (row,)),))
    kept = asked_rows(piece, (Topstitch("piece", along, (6.0,)),))
    assert len(kept) == 1


@pytest.mark.parametrize("row", [-5.0, 5000.0])
def test_rows_of_a_seam_beside_its_pieces_are_told_and_not_drawn(row):
    design = demo_design()
    joins = tuple(
        replace(join, rows=(6.0, row)) if join.name == "side seam" else join
        for join in design.joins
    )
    pattern = evaluate(replace(design, joins=joins))
    told = [one for one in pattern.findings if one.rule == "topstitch"]
    assert [one.where for one in told] == ["front-leg"]
    assert f"a row {numbers.length(row)} from front.side" in told[0].message
    for name in ("front-leg", "bearer"):
        sewn = pattern.piece(name)
        shape = shapely.Polygon(sewn.piece.outline.polyline()).buffer(1.0)
        assert all(shape.contains(shapely.LineString(one.polyline())) for one in sewn.rows)
    # The row that has room is stitched as before.
    good = evaluate(
        replace(
            design,
            joins=tuple(
                replace(join, rows=(6.0,)) if join.name == "side seam" else join
                for join in design.joins
            ),
        )
    )
    assert len(pattern.piece("front-leg").rows) == len(good.piece("front-leg").rows)
