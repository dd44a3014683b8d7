"""A lay is told as it is: what lies where, how much is used, what lies nowhere."""

import pytest
import shapely
from msgspec.structs import replace

from studio.design.cloth import Lay
from studio.errors import BadInput
from studio.exchange.lay_plan import cloth_plans, lay_words, not_laid, place_words, size_words
from studio.pattern import evaluate
from studio.sew.cut_line import cut_outline_points
from tests.exchange.lays import CANVAS, laid_design

PATTERN = evaluate(laid_design())
PLANS = cloth_plans(PATTERN)


def test_every_cloth_of_the_stash_has_its_plan():
    assert [plan.stock.name for plan in PLANS] == ["canvas", "old leg"]
    names = [one.sewn.piece.name for one in PLANS[0].laid]
    assert names == ["back-leg, left", "back-leg, right", "yoke, left"]


def test_the_share_used_is_what_shapely_measures():
    plan = PLANS[0]
    covered = shapely.union_all(
        [shapely.Polygon(cut_outline_points(one.sewn.cut_line)) for one in plan.laid]
    )
    assert plan.used == pytest.approx(covered.area / plan.bed.usable.area, rel=1e-4)
    assert "1480 mm by 1300 mm" in size_words(plan)


def test_what_lies_nowhere_is_named_copies_of_one_piece_together():
    missing = not_laid(PATTERN)
    assert "yoke, right" in missing
    assert "belt-loop (5)" in missing
    assert not any("back-leg" in name for name in missing)
    assert lay_words(PATTERN).startswith("On no cloth: front-leg (2); yoke, right;")
    assert lay_words(PATTERN).endswith("of 24 pieces in all.")


def test_pieces_on_a_cloth_that_is_gone_lie_nowhere():
    gone = evaluate(replace(laid_design(), stash=(CANVAS,)))
    assert "knee-panel (2)" in not_laid(gone)
    assert [len(plan.laid) for plan in cloth_plans(gone)] == [3]


def test_a_lay_that_takes_everything_says_so():
    design = laid_design()
    only = tuple(recipe for recipe in design.pieces if recipe.name == "back-leg")
    small = replace(design, pieces=only, joins=(), finishes=(), carried=(), topstitching=())
    assert lay_words(evaluate(small)) == "All 2 pieces lie on the cloth."


def test_a_place_is_told_from_the_left_and_the_lower_end():
    words = place_words(PLANS[1], PLANS[1].laid[1])
    points = cut_outline_points(PLANS[1].laid[1].sewn.cut_line)
    # The cloth's own left end lies 40 left of where its places are counted from.
    left, low = min(x for x, _ in points) + 40.0, min(y for _, y in points)
    assert words == f"{left:.0f} mm from the left, {low:.0f} mm up, turned 2.5° to the left"
    assert size_words(PLANS[1]).startswith("460 mm by 1000 mm")


def test_a_turn_of_less_than_is_told_is_none():
    one = PLANS[1].laid[1]
    for turn in (0.04, 359.97):
        turned = replace(one, placement=replace(one.placement, turn=turn))
        assert "turned" not in place_words(PLANS[1], turned)


@pytest.mark.parametrize(
    ("turn", "told"),
    [
        (180.0, ", turned 180°"),
        (90.0, ", turned 90° to the left"),
        (270.0, ", turned 90° to the right"),
        (359.7, ", turned 0.3° to the right"),
        (-179.5, ", turned 179.5° to the right"),
    ],
)
def test_a_turn_is_told_the_short_way_round(turn, told):
    """A piece a hair off its grain was told to be turned 359.7°."""
    one = PLANS[1].laid[1]
    turned = replace(one, placement=replace(one.placement, turn=turn))
    assert place_words(PLANS[1], turned).endswith(told)


def test_what_lies_face_down_is_told():
    one = PLANS[1].laid[1]
    over = replace(one, placement=replace(one.placement, turn=0.0, flipped=True))
    assert place_words(PLANS[1], over).endswith(" up, face down")
    assert "face down" not in place_words(PLANS[1], one)


def test_another_lay_than_the_designs_can_be_told():
    assert "back-leg (2)" in not_laid(PATTERN, Lay())


def test_a_cloth_that_cannot_be_used_is_named():
    broken = replace(laid_design(), stash=(replace(CANVAS, length=0.0),))
    with pytest.raises(BadInput, match="roll") as refusal:
        cloth_plans(evaluate(broken))
    assert refusal.value.where == "canvas"
