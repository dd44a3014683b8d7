"""What is turned in along an edge fits the cloth beneath; pulled-on trousers pass the hips."""

from __future__ import annotations

import math

import pytest
import shapely
from msgspec.structs import replace

from studio.check import judge_folds, judge_girths, judge_pulled_on
from studio.check.finding import GirthRow
from studio.curves import Chain, Cubic, Edge, Outline, Point
from studio.cut import Piece
from studio.cut.parts import Fly
from studio.design import Body, EdgeRef, Finish, SwingRise, TakeIn
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts

# Measures of a child of 128, from memory.
CHILD = Body(name="Child", waist_girth=580.0, hip_girth=690.0, inside_leg=580.0, body_rise=205.0)
RADIUS, QUARTER = 400.0, math.pi / 4.0


def quarter(hollow: bool) -> Piece:
    """A piece whose top is an eighth of a circle between two straight sides along its radii, the
    cloth on its outside (a hollow edge) or its inside.
    """
    far, near = (RADIUS + 200.0, RADIUS) if hollow else (RADIUS - 200.0, RADIUS)

    def at(radius, angle):
        return Point(radius * math.cos(angle), radius * math.sin(angle))

    low, high = math.pi / 2.0 - QUARTER / 2.0, math.pi / 2.0 + QUARTER / 2.0
    handle = RADIUS * 4.0 / 3.0 * math.tan(QUARTER / 4.0)

    def tip(angle, way):
        place = at(near, angle)
        return Point(
            place.x - way * handle * math.sin(angle), place.y + way * handle * math.cos(angle)
        )

    arc = Chain((Cubic(at(near, low), tip(low, 1.0), tip(high, -1.0), at(near, high)),))
    corners = [at(near, low), at(far, low), at(far, high), at(near, high)]
    back = Chain.straight(corners[3], corners[2], corners[1], corners[0])
    chains = [("piece.waist", arc), ("piece.rest", back)]
    if hollow:
        chains = [(name, chain.reversed()) for name, chain in reversed(chains)]
    return Piece("piece", Outline.of([Edge.whole(*one) for one in chains]))


def casing(piece: Piece, how="casing"):
    return judge_folds(piece, (Finish(EdgeRef("piece", "piece.waist"), how),), 12.0)


@pytest.mark.parametrize("hollow", [True, False])
def test_a_casing_along_a_curve_is_off_by_what_its_two_parallels_differ(hollow):
    # shapely measures both parallels, 43 to each side of the arc: where a casing of 55 is stitched.
    (finding,) = casing(quarter(hollow))
    arc = shapely.LineString(
        [
            (RADIUS * math.cos(a), RADIUS * math.sin(a))
            for a in (math.pi / 2 - QUARTER / 2 + QUARTER * k / 4000 for k in range(4001))
        ]
    )
    inner, outer = (arc.parallel_offset(43.0, side).length for side in ("left", "right"))
    # (It takes points out of what it offsets.) Closed form: twice the depth times the angle.
    assert finding.measured == pytest.approx(abs(outer - inner), abs=0.1)
    assert finding.measured == pytest.approx(2.0 * 43.0 * QUARTER, abs=1e-6)
    assert ("shorter" in finding.message) == hollow
    assert ("longer" in finding.message) != hollow


def test_a_narrow_fold_along_a_curve_and_any_along_a_straight_edge_are_let_be():
    shallow = Finish(EdgeRef("piece", "piece.waist"), "hem", 3.0)
    assert judge_folds(quarter(hollow=True), (shallow,), 12.0) == []
    assert casing(quarter(hollow=True), "faced") == []
    hem = Finish(EdgeRef("piece", "piece.rest"), "bound")
    assert judge_folds(quarter(hollow=True), (hem,), 12.0) == []


def with_casing(design):
    return replace(
        design,
        finishes=tuple(
            replace(one, how="casing") if one.edge.edge.endswith(".waist") else one
            for one in design.finishes
        ),
    )


def rules(design):
    return [(one.rule, one.where) for one in evaluate(design).findings]


def test_a_casing_on_a_darted_waist_is_told_and_passes_no_hips_until_darts_are_given_up():
    plain = with_casing(plain_design(CHILD))
    found = rules(plain)
    assert ("fold", "front:front.waist") in found
    assert ("fold", "back:back.waist") in found
    assert ("girth-small", "top edge") in found
    # Without darts, the sides let out until they run up straight.
    wide = replace(
        plain,
        alterations=(
            SwingRise("front", 0.0, releases_darts=True),
            SwingRise("back", 0.0, releases_darts=True),
            TakeIn("front", "front.side", -18.0, "waist", lower="hip"),
            TakeIn("back", "back.side", -18.0, "waist", lower="hip"),
        ),
    )
    assert ("girth-small", "top edge") not in rules(wide)
    assert not [one for one in rules(wide) if one[0] == "waist-large"]


def test_with_a_fly_or_a_waist_that_is_faced_nothing_is_pulled_on():
    faced = plain_design(CHILD)
    assert ("girth-small", "top edge") not in rules(faced)
    opened = with_parts(with_casing(faced), Fly(zip_length=90.0))
    assert ("girth-small", "top edge") not in rules(opened)


def test_the_finding_tells_both_girths_and_a_stretchy_cloth_needs_less():
    finishes = with_casing(plain_design(CHILD)).finishes
    joins = plain_design(CHILD).joins
    rows = (GirthRow("top edge", 580.0, 640.0, 60.0),)
    (finding,) = judge_pulled_on(CHILD, rows, finishes, joins)
    assert "640.0 mm round" in finding.message
    assert "at least 690.0 mm" in finding.message
    assert judge_pulled_on(CHILD, rows, finishes, joins, stretch=10.0) == []
    assert judge_pulled_on(None, rows, finishes, joins) == []


def test_a_top_edge_that_is_drawn_in_does_not_slide():
    rows = (GirthRow("top edge", 580.0, 700.0, 120.0),)
    assert [one.rule for one in judge_girths(rows)] == ["waist-large"]
    assert judge_girths(rows, drawn_in=True) == []
