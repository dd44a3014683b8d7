"""The cut line lies its allowance outside the sewing line, corners as asked."""

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, Vector
from studio.sew import cut_line, cut_outline_points
from tests.shapes import back_panel, front_panel

SQUARE = (Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300))


def polygon_outline(*points):
    ring = zip(points, (*points[1:], points[0]), strict=True)
    return Outline.of(
        Edge.whole(f"edge-{k}", Chain.straight(one, two)) for k, (one, two) in enumerate(ring)
    )


def area_of(line):
    return sum(edge.chain.swept_area() for edge in line)


def assert_closed(line):
    for one, two in zip(line, (*line[1:], line[0]), strict=True):
        assert one.chain.end.distance_to(two.chain.start) < 1e-6


def test_a_square_with_one_allowance_grows_on_every_side():
    line, trouble = cut_line(polygon_outline(*SQUARE), (12.0,) * 4)
    assert trouble == ()
    assert_closed(line)
    assert area_of(line) == pytest.approx(224.0 * 324.0, abs=1e-6)


def test_different_allowances_are_mitred_where_they_cross():
    line, _ = cut_line(polygon_outline(*SQUARE), (40.0, 12.0, 24.0, 12.0))
    assert_closed(line)
    assert area_of(line) == pytest.approx(224.0 * (300.0 + 64.0), abs=1e-6)


def test_an_edge_without_allowance_is_its_own_cut_line():
    line, _ = cut_line(polygon_outline(*SQUARE), (0.0, 12.0, 12.0, 12.0))
    assert_closed(line)
    assert area_of(line) == pytest.approx(224.0 * 312.0, abs=1e-6)


def test_a_hollow_corner_is_trimmed_at_the_meeting():
    ell = polygon_outline(
        Point(0, 0), Point(200, 0), Point(200, 100), Point(100, 100), Point(100, 300), Point(0, 300)
    )
    line, trouble = cut_line(ell, (10.0,) * 6)
    assert trouble == ()
    assert_closed(line)
    assert area_of(line) == pytest.approx(220 * 120 + 120 * 200, abs=1e-6)


def test_a_very_sharp_corner_is_cut_off_straight():
    spike = polygon_outline(Point(0, 0), Point(400, -8), Point(400, 8))
    line, _ = cut_line(spike, (10.0,) * 3)
    assert_closed(line)
    # The full mitre would reach 500 mm out to the left; the bevel stays within a few allowances.
    assert min(x for x, _ in cut_outline_points(line)) > -45.0


@pytest.mark.parametrize("panel", [front_panel(), back_panel()], ids=["front", "back"])
def test_every_stretch_lies_its_allowance_from_its_edge(panel):
    # Source: shapely (GEOS) as referee, at dense sampling; DESIGN: within 0.01 of the parallel.
    allowances = tuple(12.0 + 4.0 * k for k in range(len(panel.outline.edges)))
    line, trouble = cut_line(panel.outline, allowances)
    assert trouble == ()
    assert_closed(line)
    by_name = {
        edge.name: (shapely.LineString(edge.chain.polyline(1e-4)), width)
        for edge, width in zip(panel.outline.edges, allowances, strict=True)
    }
    for stretch in line:
        if stretch.name == "corner":
            continue
        sewing, width = by_name[stretch.name]
        for x, y in stretch.chain.polyline(0.05):
            assert sewing.distance(shapely.Point(x, y)) == pytest.approx(width, abs=0.011)


@given(st.lists(st.floats(0.0, 30.0), min_size=5, max_size=5))
def test_any_usual_allowances_give_a_simple_closed_cut_line(widths):
    panel = front_panel()
    line, _ = cut_line(panel.outline, widths)
    assert_closed(line)
    points = [(round(x, 6), round(y, 6)) for x, y in cut_outline_points(line)]
    shape = shapely.Polygon(points)
    assert shape.is_valid
    assert shape.buffer(0.02).contains(shapely.Polygon(panel.outline.polyline()))


def tapering_leg(side):
    """A leg 200 wide at the hem whose right side is given from (200, 0) up to y = 300."""
    top = side.end
    return Outline.of(
        (
            Edge.whole("hem", Chain.straight(Point(0, 0), Point(200, 0))),
            Edge.whole("side", side),
            Edge.whole("top", Chain.straight(top, Point(0, 300))),
            Edge.whole("inseam", Chain.straight(Point(0, 300), Point(0, 0))),
        )
    )


CURVED = Chain((Cubic(Point(200, 0), Point(215, 60), Point(225, 180), Point(260, 300)),))


@pytest.mark.parametrize(
    "side",
    [Chain.straight(Point(200, 0), Point(240, 300)), CURVED],
    ids=["straight", "curved"],
)
def test_a_folded_hem_mirrored_in_its_fold_lies_on_the_side_seams_cut_line(side):
    line, trouble = cut_line(tapering_leg(side), (40.0, 12.0, 12.0, 12.0), folded=(0,))
    assert trouble == ()
    assert_closed(line)
    fold = Affine.mirror(Point(0, 0), Point(1, 0))
    cut_side = next(edge.chain for edge in line if edge.name == "side")
    corner = next(
        edge.chain for edge in line if edge.name == "corner" and edge.chain.end == cut_side.start
    )
    for k in range(21):
        turned = fold(corner.at(corner.length * k / 20))
        assert cut_side.nearest(turned)[1] < 1e-6
    lowest = min(y for _, y in cut_outline_points(line))
    assert lowest == pytest.approx(-40.0, abs=1e-9)


