"""What is drawn on the cloth is what was laid, and each copy bears its name."""

import pytest
from shapely import Polygon

from studio.cloth.bed import bed_of
from studio.cloth.laid_pieces import laid_pieces
from studio.cloth.stance import laid, lying, stance_of
from studio.cut.copies import drawn_legs
from studio.demo import demo_design
from studio.design.cloth import Cloth, CuttingRule, Placement, SalvagedPanel
from studio.pattern import evaluate
from studio.sew.cut_line import cut_outline_points

PATTERN = evaluate(demo_design())
OUTLINE = ((0.0, 0.0), (1400.0, 0.0), (1400.0, 1300.0), (0.0, 1300.0))
BED = bed_of(SalvagedPanel("old leg", "main", OUTLINE, ((0.0, 0.0), (80.0, 300.0))))
CLOTH = Cloth("main", "#000000", warp_shrinkage=3.0, weft_shrinkage=1.0)
LEGS = drawn_legs(PATTERN.panels)
RULES = (CuttingRule("waistband", lies="across", tolerance=2.0),)


def put(*placements):
    return laid_pieces(PATTERN.pieces, placements, (BED,), (CLOTH,), LEGS, rules=RULES)


@pytest.mark.parametrize("copy", [0, 1])
def test_the_cut_line_lies_where_the_lay_has_it(copy):
    placement = Placement("back-leg", copy, "old leg", (600.0, 640.0), turn=178.0)
    (there,) = put(placement)
    stance = stance_of(PATTERN.piece("back-leg"), CLOTH)
    wanted = laid(stance.cut, lying(stance, placement, BED.warp))
    drawn = Polygon(cut_outline_points(there.sewn.cut_line, 0.05))
    assert drawn.symmetric_difference(wanted).area < 0.1 * drawn.length
    assert there.sewn.piece.warp % 180.0 == pytest.approx((BED.warp - 2.0) % 180.0)


@pytest.mark.parametrize("turn", [0.0, 181.5, 88.5, 270.0])
def test_a_band_across_is_drawn_as_long_as_the_width_of_the_cloth_shrinks(turn):
    (there,) = put(Placement("waistband", 0, "old leg", (700.0, 640.0), turn=turn))
    box = PATTERN.piece("waistband").piece.outline.box
    long = max(box.width, box.height)
    # 3 per cent off the warp, 1 off the weft.
    share = 0.99 if round(turn / 90.0) % 2 == 1 else 0.97
    sides = [
        max(edge.chain.length for edge in there.sewn.piece.outline if edge.name == name)
        for name in ("waistband.top",)
    ]
    assert sides == [pytest.approx(long / share, abs=1e-6)]


def test_copies_bear_their_names_and_are_cut_once():
    both = [Placement("yoke", copy, "old leg", (200.0, 200.0)) for copy in (0, 1)]
    assert [one.sewn.piece.name for one in put(*both)] == ["yoke, left", "yoke, right"]
    assert {one.sewn.piece.quantity for one in put(*both)} == {1}


def test_what_is_no_longer_there_is_left_out():
    gone = (
        Placement("yoke", 2, "old leg", (0.0, 0.0)),
        Placement("cuff", 0, "old leg", (0.0, 0.0)),
        Placement("yoke", 0, "shirt", (0.0, 0.0)),
    )
    assert put(*gone) == ()
