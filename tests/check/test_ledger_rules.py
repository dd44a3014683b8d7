"""The rules of the complete ledger, each with a good and a bad case; and acceptance."""

import pytest
import shapely
from msgspec.structs import replace

from studio import check
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import LowerWaist, OnEdge
from studio.design.accepted import Accepted
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.plain import plain_design
from studio.exchange.report import has_grave, report_text
from studio.pattern import evaluate
from studio.sew import allowance_rules, lonely_notches, notch_places
from studio.sew.notches import NotchPlace, cut_notch

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)


def found(design, rule):
    return [finding for finding in evaluate(design).findings if finding.rule == rule]


def test_the_demonstration_is_clean():
    assert PATTERN.findings == ()


def test_an_edge_nothing_is_said_of_is_told_and_one_that_is_caught_is_not():
    without = tuple(f for f in DESIGN.finishes if f.edge.piece != "knee-panel")
    (told,) = found(replace(DESIGN, finishes=without), "edge-free")
    assert (told.where, told.gravity) == ("knee-panel", "warning")
    assert "front.side" in told.message


def rules(*joins):
    return allowance_rules(joins, (), 12.0)


def test_a_piece_nothing_is_said_of_gets_one_note():
    (told,) = check.judge_edges("strip", ("a", "b", "c", "d"), rules())
    assert told.gravity == "note"


def test_an_edge_cut_wider_than_its_join_asks_is_told():
    a, b, c = (EdgeRef(name, f"{name}.e") for name in ("one", "two", "three"))
    felled = Join("felled", JoinSide((a,)), JoinSide((b,)), "felled")
    assert check.judge_allowances(rules(felled)) == ()
    wider = Join("wider", JoinSide((b,)), JoinSide((c,)), "felled")
    (told,) = check.judge_allowances(rules(felled, wider))
    assert (told.where, told.measured, told.limit) == ("felled", 24.0, 12.0)
    centre = Join("centre", JoinSide((b,)), JoinSide((b,), mirrored=True), "felled")
    assert check.judge_allowances(rules(felled, centre)) == ()


def test_two_joins_that_ask_one_edge_differently_are_told():
    mended = tuple(
        replace(join, construction="felled") if join.name == "waist" else join
        for join in DESIGN.joins
    )
    told = found(replace(DESIGN, joins=mended), "allowance")
    assert {finding.where for finding in told} == {"waist, other leg"}


def test_a_centre_seam_may_ask_single_and_double_of_one_edge():
    felled = tuple(
        replace(join, construction="felled") if join.name == "crotch seam" else join
        for join in DESIGN.joins
    )
    assert found(replace(DESIGN, joins=felled), "allowance") == []


def test_notches_that_would_be_cut_as_one_are_told_and_those_apart_are_not():
    leg = PATTERN.piece("front-leg")
    assert check.judge_marks(leg) == ()
    one = leg.notches[0]
    shifted = replace(one, mouth=replace(one.mouth, y=one.mouth.y + 2.0))
    told = check.judge_marks(replace(leg, notches=(one, shifted)))
    assert any("cut as one" in finding.message for finding in told)


def test_a_notch_off_the_cut_line_is_told():
    leg = PATTERN.piece("front-leg")
    corner = leg.piece.outline.edges[0].chain.start
    one = replace(leg.notches[0], at=corner, mouth=corner)
    off = replace(one, mouth=replace(corner, x=corner.x + 80.0))
    (told,) = check.judge_marks(replace(leg, notches=(off,)))
    assert "off its cut line" in told.message


def test_a_notch_on_the_slope_of_a_roof_is_told_far_from_any_corner_too():
    leg = PATTERN.piece("front-leg")
    dart = next(dart for dart in leg.piece.darts if dart.edge == "front.side")
    edge = leg.piece.outline.edge("front.side")
    place = NotchPlace(
        "front-leg", edge, edge.chain.distance_of(dart.first) + 4.0, "single", "seam"
    )
    (told,) = check.judge_marks(replace(leg, notches=(cut_notch(place, 12.0),)))
    assert "beside a dart" in told.message


def test_notches_that_meet_are_not_told_and_one_without_a_partner_is():
    for join in PATTERN.measured:
        places = notch_places(join)
        assert lonely_notches(join, places) == [], join.join.name
    join = next(join for join in PATTERN.measured if join.join.name == "inseam")
    places = notch_places(join)
    (along,) = lonely_notches(join, places[:-1])
    (told,) = check.judge_partners("inseam", (along,))
    assert "no partner" in told.message
    assert told.measured == pytest.approx(along)


def test_a_short_grainline_is_noted():
    leg = PATTERN.piece("front-leg")
    low = leg.grain[0]
    told = check.judge_marks(replace(leg, grain=(low, replace(low, y=low.y + 12.0))))
    assert [finding.rule for finding in told] == ["grain"]