@pytest.mark.parametrize("rise", [3.0, 4.0, 4.5])
def test_a_hem_is_folded_beside_a_stretch_that_its_corners_have_eaten(rise):
    """A flare 8 above the hem: its two hollow corners leave nothing of the stretch between them.
    Source: shapely as referee; what is folded lies on the cut line mirrored, as on any hem.
    """
    side = Chain.straight(
        Point(200, 0), Point(198, 8), Point(199, 8 + rise), Point(203, 14 + rise), Point(203, 300)
    )
    outline = tapering_leg(side)
    line, trouble = cut_line(outline, (20.0, 10.0, 10.0, 10.0), folded=(0,))
    assert trouble == ()
    assert_closed(line)
    ring = shapely.LinearRing(cut_outline_points(line))
    assert ring.is_valid
    assert shapely.Polygon(ring).contains(shapely.Polygon(outline.polyline()))
    folded = [(x, y) for x, y in cut_outline_points(line) if x > 150.0 and -19.9 < y < -0.1]
    assert len(folded) >= 3
    assert max(ring.distance(shapely.Point(x, -y)) for x, y in folded) < 1e-6


def test_a_hollow_rounder_than_the_allowance_loses_its_swallowtail():
    radius = 8.0
    handle = 4.0 / 3.0 * (math.sqrt(2.0) - 1.0) * radius
    bay = Cubic(
        Point(100, 100 - radius),
        Point(100, 100 - radius + handle),
        Point(100 + radius - handle, 100),
        Point(100 + radius, 100),
    )
    outline = Outline.of(
        (
            Edge.whole("base", Chain.straight(Point(0, 0), Point(300, 0))),
            Edge.whole("right", Chain.straight(Point(300, 0), Point(300, 100))),
            Edge.whole("shelf", Chain.straight(Point(300, 100), Point(100 + radius, 100))),
            Edge.whole("bay", Chain((bay.reversed(),))),
            Edge.whole("drop", Chain.straight(Point(100, 100 - radius), Point(100, 60))),
            Edge.whole("rest", Chain.straight(Point(100, 60), Point(0, 60))),
            Edge.whole("left", Chain.straight(Point(0, 60), Point(0, 0))),
        )
    )
    line, trouble = cut_line(outline, (12.0,) * 7)
    shape = shapely.Polygon(cut_outline_points(line))
    assert shape.is_valid or any("round" in sentence for sentence in trouble)


def test_an_edge_shorter_than_the_allowances_at_its_ends_is_told():
    notch = polygon_outline(
        Point(0, 0),
        Point(200, 0),
        Point(200, 100),
        Point(104, 100),
        Point(104, 96),
        Point(96, 96),
        Point(96, 100),
        Point(0, 100),
    )
    line, trouble = cut_line(notch, (12.0,) * 8)
    assert_closed(line)
    assert any("shorter" in sentence or "do not meet" in sentence for sentence in trouble)


def hollow_side(turn, between):
    """A panel 300 high whose right side bends inwards by `turn` degrees half way up, within
    one curve `between` mm high, as one edge.
    """
    slope = math.tan(math.radians(turn))
    low, high = Point(200.0, 150.0), Point(200.0 + between * slope / 2.0, 150.0 + between)
    top = Point(high.x + (300.0 - high.y) * slope, 300.0)
    reach = between / 3.0
    bend = Cubic(low, low + Vector(0.0, reach), high - (top - high).unit() * reach, high)
    side = Chain((Cubic.straight(Point(200.0, 0.0), low), bend, Cubic.straight(high, top)))
    return Outline.of(
        (
            Edge.whole("hem", Chain.straight(Point(0, 0), Point(200, 0))),
            Edge.whole("side", side),
            Edge.whole("waist", Chain.straight(top, Point(0, 300))),
            Edge.whole("rise", Chain.straight(Point(0, 300), Point(0, 0))),
        )
    )


@pytest.mark.parametrize("turn", [2.0, 8.0, 25.0])
@pytest.mark.parametrize("between", [0.03, 0.4, 6.0])
def test_a_slight_hollow_beside_a_very_short_curve_is_cut_at_the_meeting(turn, between):
    outline = hollow_side(turn, between)
    line, trouble = cut_line(outline, (12.0,) * 4)
    assert trouble == ()
    assert_closed(line)
    drawn = shapely.Polygon(cut_outline_points(line, 0.001))
    assert drawn.is_valid
    # shapely's buffer is the independent parallel; 0.01 mm is what a cut line promises.
    sewing = shapely.Polygon(outline.polyline(0.001))
    away = sewing.buffer(12.0, join_style="mitre", mitre_limit=10.0)
    side = shapely.box(150.0, 40.0, 400.0, 260.0)
    assert drawn.intersection(side).hausdorff_distance(away.intersection(side)) < 0.01


def test_a_hollow_that_no_crossing_clears_is_told_with_what_to_do():
    # A neck 12 wide whose two sides are asked for 60 of allowance: there is no room for it.
    neck = Chain(
        (
            Cubic.straight(Point(300, 100), Point(150, 100)),
            Cubic(Point(150, 100), Point(142, 100), Point(142, 112), Point(150, 112)),
            Cubic.straight(Point(150, 112), Point(170, 112)),
        )
    )
    outline = Outline.of(
        (
            Edge.whole("low", Chain.straight(Point(0, 0), Point(300, 0), Point(300, 100))),
            Edge.whole("neck", neck),
            Edge.whole(
                "rest", Chain.straight(Point(170, 112), Point(170, 300), Point(0, 300), Point(0, 0))
            ),
        )
    )
    _, trouble = cut_line(outline, (12.0, 60.0, 12.0))
    assert any("neck is wider than its hollow is round" in sentence for sentence in trouble)
