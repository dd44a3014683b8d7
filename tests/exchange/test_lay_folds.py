"""The folds of a turn-up on a plan of a lay, read back by another library."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon

from studio.design.cloth import Shortage
from studio.exchange.lay_paper import write_lay_pdf
from studio.exchange.lay_plan import cloth_plans
from studio.exchange.paint.lay import folds_on
from studio.pattern import evaluate
from studio.sew.cut_line import cut_outline_points
from tests.exchange.lays import laid_design
from tests.exchange.reading import painted_chains


def turned_up(shortages=()):
    """The lay whose back legs end in turn-ups; its roll is long enough for them."""
    design = laid_design()
    finishes = tuple(
        replace(one, how="turn-up", allowance=None) if one.edge.edge.endswith("hem") else one
        for one in design.finishes
    )
    stash = (replace(design.stash[0], length=1800.0), *design.stash[1:])
    changed = replace(design, finishes=finishes, stash=stash, shortages=shortages)
    return cloth_plans(evaluate(changed))


def test_both_folds_of_every_leg_are_painted_where_the_leg_lies(tmp_path):
    plan = turned_up()[0]
    legs = [one for one in plan.laid if one.placement.piece == "back-leg"]
    folds = [fold for one in legs for fold in folds_on(one)]
    assert len(folds) == 4
    path = tmp_path / "plan.pdf"
    write_lay_pdf((plan,), path, title="Turned up", verdict="")
    cloth = max(painted_chains(path, 0), key=lambda chain: chain.length)
    scale = cloth.box.width / plan.width
    left, _, _, high = plan.bed.outline.bounds
    painted = [
        (chain.start.x, chain.start.y, chain.length)
        for chain in painted_chains(path, 0)
        if len(chain.cubics) == 1
    ]
    for fold in folds:
        x = cloth.box.left + (fold.start.x - left) * scale
        y = cloth.box.bottom + (high - fold.start.y) * scale
        near = [one for one in painted if abs(one[0] - x) + abs(one[1] - y) < 0.1]
        assert any(length == pytest.approx(fold.length * scale, abs=0.05) for *_, length in near)


def test_a_leg_with_less_allowance_has_its_folds_within_its_narrower_line():
    short = Shortage("back-leg", 1, "back.inseam", 0.0, 900.0, 8.0)
    whole, narrow = (
        next(one for one in plans[0].laid if one.placement.copy == 1)
        for plans in (turned_up(), turned_up((short,)))
    )
    assert narrow.is_short
    outline = Polygon(cut_outline_points(narrow.sewn.cut_line, 0.01)).buffer(0.05)
    for fold, before in zip(folds_on(narrow), folds_on(whole), strict=True):
        line = LineString([(end.x, end.y) for end in (fold.start, fold.end)])
        assert outline.contains(line)
        assert fold.length <= before.length + 1e-6


def test_a_plain_hem_has_no_fold_but_its_sewing_line():
    assert not any(
        folds_on(one) for plan in cloth_plans(evaluate(laid_design())) for one in plan.laid
    )
