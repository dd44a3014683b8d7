"""Lines inside the cut line have a roof over an open dart where it has one."""

import pytest
import shapely
from msgspec.structs import replace

from studio.block.panel import Dart
from studio.check.shortages import short_finding
from studio.cloth.reduced import reduced_outline
from studio.curves import Chain, Cubic, Point
from studio.cut import Piece
from studio.demo import demo_design
from studio.design.alterations import MoveDart, SplitDart
from studio.design.body import Body
from studio.design.cloth import Shortage
from studio.design.lines import OnEdge
from studio.design.plain import plain_design
from studio.pattern import evaluate
from studio.sew import (
    CutEdge,
    Lined,
    allowance_rules,
    cut_line,
    cut_outline_points,
    grainline,
    second_lines,
    sew_piece,
)
from studio.sew.mouth import mouths_in
from studio.sew.roof import roofed
from studio.sew.short import short_line, straight_words
from tests.sew.darted import DART, assert_folds_onto_its_cut_line, bowed, mirrored, rectangle


def sewn_with(outline, *darts, width=24.0):
    """Its waist with an allowance of that width, the other edges with 12."""
    widths = tuple(width if edge.name == "front.waist" else 12.0 for edge in outline)
    line, _ = cut_line(outline, widths)
    line = roofed(line, outline, widths, (), darts)
    lined = Lined(widths, *line, grainline(outline, 90.0))
    return sew_piece(Piece("piece", outline, darts=darts), lined)


def second_of(sewn, width):
    narrower = [width if edge.name == "front.waist" else None for edge in sewn.piece.outline]
    outline, darts = sewn.piece.outline, sewn.piece.darts
    (line,), trouble = second_lines(outline, narrower, sewn.cut_line, sewn.allowances, darts)
    return line, trouble


def lying(outline_and_dart, *, other_way):
    return mirrored(*outline_and_dart) if other_way else outline_and_dart


@pytest.mark.parametrize("other_way", [False, True])
@pytest.mark.parametrize("lean", [-30.0, 0.0, 25.0])
@pytest.mark.parametrize("width", [3.0, 12.0, 23.0])
def test_a_second_line_over_a_folded_dart_lies_on_itself(lean, width, other_way):
    outline, dart = lying(bowed(lean), other_way=other_way)
    sewn = sewn_with(outline, dart)
    line, trouble = second_of(sewn, width)
    assert trouble == ()
    assert_folds_onto_its_cut_line(outline, dart, (CutEdge(dart.edge, line),))
    ground = shapely.Polygon(cut_outline_points(sewn.cut_line, 1e-3))
    assert ground.buffer(0.02).contains(shapely.LineString(line.polyline(1e-3)))
    for end in (line.start, line.end):
        assert ground.exterior.distance(shapely.Point(end.x, end.y)) < 0.01


def test_over_a_straight_edge_its_peak_lies_where_it_does_by_hand():
    line, _ = second_of(sewn_with(rectangle(), DART), 12.0)
    # As in tests/sew/test_roof.py, for a cut line of that width.
    assert line.box.top == pytest.approx(200.0 + 112.0 * 1.01 / 0.99, abs=1e-9)
    assert line.start.x == pytest.approx(212.0, abs=1e-9)
    assert line.end.x == pytest.approx(-12.0, abs=1e-9)


def test_where_the_cut_line_runs_straight_the_second_line_does_and_it_is_told_once():
    dart = Dart("dart", "front.waist", Point(23, 300), Point(3, 300), Point(13, 200))
    outline = rectangle(dart)
    sewn = sewn_with(outline, dart, width=12.0)
    assert len(sewn.trouble) == 1
    line, trouble = second_of(sewn, 6.0)
    assert trouble == ()
    assert line.box.top == pytest.approx(306.0, abs=1e-9)


def test_a_dart_over_which_the_cut_line_was_told_to_run_straight_has_no_roof_inside_either():
    # Two narrow darts near each other under a wide allowance: on this body the peak that one of
    # them would have lies on the straight line, by chance.
    design = demo_design()
    steps = (*design.alterations, SplitDart("front", "knee-high-a", 20.0, 0.4))
    body = Body(waist_girth=925.0, hip_girth=1080.0, inside_leg=719.0, body_rise=284.0)
    wide = replace(design, body=body, alterations=steps, standard_allowance=30.0)
    sewn = evaluate(wide).piece("front-leg")
    (told,) = sewn.trouble
    assert "knee-high-a-b" in told
    index = [edge.name for edge in sewn.piece.outline].index("front.side")
    roofed_over = {mouth.dart.name for mouth in mouths_in(sewn, index)}
    assert roofed_over == {"knee-high-a-a", "knee-low-a"}


