"""The cut line over an open dart is that of the folded dart."""

import pytest
import shapely
from msgspec.structs import replace

from studio.block.panel import Dart
from studio.curves import Chain, Point
from studio.cut.piece import Piece
from studio.demo import demo_design
from studio.design.alterations import MoveDart
from studio.design.lines import OnEdge
from studio.design.plain import plain_design
from studio.exchange.marks import slits
from studio.pattern import evaluate
from studio.sew import Lined, cut_line, cut_outline_points, grainline, sew_piece
from studio.sew.notches import NotchPlace
from studio.sew.pressing import pressed_toward
from studio.sew.roof import roofed
from tests.sew.darted import DART, assert_folds_onto_its_cut_line, bowed, mirrored, rectangle

DEMO = evaluate(demo_design())
PLAIN = evaluate(plain_design(demo_design().body))


def made(outline, widths, *darts, folded=()):
    line, trouble = cut_line(outline, widths, folded)
    assert trouble == ()
    return line, *roofed(line, outline, widths, folded, darts)


def area_of(line):
    return sum(edge.chain.swept_area() for edge in line)


def test_a_roof_over_a_straight_edge_has_the_area_worked_out_by_hand():
    line, roofs, trouble = made(rectangle(), (12.0,) * 4, DART)
    assert trouble == ()
    # With h the angle of a leg off the upright, tan h = 0.1: the legs meet the cut line, 112 above
    # the point, 11.2 off its middle; the peak lies 112 / cos 2h above it, cos 2h = 0.99 / 1.01.
    height = 112.0 * 1.01 / 0.99
    assert max(y for _, y in cut_outline_points(roofs)) == pytest.approx(200.0 + height, abs=1e-9)
    assert area_of(line) == pytest.approx(224.0 * 324.0, abs=1e-6)
    assert area_of(roofs) == pytest.approx(224.0 * 324.0 + 11.2 * (height - 112.0), abs=1e-6)


@pytest.mark.parametrize("other_way", [False, True])
@pytest.mark.parametrize("lean", [-30.0, 0.0, 25.0])
@pytest.mark.parametrize("width", [6.0, 12.0, 25.0])
def test_a_folded_dart_lies_on_the_cut_line(lean, width, other_way):
    outline, dart = bowed(lean)
    if other_way:
        outline, dart = mirrored(outline, dart)
    widths = (width,) * 4
    _, line, trouble = made(outline, widths, dart)
    assert trouble == ()
    assert shapely.Polygon(cut_outline_points(line)).is_valid
    assert_folds_onto_its_cut_line(outline, dart, line)


def test_the_straight_line_would_not():
    # The bad case of the check above: without a roof the folded edge is off by more.
    outline, dart = bowed(25.0)
    straight, _ = cut_line(outline, (12.0,) * 4)
    with pytest.raises(AssertionError):
        assert_folds_onto_its_cut_line(outline, dart, straight)


@pytest.mark.parametrize(
    ("pattern", "piece"),
    [(PLAIN, "front"), (PLAIN, "back"), (DEMO, "front-leg"), (DEMO, "knee-panel")],
    ids=["front", "back", "front-leg", "knee-panel"],
)
def test_every_dart_of_real_pieces_folds_onto_its_cut_line(pattern, piece):
    assert pattern.findings == ()
    sewn = pattern.piece(piece)
    assert sewn.piece.darts
    assert sewn.trouble == ()
    for dart in sewn.piece.darts:
        assert_folds_onto_its_cut_line(sewn.piece.outline, dart, sewn.cut_line)


def test_a_roof_bears_the_name_of_its_edge_and_the_line_stays_closed():
    line, roofs, _ = made(rectangle(), (12.0,) * 4, DART)
    assert {edge.name for edge in roofs} == {edge.name for edge in line}
    assert [edge.name for edge in roofs].count("front.waist") == 1
    for one, two in zip(roofs, (*roofs[1:], roofs[0]), strict=True):
        assert one.chain.end.distance_to(two.chain.start) < 1e-6
        for before, after in zip(one.chain.cubics, one.chain.cubics[1:], strict=False):
            assert before.p3 == after.p0


def test_a_mouth_that_is_no_joint_of_its_edge_has_a_roof_too():
    top = Chain.straight(Point(200, 300), Point(0, 300))
    _, one, trouble = made(rectangle(top=top), (12.0,) * 4, DART)
    _, two, _ = made(rectangle(), (12.0,) * 4, DART)
    assert trouble == ()
    assert area_of(one) == pytest.approx(area_of(two), abs=1e-6)


