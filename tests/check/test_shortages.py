"""Allowances that are short: told on the right copy, in words a maker measures by."""

import re

import pytest
from msgspec.structs import replace
from shapely import LineString, Point, Polygon

from studio import numbers
from studio.check import shortage_taken
from studio.check.shortages import RULE, least_allowance
from studio.cut import Piece
from studio.demo import demo_design
from studio.design import EdgeRef, Finish, Join, JoinSide
from studio.design.cloth import Shortage
from studio.errors import GeometryRefused
from studio.exchange.marks import label_lines
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate
from studio.sew import allowance_rules, cut_outline_points
from studio.sew.short import short_line
from studio.sew.stretch_words import stretch_words

DEMO = demo_design()
BEFORE = evaluate(DEMO)
RISE = BEFORE.piece("back-leg").piece.outline.edge("back.rise")
SHORT = Shortage("back-leg", 1, "back.rise", 205.0, 240.0, 5.3)


def finding_of(short, design=DEMO):
    pattern = evaluate(replace(design, shortages=(short,)))
    return next(finding for finding in pattern.findings if finding.rule == RULE)


def test_no_shortage_no_finding():
    assert RULE not in {finding.rule for finding in BEFORE.findings}
    assert all(sewn.short == () for sewn in BEFORE.pieces)


def test_it_is_told_from_the_crotch_for_the_mirrored_copy_which_is_the_right_leg():
    # The back is drawn with its rise to the right, seen from behind: the left leg.
    found = finding_of(SHORT)
    assert (found.gravity, found.measured, found.limit) == ("warning", 5.3, 24.0)
    assert "back-leg, right" in found.message
    assert "back.rise, 205 to 240 mm from the crotch" in found.message
    assert "at its narrowest 18.7 mm of 24.0 mm are left" in found.message


@pytest.mark.parametrize(
    ("missing", "gravity", "words"),
    [
        (5.3, "warning", "single allowance"),  # 18.7 left: the other leg wraps
        (13.0, "warning", "That can be sewn"),  # 11.0 left of a felled seam's single side
        (19.0, "warning", "needs 6.0 mm"),
        (24.0, "grave", "sewing line itself"),
    ],
)
def test_what_is_left_is_held_against_what_the_seam_needs(missing, gravity, words):
    found = finding_of(replace(SHORT, missing=missing))
    assert found.gravity == gravity
    assert words in found.message


def test_the_side_that_wraps_needs_more_than_a_single_allowance():
    found = finding_of(Shortage("yoke", 0, "yoke", 20.0, 60.0, 8.0))
    assert "yoke, left" in found.message
    assert "Yoke seam, flat-felled, needs 18.0 mm: sew it" in found.message
    assert "at its narrowest 16.0 mm of 24.0 mm are left" in found.message


@pytest.mark.parametrize("missing", [0.71, 5.35, 10.15, 24.0])
def test_of_missing_left_and_whole_two_are_told_since_three_need_not_add_up(missing):
    # 24 less 5.35 is 18.65, told 18.7: beside it, 5.4 missing would be one off.
    found = finding_of(replace(SHORT, missing=missing))
    told = {
        words: numbers.length(mm)
        for words, mm in (("missing", missing), ("left", 24.0 - missing), ("whole", 24.0))
    }
    assert told["whole"] in found.message
    is_left = missing < 24.0
    assert (f"narrowest {told['left']} of" in found.message) == is_left
    assert (f"up to {told['missing']} of" in found.message) != is_left
    assert len(re.findall(r"24\.0 mm", found.message)) == (1 if is_left else 2)
    # An inch is 25.4 mm by definition (ISO 80000-3): what is told is from what was measured.
    inches = numbers.retold(found.message, "inch", exact=found.exact)
    mm = 24.0 - missing if is_left else missing
    assert f"{mm / 25.4:.3f} inch of 0.945 inch are" in inches


@pytest.mark.parametrize(
    ("construction", "wraps", "least"),
    [
        # Common practice, no source: 6 holds a seam; a wrap reaches round the single side.
        ("plain", "a", (6.0, 6.0)),
        ("felled", "a", (16.0, 6.0)),
        ("felled", "b", (6.0, 16.0)),
        ("lapped", "a", (6.0, 0.0)),
    ],
)
def test_the_least_allowance_by_construction(construction, wraps, least):
    a, b = (JoinSide((EdgeRef(name, "x"),)) for name in "pq")
    rules = allowance_rules((Join("s", a, b, construction, wraps),), (), 10.0)
    assert tuple(least_allowance(name, "x", rules)[0] for name in "pq") == least


def test_the_least_hem_and_an_edge_nothing_is_said_of():
    rules = allowance_rules((), (Finish(EdgeRef("p", "x"), "hem", 40.0),), 10.0)
    assert least_allowance("p", "x", rules) == (15.0, "hem, turned once")
    assert least_allowance("p", "y", rules) == (0.0, "")


