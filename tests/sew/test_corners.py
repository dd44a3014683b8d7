"""Corners of the cut line: squared to what is sewn first, mitred else; closed forms."""

import math

import pytest
import shapely
from msgspec.structs import replace

from studio.curves import Affine, Chain, Edge, Outline, Point, Vector
from studio.demo import demo_design
from studio.design.joins import Corner
from studio.pattern import evaluate
from studio.sew import cut_line
from studio.sew.cut_line import cut_outline_points


def triangle(angle):
    """Edge a along the x axis, then b turning by 180 less `angle` degrees, then back."""
    tip = Point(200.0, 0.0)
    lean = math.radians(angle)
    far = tip + Vector(-150.0 * math.cos(lean), 150.0 * math.sin(lean))
    points = [Point(0.0, 0.0), tip, far]
    return Outline.of(
        Edge.whole(name, Chain.straight(points[k], points[(k + 1) % 3]))
        for k, name in enumerate("abc")
    )


def cut(angle, widths, how):
    line, trouble = cut_line(triangle(angle), widths, (), (how, "mitred", "mitred"))
    assert trouble == ()
    return shapely.Polygon(cut_outline_points(line))


@pytest.mark.parametrize("angle", [40.0, 60.0, 90.0, 120.0, 140.0])
@pytest.mark.parametrize("widths", [(12.0, 12.0, 12.0), (24.0, 12.0, 12.0), (12.0, 24.0, 12.0)])
def test_an_allowance_squared_to_its_edge_ends_where_the_edge_meets_the_other_cut_line(
    angle, widths
):
    """Edge a prolonged reaches b's cut line after b's allowance over the sine of the angle; there
    a's allowance ends at a right angle.
    """
    polygon = cut(angle, widths, "squared-to-before")
    run = widths[1] / math.sin(math.radians(angle))
    foot, outer = (200.0 + run, 0.0), (200.0 + run, -widths[0])
    assert polygon.is_valid
    for place in (foot, outer):
        assert polygon.exterior.distance(shapely.Point(place)) < 1e-6
    end = shapely.LineString([foot, outer])
    assert end.difference(polygon.exterior.buffer(1e-6)).length == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("angle", [40.0, 90.0, 130.0])
def test_squared_to_the_edge_after_is_the_mirror_image_of_squared_to_the_edge_before(angle):
    one = cut(angle, (24.0, 12.0, 12.0), "squared-to-before")
    line, _ = cut_line(
        mirrored(triangle(angle)), (12.0, 24.0, 12.0), (), ("squared-to-after", "mitred", "mitred")
    )
    two = shapely.Polygon([(-x, y) for x, y in cut_outline_points(line)])
    assert one.symmetric_difference(two).area < 1e-6


def mirrored(outline):
    """The outline mirrored in the y axis: b before a."""
    turned = [edge.transformed(Affine.mirror_x()).reversed() for edge in outline.edges]
    return Outline.of((turned[1], turned[0], turned[2]))


def test_squared_and_mitred_are_one_at_a_right_angle():
    squared = cut(90.0, (24.0, 12.0, 12.0), "squared-to-before")
    mitre = cut(90.0, (24.0, 12.0, 12.0), "mitred")
    assert squared.symmetric_difference(mitre).area < 1e-6


def test_a_curved_neighbour_is_cut_where_the_seam_line_meets_its_cut_line():
    pattern = evaluate(demo_design())
    leg = pattern.piece("front-leg")
    outline = leg.piece.outline
    names = [edge.name for edge in outline]
    k = names.index("front.inseam")
    before = outline.edges[k - 1]
    assert before.name == "front.rise"
    ring = shapely.LineString(
        [*cut_outline_points(leg.cut_line, 0.001), cut_outline_points(leg.cut_line, 0.001)[0]]
    )
    fork = outline.edges[k].chain.start
    ahead = fork + outline.edges[k].chain.start_tangent * -60.0
    ray = shapely.LineString([(fork.x, fork.y), (ahead.x, ahead.y)])
    foot = ray.intersection(ring)
    rise = shapely.LineString(before.chain.polyline(0.001))
    # The foot lies on the cut line of the rise, which curves: one allowance from the rise itself
    # or on its prolonged end.
    assert foot.geom_type == "Point"
    assert 23.9 < rise.distance(foot) < 28.0


def test_the_makers_word_comes_before_what_is_usual():
    design = demo_design()
    usual = evaluate(design).piece("yoke").cut_line
    corner = Corner("yoke", "back.side", "yoke", "mitred")
    asked = evaluate(replace(design, corners=(corner,))).piece("yoke").cut_line
    assert shapely.Polygon(cut_outline_points(asked)).area != pytest.approx(
        shapely.Polygon(cut_outline_points(usual)).area, abs=1.0
    )


def test_corners_of_seams_that_are_not_felled_stay_mitred():
    design = demo_design()
    plain = tuple(
        replace(join, construction="plain") if join.construction == "felled" else join
        for join in design.joins
    )
    pattern = evaluate(replace(design, joins=plain))
    yoke = pattern.piece("yoke")
    ground = shapely.Polygon(yoke.piece.outline.polyline(0.001))
    wanted = ground.buffer(12.0, join_style="mitre")
    made = shapely.Polygon(cut_outline_points(yoke.cut_line, 0.001))
    assert made.symmetric_difference(wanted).area < 5.0


def test_a_felled_centre_seam_bears_a_single_line_inside_its_double_one():
    """Common practice, no source: both rises marked single and double on one pattern."""
    design = demo_design()
    pattern = evaluate(design)
    for name, edge in (("front-leg", "front.rise"), ("back-leg", "back.rise")):
        sewn = pattern.piece(name)
        index = [one.name for one in sewn.piece.outline].index(edge)
        assert sewn.allowances[index] == 24.0
        (line,) = sewn.second
        ground = shapely.Polygon(cut_outline_points(sewn.cut_line, 0.001))
        drawn = shapely.LineString(line.polyline(0.001))
        source = shapely.LineString(sewn.piece.outline.edges[index].chain.polyline(0.001))
        assert ground.buffer(0.02).contains(drawn)
        middle = line.between(40.0, line.length - 40.0)
        for x, y in middle.polyline(0.01):
            assert source.distance(shapely.Point(x, y)) == pytest.approx(12.0, abs=0.011)
        for end in (line.start, line.end):
            assert ground.exterior.distance(shapely.Point(end.x, end.y)) < 0.02
    plain = tuple(replace(join, construction="plain") for join in design.joins)
    assert evaluate(replace(design, joins=plain)).piece("front-leg").second == ()
