"""Each rule with a good case and a bad case."""

import msgspec
import pytest

from studio import numbers
from studio.block.panel import Dart
from studio.check import (
    GirthRow,
    broken_row,
    girth_rows,
    in_unit,
    judge_cut_line,
    judge_darts,
    judge_girths,
    judge_outline,
    judge_row,
    judge_run_on,
    ledger_row,
)
from studio.curves import Affine, Chain, Edge, Outline, Point
from studio.cut import Piece
from studio.design import Body, EdgeRef, Join, JoinSide
from studio.sew import CutEdge, MeasuredJoin, MeasuredSide, cut_line
from tests.shapes import back_panel, front_panel

SEAM = Join("seam", JoinSide((EdgeRef("a", "x"),)), JoinSide((EdgeRef("b", "y"),)))
BODY = Body(
    waist_girth=680.0,
    hip_girth=960.0,
    inside_leg=790.0,
    body_rise=270.0,
    thigh_girth=560.0,
    heel_girth=330.0,
)


def measured(length_a, length_b, **more):
    join = msgspec.structs.replace(SEAM, **more)
    return MeasuredJoin(join, MeasuredSide((), length_a), MeasuredSide((), length_b))


@pytest.mark.parametrize(
    ("a", "b", "more", "verdict"),
    [
        # Sides agree within 1 mm: common practice, a maker's home standard, no source.
        (500.0, 500.9, {}, "match"),
        (500.0, 501.1, {}, "long"),
        (500.0, 498.9, {}, "short"),
        (500.0, 504.0, {"ease": 4.0}, "match"),
        (500.0, 500.0, {"ease": 4.0}, "short"),
        (500.0, 502.5, {"allowed": 3.0}, "match"),
    ],
)
def test_a_join_is_judged_by_difference_ease_and_what_is_allowed(a, b, more, verdict):
    row = ledger_row(measured(a, b, **more))
    assert row.verdict == verdict
    assert row.difference == b - a
    finding = judge_row(row)
    assert (finding is None) == (verdict == "match")
    if finding is not None:
        assert finding.gravity == "grave"
        assert finding.measured == pytest.approx(abs(b - a - row.ease))
        longer = "b:y" if verdict == "long" else "a:x"
        assert f"{longer} is longer" in finding.message


def test_a_side_of_several_edges_is_told_by_its_pieces():
    row = ledger_row(measured(500.0, 503.0))
    told = judge_row(msgspec.structs.replace(row, edges_b=("b:y", "b:z", "c:y")))
    assert "b with c is longer than a:x." in told.message
    # A seam of a piece to its own mirror image: the pieces tell nothing.
    told = judge_row(msgspec.structs.replace(row, edges_a=("b:y", "b:z"), edges_b=("b:v", "b:w")))
    assert "b:v + b:w is longer than b:y + b:z." in told.message


def test_a_join_that_cannot_be_measured_has_a_row_of_its_own():
    assert broken_row(SEAM).verdict == "broken"
    assert judge_row(broken_row(SEAM)) is None


def test_girths_are_both_panels_twice():
    rows = {row.name: row for row in girth_rows(BODY, (front_panel(), back_panel()))}
    # By hand from the hand-drawn panels: hip 250 + 255, hem 200 + 220, knee 230 + 250.
    assert rows["hip"].finished == pytest.approx(2.0 * (250.0 + 255.0), abs=1e-6)
    assert rows["hip"].ease == pytest.approx(50.0, abs=1e-6)
    assert rows["hem"].finished == pytest.approx(420.0, abs=1e-6)
    assert rows["knee"].finished == pytest.approx(480.0, abs=1e-6)
    assert rows["knee"].body is None
    assert rows["knee"].ease is None


def test_a_body_smaller_than_the_trousers_is_no_finding():
    assert judge_girths(girth_rows(BODY, (front_panel(), back_panel()))) == []


@pytest.mark.parametrize(
    ("change", "rule", "where"),
    [
        ({"hip_girth": 1020.0}, "girth-small", "hip"),
        ({"thigh_girth": 700.0}, "girth-small", "thigh"),
        # A hem is no smaller than heel + 10 unless it opens: common practice, no source.
        ({"heel_girth": 415.0}, "girth-small", "hem"),
        ({"waist_girth": 600.0}, "waist-large", "top edge"),
    ],
)
def test_a_girth_that_will_not_do_is_found(change, rule, where):
    body = msgspec.structs.replace(BODY, **change)
    found = judge_girths(girth_rows(body, (front_panel(), back_panel())))
    assert [(finding.rule, finding.where) for finding in found] == [(rule, where)]


@pytest.mark.parametrize(
    ("change", "helps"),
    [
        ({"hip_girth": 1020.0}, "at the side seam"),
        ({"heel_girth": 415.0}, "a wider hem"),
        ({"waist_girth": 760.0, "hip_girth": 700.0}, "swing in a rise less"),
        ({"crotch_length": 900.0}, "Hinge the back open"),
    ],
)
def test_what_is_too_small_is_told_with_what_helps_there(change, helps):
    body = msgspec.structs.replace(BODY, **change)
    (found,) = judge_girths(girth_rows(body, (front_panel(), back_panel())))
    assert helps in found.message
    # No hem, hip or crotch seam is made longer by lowering a waist less.
    assert "lower the waist" not in found.message


