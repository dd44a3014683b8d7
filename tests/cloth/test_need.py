"""How much cloth: by hand for rectangles, never less than the area asks for, and old pairs."""

import pytest
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth.bed import bed_of
from studio.cloth.first_fit import first_fit
from studio.cloth.items import items_of
from studio.cloth.need import STEP_MM, USUAL_WIDTHS, old_pair_enough, roll_needs
from studio.cloth.old_pair import HEM_GIVES, SEAM_GIVES, OldSize, old_pair, scaled_body
from studio.cloth.referee import faults
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.body import Fit
from studio.design.cloth import Cloth, CuttingRule, Roll
from studio.errors import BodyRefused
from studio.pattern import evaluate
from tests.cloth.rectangles import item_of, rectangle

PATTERN = evaluate(demo_design())
DESIGN = PATTERN.design
MAIN = Cloth("main", "#000000")


def length(count, wide, high, width, gap=2.0, allowance=0.0):
    """First fit of so many rectangles on a roll without selvedges."""
    roll = Roll("cloth", "main", width, 5000.0, 0.0)
    sewn = rectangle(wide, high, allowance)
    return first_fit([item_of(sewn, bed_of(roll), copy=k) for k in range(count)], roll, gap)


def test_rectangles_lie_side_by_side_as_many_as_the_width_takes():
    # Three of 300 lie in 960 with gaps and cells to spare, so six take two rows of 400.
    assert length(3, 300.0, 400.0, 960.0) == pytest.approx(400.0, abs=13.0)
    assert length(6, 300.0, 400.0, 960.0) == pytest.approx(800.0, abs=26.0)
    assert length(4, 300.0, 400.0, 960.0) == pytest.approx(800.0, abs=26.0)


def test_what_is_wider_than_the_roll_has_no_length():
    assert length(1, 300.0, 400.0, 250.0) is None


def test_a_need_is_rounded_up_and_never_less_than_its_area():
    sewn = rectangle(300.0, 400.0)
    (need,) = roll_needs((sewn,), (MAIN,), (), "main", (900.0,))
    # 424 high with its allowances; two fit beside each other, one is asked for.
    assert need.length == 450.0
    assert need.used == pytest.approx(324 * 424 / (450.0 * 900.0))
    assert "about 450 mm" in need.sentence
    assert "estimate" in need.sentence


def test_the_demo_on_the_usual_widths():
    needs = roll_needs(PATTERN.pieces, DESIGN.cloths, DESIGN.cutting, "main")
    assert [need.width for need in needs] == list(USUAL_WIDTHS)
    for need in needs:
        assert need.length % STEP_MM == 0.0
        assert 0.4 < need.used < 0.95
    # Wider cloth never takes more than the narrowest.
    assert max(need.length for need in needs) == needs[0].length


def test_one_way_cloth_takes_no_less():
    one_way = [replace(cloth, one_way=True) for cloth in DESIGN.cloths]
    (free,) = roll_needs(PATTERN.pieces, DESIGN.cloths, (), "knee", (1400.0,))
    (bound,) = roll_needs(PATTERN.pieces, one_way, (), "knee", (1400.0,))
    assert bound.length >= free.length


def test_too_narrow_is_told_by_piece_and_a_rule_that_lets_it_turn_helps():
    sewn = rectangle(500.0, 100.0)
    (need,) = roll_needs((sewn,), (MAIN,), (), "main", (300.0,))
    assert need.length is None
    assert "too narrow for r" in need.sentence
    rule = CuttingRule("r", lies="across", stock=("another",))
    (need,) = roll_needs((sewn,), (MAIN,), (rule,), "main", (300.0,))
    assert need.length == 550.0


def test_it_ends_early_when_told_to():
    assert roll_needs((rectangle(9.0, 9.0),), (MAIN,), (), "main", stop=lambda: True) == ()


def test_another_way_to_pack_may_be_given():
    (need,) = roll_needs(
        (rectangle(300.0, 400.0),), (MAIN,), (), "main", (900.0,), length_of=lambda *_: 1001.0
    )
    assert need.length == 1050.0


def test_an_old_pair_is_four_panels_of_the_size_with_their_seams_opened():
    size = OldSize(780.0, 790.0)
    panels = old_pair(size, ORCHARD_BODY, Fit(), "main")
    assert [one.name for one in panels] == [
        "old front, left", "old front, right", "old back, left", "old back, right",
    ]  # fmt: skip
    areas = [Polygon(one.outline).area for one in panels]
    assert areas[0] == pytest.approx(areas[1])
    assert areas[2] == pytest.approx(areas[3])
    xs, ys = zip(*panels[0].outline, strict=True)
    assert min(ys) == pytest.approx(-HEM_GIVES, abs=0.5)
    assert max(xs) > SEAM_GIVES
    kinds = [[flaw.kind for flaw in one.flaws] for one in panels]
    assert "worn" in kinds[0]
    assert "worn" not in kinds[2]
    for one in panels:
        bed = bed_of(one)
        assert bed.warp == pytest.approx(90.0)
        assert bed.usable.area < Polygon(one.outline).area


def test_a_larger_size_gives_more_cloth():
    def cloth(size):
        return sum(bed_of(one).usable.area for one in old_pair(size, ORCHARD_BODY, Fit(), "main"))

    assert cloth(OldSize(780.0, 790.0)) < cloth(OldSize(900.0, 790.0))
    assert cloth(OldSize(900.0, 790.0)) < cloth(OldSize(900.0, 860.0))


def test_a_body_is_scaled_to_a_size():
    body = scaled_body(ORCHARD_BODY, OldSize(858.0, 840.0))
    assert body.waist_girth == 858.0
    assert body.inside_leg == 840.0
    assert body.hip_girth == pytest.approx(ORCHARD_BODY.hip_girth * 1.1)
    assert body.body_rise == pytest.approx(ORCHARD_BODY.body_rise * (1.0 + 0.1 / 3.0))


def test_small_pieces_come_out_of_an_old_pair_and_a_whole_pair_does_not():
    few = [PATTERN.piece(name) for name in ("yoke", "bearer", "back-pocket")]
    size = OldSize(900.0, 820.0)
    found = old_pair_enough(few, DESIGN.cloths, (), "main", size, ORCHARD_BODY)
    assert found.left_out == ()
    assert "would about do" in found.sentence
    items = items_of(few, DESIGN.cloths, (), found.stock)
    beds = [bed_of(one) for one in found.stock]
    assert faults(items, beds, found.placements, 2.0) == ()
    whole = old_pair_enough(
        PATTERN.pieces, DESIGN.cloths, (), "main", OldSize(700.0, 700.0), ORCHARD_BODY
    )
    assert whole.left_out
    assert whole.used > 1.0
    assert "would not do as it is" in whole.sentence
    assert "estimate" in whole.sentence


def test_a_size_no_block_can_be_drafted_for_is_refused():
    with pytest.raises(BodyRefused):
        old_pair(OldSize(10.0, 700.0), ORCHARD_BODY, Fit(), "main")