@pytest.mark.parametrize(("beside", "how"), [(40.0, "mitred"), (60.0, "squared-to-before")])
def test_a_second_line_reaches_the_cut_line_across_wide_allowances(beside, how):
    outline = rectangle(top=Chain.straight(Point(200, 300), Point(0, 260)))
    widths = (12.0, beside, 80.0, beside)
    line, trouble = cut_line(outline, widths, (), ("mitred", how, how, "mitred"))
    assert trouble == ()
    (second,), told = second_lines(outline, (None, None, 40.0, None), line, widths, ())
    assert told == ()
    ring = shapely.Polygon(cut_outline_points(line)).exterior
    for end in (second.start, second.end):
        assert ring.distance(shapely.Point(end.x, end.y)) < 0.01


@pytest.mark.parametrize("gone", ["front.rise", "front.side"])
def test_a_second_line_that_does_not_reach_the_cut_line_is_told(gone):
    outline = rectangle()
    widths = (12.0,) * 4
    line, _ = cut_line(outline, widths)
    _, told = second_lines(outline, (None, None, 6.0, None), line, widths, ())
    assert told == ()
    # A cut line that runs past it on one side: there is nothing for it to meet.
    on_left = gone == "front.rise"
    open_there = tuple(
        edge
        for edge in line
        if edge.name in ("front.hem", "front.waist") or (edge.chain.box.centre.x < 100.0) != on_left
    )
    (second,), told = second_lines(outline, (None, None, 6.0, None), open_there, widths, ())
    (sentence,) = told
    end = "end" if gone == "front.rise" else "start"
    assert f"front.waist does not reach the cut line at its {end}: prolong it" in sentence
    assert second.length == pytest.approx(212.0, abs=1e-6)


def test_where_only_the_second_line_has_no_room_for_a_roof_it_is_told():
    dart = Dart("dart", "front.waist", Point(40, 300), Point(20, 300), Point(30, 200))
    sewn = sewn_with(rectangle(dart), dart)
    assert sewn.trouble == ()
    # Something ends the second line before its roof begins.
    wall = CutEdge("front.rise", Chain.straight(Point(11.0, 330.0), Point(11.0, 290.0)))
    line, trouble = second_of(replace(sewn, cut_line=(*sewn.cut_line, wall)), 12.0)
    assert line.box.top == pytest.approx(312.0, abs=1e-9)
    (sentence,) = trouble
    assert sentence.startswith("The narrower line runs straight over dart on front.waist")


def darted_rise():
    """A front whose dart is turned to the rise, at a seam that is double on one leg."""
    design = plain_design(demo_design().body)
    joins = tuple(
        replace(join, construction="felled") if join.name == "crotch seam" else join
        for join in design.joins
    )
    place = OnEdge("front.rise", "front.waist", mm=60.0)
    steps = (MoveDart("front", "front-dart", place),)
    return replace(design, joins=joins, alterations=steps)


def test_a_centre_seam_with_a_dart_has_both_lines_roofed():
    pattern = evaluate(darted_rise())
    assert "cut-line" not in {finding.rule for finding in pattern.findings}
    sewn = pattern.piece("front")
    (dart,) = sewn.piece.darts
    assert dart.edge == "front.rise"
    (line,) = sewn.second
    outline = sewn.piece.outline
    assert_folds_onto_its_cut_line(outline, dart, sewn.cut_line)
    assert_folds_onto_its_cut_line(outline, dart, (CutEdge(dart.edge, line),))


def test_a_short_copy_of_it_is_told_no_more_than_before_and_cut_along_its_roof():
    design = darted_rise()
    dart = evaluate(design).piece("front").piece.darts[0]
    short = Shortage("front", 1, dart.edge, 20.0, 120.0, 5.0)
    pattern = evaluate(replace(design, shortages=(short,)))
    (told,) = [one for one in pattern.findings if one.rule == "allowance-short"]
    assert "straight" not in told.message
    sewn = pattern.piece("front")
    line = CutEdge(dart.edge, sewn.second[-1])
    assert_folds_onto_its_cut_line(sewn.piece.outline, dart, (line,))


def test_a_piece_without_open_darts_says_nothing_of_mouths():
    outline = rectangle(top=Chain.straight(Point(200, 300), Point(0, 300)))
    sewn = sewn_with(outline)
    assert all(mouths_in(sewn, index) == () for index in range(4))
    line, trouble = second_of(sewn, 12.0)
    assert (line.box.top, trouble) == (312.0, ())


def short_of(dart, start, end, missing=10.0):
    return Shortage("piece", 0, dart.edge, start, end, missing)


