"""The demonstration's cloth does not suffice as the trousers are first drawn; a little allowance
done without and two joins lead to a cut that comes out.
"""

from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.missing import missing_at
from studio.cloth.referee import faults
from studio.demo import demo_design
from studio.demo_lay import REASON, first_lay, led_on, short_backs, whole_lay
from studio.exchange.lay_plan import lay_words, not_laid
from studio.pattern import evaluate


def items_in(design):
    pieces = evaluate(design).pieces
    return items_of(pieces, design.cloths, design.cutting, design.stash, design.shortages)


def beds_in(design):
    return tuple(bed_of(stock) for stock in design.stash)


def sound(design):
    placements = design.lay.placements
    return faults(items_in(design), beds_in(design), placements, design.lay.gap) == ()


def test_as_first_drawn_a_leg_does_not_come_out_of_it():
    missing = not_laid(evaluate(first_lay()))
    assert any("leg" in name for name in missing)
    assert sound(first_lay())


def test_the_back_legs_lack_allowance_deepest_at_the_crotch_and_each_has_a_panel():
    design = short_backs()
    whole = items_of(evaluate(demo_design()).pieces, design.cloths, design.cutting, design.stash)
    by_name = {bed.name: bed for bed in beds_in(design)}
    sewn = evaluate(demo_design()).piece("back-leg")
    assert {one.stock for one in design.lay.placements} == {
        "overalls back left",
        "overalls back right",
    }
    for placement in design.lay.placements:
        item = next(
            one for one in whole if (one.piece, one.copy) == (placement.piece, placement.copy)
        )
        found = missing_at(sewn, item.way(placement), placement, by_name[placement.stock])
        assert not found.crosses
        assert max(found.missing, key=lambda one: one.depth).edge == "back.inseam"
    assert sound(design)


def test_the_joins_bring_seams_and_no_finding_but_what_was_let_stand():
    names = [join.name for join in led_on().joins]
    assert "front-leg-lower seam" in names
    assert "waistband-2 seam" in names
    findings = evaluate(led_on()).findings
    assert findings
    assert {one.accepted for one in findings} == {REASON}
    assert {one.rule for one in findings} == {"allowance-short"}


def test_the_front_legs_join_lies_under_the_knee_panel():
    pattern = evaluate(led_on())
    seam = next(line for line in pattern.lines if line.name == "front-leg-lower")
    knee = next(line for line in pattern.lines if line.name == "knee-panel")
    box = knee.chain.box
    assert box.bottom < seam.chain.start.y < box.top


def test_then_everything_comes_out_and_the_referee_agrees():
    pattern = evaluate(whole_lay())
    assert not_laid(pattern) == ()
    assert lay_words(pattern).startswith("All ")
    assert len(whole_lay().lay.placements) == sum(s.piece.quantity for s in pattern.pieces)
    assert sound(whole_lay())