def test_a_girth_that_is_too_small_is_told_with_the_digits_by_which_it_is():
    # It read "The hip is 1020 mm round and the body 1020 mm: at least 1020 mm is needed".
    finished = {row.name: row for row in girth_rows(BODY, (front_panel(), back_panel()))}["hip"]
    body = msgspec.structs.replace(BODY, hip_girth=finished.finished + 0.3)
    (found,) = judge_girths(girth_rows(body, (front_panel(), back_panel())))
    told = [numbers.length(mm) for mm in (finished.finished, body.hip_girth)]
    assert f"The hip is {told[0]} round and the body {told[1]}: at least {told[1]}" in found.message
    assert told[0] != told[1]
    inches = in_unit(found, "inch").message
    assert f"is {finished.finished / 25.4:.3f} inch round" in inches
    # What no digit shows is no finding.
    body = msgspec.structs.replace(BODY, hip_girth=finished.finished + 0.04)
    assert judge_girths(girth_rows(body, (front_panel(), back_panel()))) == []


def test_how_far_down_the_top_edge_lies_is_told_in_inches_as_it_was_measured():
    row = GirthRow("top edge, 44 mm down", 827.7, 858.5, 30.8, 43.6)
    # 43.6 / 25.4 = 1.717; from 44 it would be 1.732.
    assert numbers.retold(row.name, "inch", exact=row.exact) == "top edge, 1.72 inch down"


def test_without_a_body_girths_are_told_but_not_judged():
    rows = girth_rows(None, (front_panel(), back_panel()))
    assert {row.name for row in rows} >= {"hip", "hem"}
    assert judge_girths(rows) == []


def test_edges_that_run_on_over_a_seam_are_found_when_they_kink():
    found = {finding.where: finding for finding in judge_run_on(front_panel(), back_panel())}
    # The hand-drawn hems meet their seams at 88.9 and 88.8 degrees on a tapering leg.
    assert found["hem at side"].measured == pytest.approx(2.29, abs=0.01)
    assert "rise at inseam" in found


def test_panels_square_at_their_seams_run_on():
    def square(name, x):
        points = [Point(x, 0), Point(x + 50, 0), Point(x + 50, 90), Point(x, 90), Point(x, 0)]
        names = ("hem", "side", "waist", "inseam")
        return msgspec.structs.replace(
            front_panel(),
            name=name,
            outline=Outline.of(
                Edge.whole(f"{name}.{part}", Chain.straight(one, two))
                for part, one, two in zip(names, points, points[1:], strict=False)
            ),
        )

    assert judge_run_on(square("front", 0.0), square("back", 200.0)) == []


def test_a_simple_cut_line_is_no_finding():
    line, trouble = cut_line(front_panel().outline, (12.0,) * 5)
    assert judge_cut_line("leg", line, trouble) == ()


def test_a_cut_line_that_crosses_itself_is_grave():
    bow = (Point(0, 0), Point(100, 100), Point(100, 0), Point(0, 100), Point(0, 0))
    crossed = judge_cut_line("bow", (CutEdge("bow", Chain.straight(*bow)),), ("A sentence.",))
    assert [finding.gravity for finding in crossed] == ["warning", "grave"]


def test_dart_legs_agree_within_half_a_millimetre():
    # Legs of a dart agree within 0.5: common practice, no source.
    outline = front_panel().outline

    def piece(point):
        dart = Dart("dart", "front.waist", Point(20, 1060), Point(0, 1060), point)
        return Piece("leg", outline, darts=(dart,))

    assert judge_darts(piece(Point(10, 960))) == []
    found = judge_darts(piece(Point(14, 960)))
    assert [finding.rule for finding in found] == ["dart-legs"]
    assert found[0].measured == pytest.approx(0.794, abs=0.01)


def test_a_seam_that_cuts_off_a_darts_point_is_told_a_bag_is_not():
    # A plain strip below the waist, 60 deep: its dart is 100 long, or 50.
    corners = [Point(120, 1060), Point(-90, 1060), Point(-90, 1000), Point(120, 1000)]
    edges = [
        Edge.whole(name, Chain.straight(one, two))
        for name, one, two in zip(
            ("front.waist", "front.rise", "yoke", "front.side"),
            corners,
            (*corners[1:], corners[0]),
            strict=True,
        )
    ]

    def piece(depth):
        dart = Dart("dart", "front.waist", Point(20, 1060), Point(0, 1060), Point(10, 1060 - depth))
        return Piece("yoke", Outline.of(edges), darts=(dart,))

    assert [found.rule for found in judge_darts(piece(100.0), ("yoke",))] == ["dart-cut"]
    assert judge_darts(piece(50.0), ("yoke",)) == []
    assert judge_darts(piece(100.0), ("other",)) == []


def test_a_moved_block_has_the_same_girths():
    panels = (front_panel(), back_panel())
    shift = Affine(dx=500.0)
    moved = tuple(
        msgspec.structs.replace(panel, outline=panel.outline.transformed(shift)) for panel in panels
    )
    for one, two in zip(girth_rows(BODY, panels), girth_rows(BODY, moved), strict=True):
        assert one.finished == pytest.approx(two.finished, abs=1e-6)


def quad(*corners):
    after = (*corners[1:], corners[0])
    chains = [Chain.straight(Point(*p), Point(*q)) for p, q in zip(corners, after, strict=True)]
    edges = tuple(Edge.whole(name, chain) for name, chain in zip("abcd", chains, strict=True))
    return Piece("leg", Outline(edges))


def test_a_sewing_line_that_crosses_itself_is_told():
    assert judge_outline(quad((0, 0), (100, 0), (100, 100), (0, 100))) == ()
    (told,) = judge_outline(quad((0, 0), (100, 0), (20, -30), (0, 100)))
    assert (told.rule, told.gravity, told.where) == ("outline", "grave", "leg")