@pytest.mark.parametrize(
    ("x", "point", "width"),
    [(13.0, 200.0, 12.0), (100.0, 295.0, 12.0), (100.0, 288.0, 40.0)],
    ids=["at the rise", "too open", "allowance too wide"],
)
def test_where_no_roof_can_be_made_it_is_told_and_the_line_kept(x, point, width):
    dart = Dart("dart", "front.waist", Point(x + 10, 300), Point(x - 10, 300), Point(x, point))
    line, roofs, trouble = made(rectangle(dart), (width,) * 4, dart)
    assert roofs == line
    (sentence,) = trouble
    assert "straight over dart on front.waist" in sentence


def test_behind_the_leg_it_is_not_pressed_to_a_dart_needs_hardly_any_room():
    dart = Dart("dart", "front.waist", Point(197, 300), Point(177, 300), Point(187, 200))
    outline = rectangle(dart)
    line, roofs, trouble = made(outline, (12.0,) * 4, dart)
    assert trouble == ()
    assert area_of(roofs) - area_of(line) == pytest.approx(11.2 * 112.0 * 0.02 / 0.99, abs=1e-6)
    assert_folds_onto_its_cut_line(outline, dart, roofs)


@pytest.mark.parametrize(
    ("side", "width", "told"),
    [(180.0, 3.0, True), (240.0, 3.0, True), (260.0, 6.0, False), (296.0, 1.0, False)],
)
def test_a_roof_that_lies_inside_its_mouth_is_told(side, width, told):
    """The edge falls away on both sides of the mouth: folded, the dart must follow it down."""
    top = Chain.straight(Point(200, side), DART.first, DART.last, Point(0, side))
    outline = rectangle(top=top)
    line, _ = cut_line(outline, (width,) * 4)
    roofs, trouble = roofed(line, outline, (width,) * 4, (), (DART,))
    assert_folds_onto_its_cut_line(outline, DART, roofs)
    over = [y for x, y in cut_outline_points(roofs) if 92.0 < x < 108.0 and y > 250.0]
    assert (min(over) < 300.0) == told
    assert [("not trued" in sentence) for sentence in trouble] == [True] * told


def test_two_darts_close_together_have_a_roof_each():
    one = Dart("one", "front.waist", Point(150, 300), Point(130, 300), Point(140, 200))
    two = Dart("two", "front.waist", Point(115, 300), Point(95, 300), Point(105, 200))
    top = Chain.straight(Point(200, 300), one.first, one.last, two.first, two.last, Point(0, 300))
    outline = rectangle(top=top)
    line, roofs, trouble = made(outline, (12.0,) * 4, one, two)
    assert trouble == ()
    gained = 2.0 * 11.2 * 112.0 * 0.02 / 0.99
    assert area_of(roofs) - area_of(line) == pytest.approx(gained, abs=1e-6)
    for dart in (one, two):
        assert_folds_onto_its_cut_line(outline, dart, roofs)
    # In which order they are named is all one.
    again = roofed(line, outline, (12.0,) * 4, (), (two, one))[0]
    assert area_of(again) == pytest.approx(area_of(roofs), abs=1e-9)


@pytest.mark.parametrize(("down", "told"), [(5.1, ["cut-line"]), (60.0, [])])
def test_a_dart_moved_too_near_to_a_corner_is_a_finding(down, told):
    place = OnEdge("front.side", "front.waist", mm=down)
    design = replace(
        plain_design(demo_design().body), alterations=(MoveDart("front", "front-dart", place),)
    )
    pattern = evaluate(design)
    assert [one.rule for one in pattern.findings if one.rule == "cut-line"] == told
    assert len(pattern.piece("front").piece.darts) == 1


def test_what_has_no_roof_to_make_says_nothing():
    outline = rectangle()
    for widths, folded in (((12.0, 12.0, 0.0, 12.0), ()), ((12.0, 12.0, 30.0, 12.0), (2,))):
        line, roofs, trouble = made(outline, widths, DART, folded=folded)
        assert roofs is line
        assert trouble == ()
    cut_off = replace(DART, first=Point(10, 300), last=Point(-10, 300))
    for darts in ((), (cut_off,), (replace(DART, first=DART.last),)):
        line, roofs, trouble = made(outline, (12.0,) * 4, *darts)
        assert roofs is line
        assert trouble == ()