@pytest.mark.parametrize(
    "short",
    [replace(SHORT, piece="gusset"), replace(SHORT, edge="back.hip"), replace(SHORT, copy=2)],
)
def test_a_shortage_of_what_is_not_there_is_told(short):
    found = finding_of(short)
    assert found.gravity == "warning"
    assert "not there" in found.message
    assert all(one.short == () for one in evaluate(replace(DEMO, shortages=(short,))).pieces)


def taken(short=SHORT, reason="the other leg wraps", design=DEMO):
    sewn, panels = BEFORE.pieces, BEFORE.panels
    return shortage_taken(design, short, reason, sewn, panels)


def test_taking_it_is_one_edit_that_is_let_stand_until_its_number_changes():
    design = taken()
    found = next(one for one in evaluate(design).findings if one.rule == RULE)
    assert found.accepted == "the other leg wraps"
    more = replace(design, shortages=(replace(SHORT, missing=7.0),))
    assert next(one for one in evaluate(more).findings if one.rule == RULE).accepted == ""
    left = replace(design, shortages=(replace(SHORT, copy=0),))
    assert next(one for one in evaluate(left).findings if one.rule == RULE).accepted == ""


def test_a_corner_does_not_replace_the_stretch_that_ends_in_it():
    corner = replace(SHORT, start=SHORT.end, missing=3.0)
    assert taken(corner, design=taken()).shortages == (SHORT, corner)


def test_taken_again_it_replaces_the_one_before():
    design = taken(replace(SHORT, missing=7.0), "longer", taken())
    assert [one.missing for one in design.shortages] == [7.0]
    assert len(evaluate(design).findings) == len(BEFORE.findings) + 1


@pytest.mark.parametrize("short", [replace(SHORT, missing=24.0), replace(SHORT, edge="x")])
def test_the_sewing_line_is_never_given_up(short):
    with pytest.raises(GeometryRefused):
        taken(short)


def test_the_line_that_is_left_runs_at_its_distance_and_out_to_the_cut_line():
    pattern = evaluate(taken())
    sewn, before = pattern.piece("back-leg"), BEFORE.piece("back-leg")
    assert sewn.second[:-1] == before.second
    line = LineString(sewn.second[-1].polyline(0.01))
    seam = LineString(RISE.chain.polyline(0.001))
    middle = RISE.chain.at(222.5)
    near = min(Point(p).distance(seam) for p in line.coords[2:-2])
    assert near == pytest.approx(24.0 - 5.3, abs=0.02)
    # Both ends lie on the cut line, 24 outside the seam.
    for end in (line.coords[0], line.coords[-1]):
        assert Point(end).distance(seam) == pytest.approx(24.0, abs=0.02)
    assert Point(middle.x, middle.y).distance(line) == pytest.approx(18.7, abs=0.05)


def test_label_and_work_sheet_tell_the_copy():
    pattern = evaluate(taken())
    words = "right: back.rise, 205 to 240 mm from the crotch, 18.7 mm wide instead of 24.0 mm"
    assert words in label_lines(pattern.piece("back-leg"))
    cut = next(stage for stage in work_sheet_of(pattern).stages if stage.title == "Cut")
    assert any(words in sentence for sentence in cut.sentences)


@pytest.mark.parametrize(
    ("edge", "start", "end", "words"),
    [
        ("back.rise", 0.0, 20.0, "0 to 20 mm from the crotch"),
        ("back.side", 10.0, 40.0, "10 to 40 mm from yoke"),
        ("back.inseam", 0.0, 30.0, "0 to 30 mm from the hem"),
        ("back.inseam", 0.0, 0.0, "at its corner with back.hem"),
        ("back.hem", 0.0, None, "all along"),
    ],
)
def test_places_are_told_from_the_end_the_maker_thinks_of(edge, start, end, words):
    outline = BEFORE.piece("back-leg").piece.outline
    stop = outline.edge(edge).length if end is None else end
    assert stretch_words(outline, edge, start, stop) == f"{edge}, {words}"


def test_an_edge_that_is_not_there_has_no_words():
    assert isinstance(BEFORE.piece("yoke").piece, Piece)
    with pytest.raises(KeyError):
        stretch_words(BEFORE.piece("yoke").piece.outline, "back.hem", 0.0, 1.0)


def test_where_a_corner_cuts_the_allowance_back_the_line_ends_there():
    # The fly facing's edge at the fly has no allowance: that of its waist is cut off along it.
    sewn = BEFORE.piece("fly-facing")
    edge = sewn.piece.outline.edge("front.waist")
    ground = Polygon(cut_outline_points(sewn.cut_line, 0.001))
    for missing in (3.0, 8.0):
        short = Shortage("fly-facing", 0, "front.waist", 0.0, edge.length, missing)
        line = LineString(short_line(sewn, short).polyline(0.001))
        assert ground.buffer(0.02).covers(line)
        for end in (line.coords[0], line.coords[-1]):
            assert ground.exterior.distance(Point(end)) < 0.02
