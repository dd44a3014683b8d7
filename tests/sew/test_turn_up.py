"""A turn-up: what a maker finds on folding it, by mirroring with an outside library."""

from __future__ import annotations

import math

import pytest
import shapely
from msgspec.structs import replace
from shapely import affinity

from studio.curves import Chain, Cubic, Edge, Outline, Point
from studio.demo import ORCHARD_BODY
from studio.design import Body, EdgeRef, Finish, Straighten, SwingRise
from studio.design.plain import plain_design
from studio.pattern import evaluate
from studio.sew.allowance import allowance_rules, finish_allowance, finish_rows
from studio.sew.cut_line import cut_line, cut_outline_points
from studio.sew.turn_up_folds import turn_up_folds

HIGH, TURNED_IN = 40.0, 30.0
WIDE = 2.0 * HIGH + TURNED_IN


def leg(joint: float = 120.0) -> Outline:
    """A tapering leg with its hem on y = 0; its side seam leans more above a joint so high."""
    right = Chain.of(
        Chain.straight(Point(100.0, 0.0), Point(100.0 + 0.15 * joint, joint)).cubics
        + Chain.straight(Point(100.0 + 0.15 * joint, joint), Point(150.0, 300.0)).cubics
    )
    top = Chain.straight(Point(150.0, 300.0), Point(-140.0, 300.0))
    left = Chain.straight(Point(-140.0, 300.0), Point(-100.0, 0.0))
    hem = Chain.straight(Point(-100.0, 0.0), Point(100.0, 0.0))
    return Outline.of(
        [
            Edge.whole(name, chain)
            for name, chain in (("hem", hem), ("side", right), ("waist", top), ("inseam", left))
        ]
    )


def cut(outline: Outline, turn_up: float = HIGH, wide: float = WIDE):
    line, trouble = cut_line(outline, (wide, 12.0, 12.0, 24.0), (0,), (), {0: turn_up})
    assert trouble == ()
    return line


def band(shape: shapely.Polygon, low: float, high: float) -> shapely.Polygon:
    return shapely.intersection(shape, shapely.box(-999.0, low, 999.0, high))


def off(one: shapely.Polygon, two: shapely.Polygon) -> float:
    return one.symmetric_difference(two).area


def test_each_layer_of_a_turn_up_lies_on_the_leg_when_it_is_folded():
    # shapely mirrors the cut cloth in the three folds, independently of the program's own moves.
    shape = shapely.Polygon(cut_outline_points(cut(leg()), 0.001))
    outer, inner = band(shape, -HIGH, 0.0), band(shape, -2.0 * HIGH, -HIGH)
    inside = band(shape, -WIDE, -2.0 * HIGH)
    flip = {"xfact": 1.0, "yfact": -1.0}
    assert off(affinity.scale(outer, **flip, origin=(0, 0)), band(shape, 0.0, HIGH)) < 0.5
    assert off(affinity.scale(inner, **flip, origin=(0, -HIGH)), outer) < 0.5
    folded = affinity.scale(inside, **flip, origin=(0, -HIGH))
    assert off(folded, band(shape, 0.0, TURNED_IN)) < 0.5
    assert shape.bounds[1] == pytest.approx(-WIDE, abs=1e-6)


def test_a_plain_hem_of_the_same_depth_would_not_lie_on_the_leg():
    line, _ = cut_line(leg(), (WIDE, 12.0, 12.0, 24.0), (0,))
    shape = shapely.Polygon(cut_outline_points(line, 0.001))
    inner, outer = band(shape, -2.0 * HIGH, -HIGH), band(shape, -HIGH, 0.0)
    assert off(affinity.scale(inner, 1.0, -1.0, origin=(0, -HIGH)), outer) > 50.0


@pytest.mark.parametrize("turn_up", [0.0, HIGH])
def test_a_hem_is_folded_where_a_seam_has_a_joint_close_above_it(turn_up):
    # A leg shortened near its hem has one: its seams are redrawn there.
    wide = WIDE if turn_up else 40.0
    shape = shapely.Polygon(cut_outline_points(cut(leg(6.0), turn_up, wide), 0.001))
    assert shape.is_valid
    below = band(shape, -40.0, 0.0)
    assert off(affinity.scale(below, 1.0, -1.0, origin=(0, 0)), band(shape, 0.0, 40.0)) < 0.5
    assert shape.bounds[1] == pytest.approx(-wide, abs=1e-6)


def test_its_folds_lie_at_its_height_and_twice_that_from_cut_line_to_cut_line():
    outline = leg()
    line = cut(outline)
    folds, trouble = turn_up_folds(outline, line, (WIDE, 12.0, 12.0, 24.0), {0: HIGH})
    assert trouble == ()
    assert [fold.start.y for fold in folds] == pytest.approx([-HIGH, -2.0 * HIGH], abs=1e-9)
    shape = shapely.Polygon(cut_outline_points(line, 0.001))
    for fold in folds:
        whole = shape.intersection(
            shapely.LineString([(-999.0, fold.start.y), (999.0, fold.start.y)])
        )
        assert fold.length == pytest.approx(whole.length, abs=0.02)
    # The upper one is as wide as the leg so high above the hem, the lower one as the hem itself.
    above = shape.intersection(shapely.LineString([(-999.0, HIGH), (999.0, HIGH)])).length
    at_hem = shape.intersection(shapely.LineString([(-999.0, 0.0), (999.0, 0.0)])).length
    assert [fold.length for fold in folds] == pytest.approx([above, at_hem], abs=0.02)