@pytest.mark.parametrize("other_way", [False, True])
@pytest.mark.parametrize("lean", [-30.0, 0.0, 25.0])
@pytest.mark.parametrize("missing", [4.0, 14.0, 22.0])
def test_the_line_of_a_short_copy_over_a_folded_dart_lies_on_itself(lean, missing, other_way):
    outline, dart = lying(bowed(lean), other_way=other_way)
    sewn = sewn_with(outline, dart)
    length = outline.edge(dart.edge).length
    short = short_of(dart, 20.0, length - 20.0, missing)
    line = short_line(sewn, short)
    assert straight_words(sewn, short) == ()
    assert_folds_onto_its_cut_line(outline, dart, (CutEdge(dart.edge, line),))
    # From cut line to cut line, and what is laid on cloth is cut along it.
    ground = shapely.Polygon(cut_outline_points(sewn.cut_line, 1e-3))
    for end in (line.start, line.end):
        assert ground.exterior.distance(shapely.Point(end.x, end.y)) < 0.011
    assert_cut_along(sewn, short, line)


def assert_cut_along(sewn, short, line):
    """What a short copy covers is what its line leaves of the whole.

    Source: shapely (GEOS) splits the whole piece along the line.
    """
    whole = shapely.Polygon(cut_outline_points(sewn.cut_line, 1e-3))
    drawn = shapely.LineString(line.polyline(1e-3))
    out = [
        (end - at).unit() * 1.0
        for end, at in ((line.start, line.cubics[0].p3), (line.end, line.cubics[-1].p0))
    ]
    ends = [(line.start + out[0]), (line.end + out[1])]
    drawn = shapely.LineString([(ends[0].x, ends[0].y), *drawn.coords, (ends[1].x, ends[1].y)])
    parts = shapely.ops.split(whole, drawn).geoms
    left = max(parts, key=lambda part: part.area)
    laid = shapely.Polygon(reduced_outline(sewn, (short,)))
    assert left.area < whole.area - 1.0
    # Chords end a stretch square to themselves, up to a hundredth off square to the curve.
    assert laid.symmetric_difference(left).buffer(-0.25).is_empty


@pytest.mark.parametrize("other_way", [False, True])
@pytest.mark.parametrize("lean", [-30.0, 0.0, 25.0])
@pytest.mark.parametrize(
    ("before", "behind"),
    [(40.0, -12.0), (40.0, -0.2), (-12.0, 40.0), (-0.2, 40.0), (-8.0, -8.0), (40.0, -22.0)],
)
def test_a_stretch_that_ends_in_a_mouth_takes_in_all_of_it(before, behind, lean, other_way):
    outline, dart = lying(bowed(lean), other_way=other_way)
    sewn = sewn_with(outline, dart)
    index = [edge.name for edge in outline].index(dart.edge)
    (mouth,) = mouths_in(sewn, index)
    short = short_of(dart, mouth.start - before, mouth.end + behind)
    line = short_line(sewn, short)
    ends_at_legs = [
        abs((end - dart.point).cross((leg - dart.point).unit())) < 1e-4
        for end, leg in ((line.start, dart.first), (line.end, dart.last))
    ]
    # 22 short of its end is before the mouth, which is 20 wide.
    met = behind > -20.0
    assert ends_at_legs == [before < 0.0, behind < 0.0 and met]
    assert_cut_along(sewn, short, line)


def test_where_the_line_of_a_short_copy_has_no_roof_though_the_cut_line_has_it_is_told():
    # Beside the first leg the edge bulges out so steeply that a narrow line runs on past the leg.
    dart = Dart("dart", "front.waist", Point(99, 300), Point(66, 300), Point(57, 229))
    bulge = Cubic(Point(200, 300), Point(169, 329), Point(141, 346), dart.first)
    rest = Cubic(dart.last, Point(41, 294), Point(41, 295), Point(0, 300))
    top = Chain((bulge, Cubic.straight(dart.first, dart.last), rest))
    sewn = sewn_with(rectangle(dart, top=top), dart)
    assert sewn.trouble == ()
    length = sewn.piece.outline.edge("front.waist").length
    wide, narrow = (short_of(dart, 40.0, length - 10.0, missing) for missing in (12.0, 21.6))
    assert straight_words(sewn, wide) == ()
    (sentence,) = straight_words(sewn, narrow)
    assert sentence.startswith("The narrower line runs straight over dart on front.waist")
    rules = allowance_rules((), (), 12.0)
    assert short_finding(narrow, sewn, rules, {}).message.endswith(sentence)
    assert "straight" not in short_finding(wide, sewn, rules, {}).message