def test_the_crotch_seam_is_held_against_the_body_with_a_lowered_waist_added():
    rows = {row.name: row for row in PATTERN.girths}
    # Drafted to the body's 715, hinged by 20, and a little longer by the front's swing; lowered by
    # 50 at both rises, which is added again along them.
    assert rows["crotch seam"].finished == pytest.approx(735.0, abs=4.0)
    steps = tuple(one for one in DESIGN.alterations if not isinstance(one, LowerWaist))
    high = {row.name: row for row in evaluate(replace(DESIGN, alterations=steps)).girths}
    assert rows["crotch seam"].finished == pytest.approx(high["crotch seam"].finished, abs=1e-6)
    short = replace(ORCHARD_BODY, crotch_length=760.0)
    block = replace(plain_design(ORCHARD_BODY), alterations=())
    clean = evaluate(block)
    assert [f for f in clean.findings if f.where == "crotch seam"] == []
    told = check.judge_girths(check.girth_rows(short, clean.panels))
    (crotch,) = [finding for finding in told if finding.where == "crotch seam"]
    assert crotch.gravity == "grave"
    assert "long" in crotch.message


def test_a_cloth_that_stretches_may_be_smaller_than_the_body_but_not_at_the_heel():
    rows = (check.GirthRow("hip", 1000.0, 970.0, -30.0), check.GirthRow("hem", 335.0, 330.0, -5.0))
    assert {f.where for f in check.judge_girths(rows)} == {"hip", "hem"}
    assert {f.where for f in check.judge_girths(rows, 4.0)} == {"hem"}
    assert {f.where for f in check.judge_girths(rows, 2.0)} == {"hip", "hem"}


def narrow():
    """A design with a seam that does not match, and its finding."""
    joins = tuple(
        replace(join, ease=6.0) if join.name == "inseam" else join for join in DESIGN.joins
    )
    design = replace(DESIGN, joins=joins)
    (told,) = found(design, "seam-length")
    return design, told


def test_a_pocket_that_a_seam_crosses_is_told_as_that():
    line = DESIGN.line("yoke")
    path = replace(line.path, end=OnEdge("back.side", "back.waist", mm=120.0))
    crossed = DESIGN.with_line(replace(line, path=path))
    (told,) = found(crossed, "seam-length")
    assert told.where == "back pocket"
    assert told.message.startswith("back-pocket does not lie whole on back-leg: a seam cuts off 51")
    # By shapely: what of the line the pocket is sewn along lies off the leg.
    pattern = evaluate(crossed)
    leg = shapely.Polygon(pattern.piece("back-leg").piece.outline.polyline(0.001))
    (drawn,) = [one for one in pattern.lines if one.name == "back-pocket"]
    sewn = [edge for edge in drawn.edges if not edge.name.endswith(".top")]
    off = sum(shapely.LineString(e.chain.polyline(0.001)).difference(leg).length for e in sewn)
    assert told.measured == pytest.approx(off, abs=0.01)


def test_an_accepted_finding_stays_with_its_reason_until_its_number_changes():
    design, told = narrow()
    assert has_grave(evaluate(design))
    accepted = replace(design, accepted=(check.acceptance(told, "stretched in with the iron"),))
    pattern = evaluate(accepted)
    (same,) = [finding for finding in pattern.findings if finding.rule == "seam-length"]
    assert same.accepted == "stretched in with the iron"
    assert not has_grave(pattern)
    assert "accepted: stretched in" in report_text(pattern)
    joins = tuple(
        replace(join, ease=7.0) if join.name == "inseam" else join for join in accepted.joins
    )
    (other,) = found(replace(accepted, joins=joins), "seam-length")
    assert other.accepted == ""


def test_a_finding_without_a_number_is_accepted_by_its_message():
    finding = check.Finding("edge-free", "warning", "piece", "piece:edge is free.")
    kept = check.acceptance(finding, "")
    assert kept == Accepted("edge-free", "piece", "", None, "piece:edge is free.")
    (same,) = check.with_acceptance((finding,), (kept,))
    assert same.accepted == "accepted"
    (other,) = check.with_acceptance((replace(finding, message="another"),), (kept,))
    assert other.accepted == ""


def test_finishes_say_how_each_edge_is_caught():
    kept = Finish(EdgeRef("pocket-bag", "front.waist"), "caught", into="waist")
    assert kept in DESIGN.finishes
    lost = tuple(
        replace(one, into="no such seam") if one == kept else one for one in DESIGN.finishes
    )
    (told,) = found(replace(DESIGN, finishes=lost), "edge-free")
    assert "no such seam" in told.message