def test_darts_are_pressed_to_the_middle_or_downwards():
    # Common practice, no source.
    outline = rectangle()
    assert pressed_toward(DART, outline) == "last"
    turned, dart = mirrored(outline, DART)
    assert pressed_toward(dart, turned) == "first"
    # Without a rise, away from the side seam.
    away = rectangle(names=("front.hem", "inner", "front.waist", "front.side"))
    assert pressed_toward(DART, away) == "first"
    assert pressed_toward(DART, rectangle(names=("a", "b", "front.waist", "d"))) == "last"
    knee = Dart("knee", "front.side", Point(200, 100), Point(200, 108), Point(160, 104))
    assert pressed_toward(knee, outline) == "first"
    inner = Dart("knee", "front.rise", Point(0, 108), Point(0, 100), Point(40, 104))
    assert pressed_toward(inner, outline) == "last"


def sewn_with(dart, width=12.0, outline=None, places=(), shape="slit"):
    outline = outline or rectangle(dart)
    widths = (width,) * 4
    piece = Piece("piece", outline, darts=(dart,))
    line, _ = cut_line(outline, widths)
    line = roofed(line, outline, widths, (), (dart,))
    lined = Lined(widths, *line, grainline(outline, 90.0))
    return sew_piece(piece, lined, places, shape=shape)


def test_the_notches_of_a_dart_stand_on_its_legs_prolonged():
    one, two = sewn_with(DART).notches
    # By hand: the legs meet the cut line, 112 above the point, 11.2 to either side.
    assert (one.mouth.x, one.mouth.y) == pytest.approx((111.2, 312.0), abs=1e-6)
    assert (two.mouth.x, two.mouth.y) == pytest.approx((88.8, 312.0), abs=1e-6)
    for notch in (one, two):
        assert abs((notch.tip - DART.point).cross((notch.mouth - DART.point).unit())) < 1e-6
        assert notch.mouth.distance_to(notch.tip) == pytest.approx(5.0, abs=1e-9)


def test_the_notches_of_real_darts_stand_where_leg_and_cut_line_meet():
    for sewn in (PLAIN.piece("back"), DEMO.piece("front-leg")):
        for dart in sewn.piece.darts:
            marked = [notch for notch in sewn.notches if notch.join == dart.name]
            assert len(marked) == 2
            for notch, end in zip(marked, (dart.first, dart.last), strict=True):
                leg = (end - dart.point).unit()
                assert abs(leg.cross(notch.mouth - dart.point)) < 1e-4
                assert leg.dot(notch.tip - end) > 0.0
                assert min(e.chain.nearest(notch.mouth)[1] for e in sewn.cut_line) < 1e-5


def test_the_one_notch_of_a_narrow_dart_stands_in_its_peak():
    dart = Dart("dart", "front.waist", Point(103, 300), Point(97, 300), Point(100, 200))
    (notch,) = sewn_with(dart).notches
    peak = 200.0 + 112.0 * (1.0 + 0.03**2) / (1.0 - 0.03**2)
    assert (notch.mouth.x, notch.mouth.y) == pytest.approx((100.0, peak), abs=1e-6)


def test_a_notch_of_a_seam_at_the_mouth_of_a_dart_stands_on_its_leg():
    edge = rectangle().edge("front.waist")
    place = NotchPlace("piece", edge, 110.0, "double", "waist seam")
    sewn = sewn_with(DART, places=(place,))
    one, two = sewn.notches
    assert (one.join, one.kind, two.join, two.kind) == ("waist seam", "double", "dart", "single")
    # By hand, as above; square to the edge it would stand 1.2 off, on the slope of the roof.
    assert (one.mouth.x, one.mouth.y) == pytest.approx((88.8, 312.0), abs=1e-6)
    assert (two.mouth.x, two.mouth.y) == pytest.approx((111.2, 312.0), abs=1e-6)


@pytest.mark.parametrize("shape", ["slit", "T", "castle", "check", "U"])
@pytest.mark.parametrize(("lean", "width"), [(0.0, 12.0), (-45.0, 3.0), (45.0, 3.0), (70.0, 3.0)])
def test_no_notch_of_a_dart_passes_the_sewing_line_whatever_its_shape(shape, lean, width):
    outline, dart = bowed(lean)
    sewn = sewn_with(dart, width, outline, shape=shape)
    inside = shapely.Polygon(outline.polyline(1e-3))
    assert len(sewn.notches) == 2
    for notch in sewn.notches:
        assert notch.shape == (shape if lean == 0.0 else notch.shape)
        for stroke in slits(notch):
            line = shapely.LineString([(at.x, at.y) for at in stroke])
            assert line.intersection(inside).length < 1e-3


def test_the_point_of_a_dart_is_drilled_where_it_lies_on_its_piece():
    assert sewn_with(DART).drills == (DART.point,)
    # Of a bag or a patch that a dart runs through, as a pleat.
    through = replace(DART, point=Point(100, -20))
    assert sewn_with(through).drills == ()
