"""Rows of topstitching on their piece and off it, against shapely at places lying close."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, event, given
from hypothesis import strategies as st

from studio.block.panel import Dart
from studio.curves import Chain, Cubic, Edge, Outline, Point
from studio.cut.piece import Mark, Piece
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.sew import asked_rows
from studio.sew.edge_rows import rows_with_room
from studio.sew.parallel import moved
from studio.sew.rows_on import parts_on
from tests.curves.strategies import POINTS

PLACES = 1000
"""On each curve of a row."""

BETWEEN = st.floats(-1.0, 1.0)


def named(points):
    return Outline.of(
        Edge.whole(f"e{k}", Chain.straight(points[k], points[(k + 1) % len(points)]))
        for k in range(len(points))
    )


def bowed(draw, start, end, most):
    """A curve that bows to one side or both, and never doubles back upon itself: that is no row."""
    aside = (end - start).left()
    handles = [start.toward(end, share) + aside * (most * draw(BETWEEN)) for share in (0.3, 0.7)]
    return Cubic(start, *handles, end)


@st.composite
def curves(draw):
    """Curves anywhere, up to as long as the piece is wide."""
    start, end = draw(POINTS), draw(POINTS)
    assume(start.distance_to(end) > 20.0)
    return bowed(draw, start, end, 0.8)


@st.composite
def outlines(draw):
    """Corners round a middle, joined by curves that bow in or out: necks, hollows and tips."""
    count = draw(st.integers(3, 7))
    corners = []
    for k in range(count):
        turn = (k + 0.35 * draw(BETWEEN)) * math.tau / count
        far = draw(st.floats(40.0, 300.0))
        corners.append(Point(far * math.cos(turn), far * math.sin(turn)))
    edges = []
    for k, start in enumerate(corners):
        end = corners[(k + 1) % count]
        curve = Cubic.straight(start, end) if draw(st.booleans()) else bowed(draw, start, end, 0.4)
        edges.append(Edge.whole(f"e{k}", Chain((curve,))))
    ground = shapely.Polygon(Chain.of([edge.chain.cubics[0] for edge in edges]).polyline(0.002))
    assume(ground.is_valid and ground.exterior.is_ccw and ground.area > 2000.0)
    return Outline.of(edges)


def places(row):
    """Places all along a row, close to one another: each curve by its closed form."""
    t = np.linspace(0.0, 1.0, PLACES)
    weights = np.stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3], axis=1)
    corners = [[(p.x, p.y) for p in (c.p0, c.p1, c.p2, c.p3)] for c in row.cubics]
    return np.concatenate([weights @ np.array(four) for four in corners])


def outside(outline, row):
    """How far off a piece each place of a row lies, negative inside, mm; by shapely."""
    ground = shapely.Polygon(outline.polyline(0.002))
    at = shapely.points(places(row))
    far = shapely.distance(at, ground.exterior)
    return np.where(shapely.contains(ground, at), -far, far)


def judged(outline, row):
    """What is kept of a row, held against shapely at every place."""
    kept, off = parts_on(outline, row), outside(outline, row)
    for part in kept:
        assert outside(outline, part).max() < 1.5
        assert part.length >= min(1.0, row.length)
        for end in (part.start, part.end):
            if end.distance_to(row.start) > 1e-6 and end.distance_to(row.end) > 1e-6:
                edge = shapely.Polygon(outline.polyline(0.002)).exterior
                assert edge.distance(shapely.Point(end.x, end.y)) < 0.05
    lines = shapely.union_all([shapely.LineString(part.polyline(0.002)) for part in kept])
    for at in shapely.points(places(row)[off < -1.0]):
        assert shapely.distance(lines, at) < 0.01
    if off.max() < 0.5:
        assert kept == (row,)
        assert kept[0] is row
    return kept, off


@given(outlines(), st.integers(0, 6), st.floats(0.5, 250.0))
def test_a_row_beside_an_edge_is_kept_where_it_lies_on_its_piece(outline, which, distance):
    row = moved(outline.edges[which % len(outline.edges)].chain, distance)
    kept, off = judged(outline, row)
    event("whole" if kept == (row,) else f"{min(len(kept), 2)} parts")
    assert bool(kept) or off.min() > -1.0


@given(outlines(), curves())
def test_a_curve_drawn_anyhow_is_kept_where_it_lies_on_the_piece(outline, curve):
    row = Chain((curve,))
    kept, off = judged(outline, row)
    event("whole" if kept == (row,) else f"{min(len(kept), 2)} parts")
    assert bool(kept) or off.min() > -1.0


# Two blocks joined by a neck: 40 high at both ends, 12 high from 40 to 160 along.
NECK = named(
    [
        Point(0.0, 0.0),
        Point(200.0, 0.0),
        Point(200.0, 40.0),
        Point(160.0, 40.0),
        Point(160.0, 12.0),
        Point(40.0, 12.0),
        Point(40.0, 40.0),
        Point(0.0, 40.0),
    ]
)


def test_a_row_past_a_neck_is_stitched_on_both_sides_of_it():
    piece = Piece("strap", NECK)
    rows = asked_rows(piece, (Topstitch("strap", "e0", (20.0,)),))
    assert [row.length for row in rows] == pytest.approx([40.0, 40.0], abs=0.05)
    # In the neck there is room for a nearer one, all along.
    (row,) = asked_rows(piece, (Topstitch("strap", "e0", (8.0,)),))
    assert row.length == pytest.approx(200.0)


@pytest.mark.parametrize("at", [20.0, 30.0, 100.0, 155.0, 190.0])
def test_a_row_that_lies_on_a_tongue_only_has_room_there_wherever_the_tongue_stands(at):
    """A bar 200 long and 10 high with a tongue 6 wide: a row 20 above its lower edge crosses it."""
    bar = named(
        [
            Point(0.0, 0.0),
            Point(200.0, 0.0),
            Point(200.0, 10.0),
            Point(at + 3.0, 10.0),
            Point(at + 3.0, 50.0),
            Point(at - 3.0, 50.0),
            Point(at - 3.0, 10.0),
            Point(0.0, 10.0),
        ]
    )
    (row,) = asked_rows(Piece("bar", bar), (Topstitch("bar", "e0", (20.0,)),))
    assert row.start.distance_to(Point(at - 3.0, 20.0)) < 0.05
    assert row.end.distance_to(Point(at + 3.0, 20.0)) < 0.05
    with pytest.raises(GeometryRefused, match=r"no room for a row 60.0 mm from e0 on bar"):
        asked_rows(Piece("bar", bar), (Topstitch("bar", "e0", (60.0,)),))


def test_a_row_nearer_than_a_tenth_of_the_piece_is_looked_at_too():
    """Along a sickle 12 wide in a square of 200: a row 18 inside lies in its hollow."""
    bow = 0.5523  # A quarter of a circle by a cubic, within 0.03 % of its radius.
    outer = Chain(
        (Cubic(Point(200, 0), Point(200, 200 * bow), Point(200 * bow, 200), Point(0, 200)),)
    )
    inner = Chain(
        (Cubic(Point(0, 188), Point(188 * bow, 188), Point(188, 188 * bow), Point(188, 0)),)
    )
    edges = ("outer", "left", "inner", "low")
    chains = (
        outer,
        Chain.straight(outer.end, inner.start),
        inner,
        Chain.straight(inner.end, outer.start),
    )
    sickle = Outline.of(map(Edge.whole, edges, chains))
    rows, told = rows_with_room("sickle", edges, sickle, ((18.0, 6.0), (), (), ()))
    assert told.startswith("There is no room for a row 18.0 mm from outer on sickle")
    assert told.count("no room") == 1
    (row,) = rows
    assert row.length == pytest.approx(194.0 * math.pi / 2.0, rel=1e-3)


def test_a_row_on_a_mark_or_an_edge_itself_lies_on_the_piece():
    fold = Mark("fold", Chain.straight(Point(10.0, 5.0), Point(190.0, 5.0)))
    piece = Piece("strap", NECK, (fold,))
    for along, length in (("fold", 180.0), ("e0", 200.0)):
        (row,) = asked_rows(piece, (Topstitch("strap", along, (0.0,)),))
        assert row.length == pytest.approx(length)


def test_rows_cut_where_they_leave_the_piece_still_end_on_the_legs_of_a_dart():
    dart = Dart("dart", "e0", Point(96.0, 0.0), Point(104.0, 0.0), Point(100.0, 11.0))
    piece = Piece("strap", NECK, darts=(dart,))
    rows = asked_rows(piece, (Topstitch("strap", "e0", (5.0,)),))
    gap = 8.0 * (1.0 - 5.0 / 11.0)
    assert sum(row.length for row in rows) == pytest.approx(200.0 - gap, abs=0.01)