def test_a_turn_up_takes_twice_its_height_and_what_is_turned_in():
    # Both layers of it and 30 turned in: common practice, no source.
    finish = Finish(EdgeRef("one", "one.hem"), "turn-up")
    assert finish_allowance(finish, 12.0) == 110.0
    assert finish_allowance(replace(finish, turn_up=25.0), 12.0) == 80.0
    assert finish_rows(replace(finish, turn_up=25.0), 12.0) == (26.0,)
    rules = allowance_rules((), (replace(finish, turn_up=25.0),), 12.0)
    assert rules.turn_ups == {("one", "one.hem"): 25.0}
    assert allowance_rules((), (Finish(EdgeRef("one", "one.hem"), "hem"),), 12.0).turn_ups == {}


def test_a_turn_up_with_too_little_cloth_or_along_a_curve_is_told():
    outline = leg()
    short = (70.0, 12.0, 12.0, 24.0)
    line, _ = cut_line(outline, short, (0,), (), {0: HIGH})
    folds, trouble = turn_up_folds(outline, line, short, {0: HIGH})
    assert [fold.start.y for fold in folds] == pytest.approx([-HIGH])
    assert trouble == (
        "The turn-up of hem stands 40.0 mm high and takes twice that and what is turned in: "
        "70.0 mm are too little.",
    )
    assert trouble[0].exact == (40.0, 70.0)
    sides = list(outline.edges)
    folds, trouble = turn_up_folds(
        Outline.of([sides[0], sides[1].redrawn(sides[1].chain), *sides[2:]]),
        line,
        short,
        {1: HIGH},
    )
    assert folds == ()
    assert "side is not straight" in trouble[0]


def test_a_pair_with_turn_ups_is_cut_so_on_both_panels_with_its_seams_as_long_as_before():
    plain = plain_design(ORCHARD_BODY)
    turned = replace(
        plain,
        finishes=tuple(
            replace(one, how="turn-up", allowance=None) if one.edge.edge.endswith("hem") else one
            for one in plain.finishes
        ),
    )
    before, after = evaluate(plain), evaluate(turned)
    assert before.ledger == after.ledger
    assert not [one for one in after.findings if one.rule == "cut-line"]
    for name in ("front", "back"):
        assert len(after.piece(name).folds) == 2


def test_a_curved_hem_is_folded_at_its_ends_along_its_direction_there():
    # A hem that dips by 12 in its middle, on the tapering leg.
    outline = leg()
    dip = Chain(
        (Cubic(Point(-100.0, 0.0), Point(-40.0, -16.0), Point(40.0, -16.0), Point(100.0, 0.0)),)
    )
    curved = Outline.of([Edge.whole("hem", dip), *outline.edges[1:]])
    # Near the side seam the allowance, mirrored in the hem's direction there, lies on the leg.
    assert off_at_side(curved, folded=(0,)) < 3.0
    assert off_at_side(curved, folded=()) > 30.0
    # Where the fold ends beside the hem's line, what leads there belongs to the corner.
    line, _ = cut_line(curved, (40.0, 12.0, 12.0, 24.0), (0,))
    between = [name for edge in curved for name in (edge.name, "corner")]
    assert [one.name for one in line] == between


def off_at_side(curved: Outline, folded: tuple[int, ...]) -> float:
    line, trouble = cut_line(curved, (40.0, 12.0, 12.0, 24.0), folded)
    assert trouble == ()
    shape = shapely.Polygon(cut_outline_points(line, 0.001))
    assert shape.is_valid
    low = affinity.rotate(shape, -math.degrees(math.atan(16.0 / 60.0)), origin=(100.0, 0.0))
    strip = shapely.box(105.0, -36.0, 999.0, 0.0)
    above = low.intersection(affinity.scale(strip, 1.0, -1.0, origin=(0, 0)))
    return off(affinity.scale(low.intersection(strip), 1.0, -1.0, origin=(0, 0)), above)


def test_a_fold_that_cannot_be_made_is_told_by_the_edge_that_is_folded_and_the_one_beside_it():
    # Invented measures; the end of the side seam above its straight stretch is 1.5 mm long.
    body = Body(waist_girth=740.0, hip_girth=920.0, inside_leg=840.0, body_rise=270.0)
    plain = plain_design(body)
    waist = Finish(EdgeRef("front", "front.waist"), "casing")
    pattern = evaluate(
        replace(
            plain,
            alterations=(
                SwingRise("front", 10.0, releases_darts=True),
                Straighten("front", "front.side", upper="waist", lower="hip"),
                Straighten("front", "front.waist"),
            ),
            finishes=tuple(waist if one.edge == waist.edge else one for one in plain.finishes),
        )
    )
    told = [one.message for one in pattern.findings if one.rule == "cut-line"]
    assert [text.split(";")[0] for text in told] == [
        "front.waist could not be folded at front.side"
    ]
