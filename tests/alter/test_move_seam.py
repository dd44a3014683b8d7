"""A seam moved over: what a maker measures on both panels afterwards."""

from __future__ import annotations

import pytest
import shapely
from msgspec.structs import replace

from studio.alter import altered
from studio.demo import ORCHARD_BODY
from studio.design import FoldPleat, MoveSeam, Straighten
from studio.design.plain import plain_design
from studio.errors import GeometryRefused
from studio.pattern import evaluate
from tests.shapes import back_panel, deep_dart, front_panel


def across(panel, height):
    """Width of a panel at a height, by shapely."""
    shape = shapely.Polygon(panel.outline.polyline(0.001))
    return shape.intersection(shapely.LineString([(-2000, height), (2000, height)])).length


@pytest.mark.parametrize("edge", ["side", "inseam"])
@pytest.mark.parametrize("amount", [30.0, -30.0])
def test_the_edge_keeps_its_shape_and_the_panel_is_narrower_by_the_amount(edge, amount):
    panel = front_panel()
    made = altered(panel, (MoveSeam("front", f"front.{edge}", amount),))
    old, new = (one.outline.edge(f"front.{edge}").chain for one in (panel, made))
    assert new.length == pytest.approx(old.length, abs=1e-9)
    step = new.start - old.start
    assert abs(step.x) == pytest.approx(30.0)
    assert step.y == pytest.approx(0.0)
    for share in (0.25, 0.5, 1.0):
        there = new.at(share * new.length) - old.at(share * old.length)
        assert (there.x, there.y) == pytest.approx((step.x, step.y), abs=1e-9)
    for height in (1.0, 200.0, panel.levels["knee"], panel.levels["crotch"] - 60.0):
        assert across(panel, height) - across(made, height) == pytest.approx(amount, abs=0.01)
    other = "front.inseam" if edge == "side" else "front.side"
    assert made.outline.edge(other).length == panel.outline.edge(other).length
    assert made.outline.edge("front.hem").chain.is_straight


def test_darts_stay_as_wide_and_as_long_as_they_were():
    for panel, amount in ((front_panel(), 20.0), (back_panel(), -20.0)):
        made = altered(panel, (MoveSeam(panel.name, f"{panel.name}.side", amount),))
        for old, new in zip(panel.darts, made.darts, strict=True):
            assert new.intake == pytest.approx(old.intake, abs=1e-6)
        sewn = [one.sewn_length(f"{panel.name}.waist") for one in (panel, made)]
        assert sewn[0] - sewn[1] == pytest.approx(amount, abs=1.5)


@pytest.mark.parametrize("amount", [25.0, -40.0])
def test_darts_and_pleats_stay_where_they_are_and_the_waist_runs_on_beside_them(amount):
    deep = deep_dart()
    steps = (deep, Straighten("front", "front.hem"), FoldPleat("front", "deep"))
    moved = (MoveSeam("front", "front.side", amount), MoveSeam("back", "back.side", -amount))
    plain = replace(plain_design(ORCHARD_BODY), alterations=steps)
    one, two = (evaluate(replace(plain, alterations=(*steps, *more))) for more in ((), moved))
    for before, after in zip(one.panels, two.panels, strict=True):
        assert after.darts == before.darts
        waist = f"{after.name}.waist"
        chain = after.outline.edge(waist).chain
        for dart in after.darts:
            for end in (dart.first, dart.last):
                assert chain.nearest(end)[1] == pytest.approx(0.0, abs=1e-9)
        wanted = -amount if after.name == "front" else amount
        gained = after.sewn_length(waist) - before.sewn_length(waist)
        # A waist that leans goes a little less far along itself than across the grain.
        assert gained == pytest.approx(wanted, abs=1.5)
    told = {(finding.rule, finding.where) for finding in two.findings}
    assert not told - {(finding.rule, finding.where) for finding in one.findings}
    assert {row.verdict for row in two.ledger} == {"match"}


def test_moved_on_both_panels_the_pair_is_as_wide_as_before_and_its_seams_match():
    plain = plain_design(ORCHARD_BODY)
    over = replace(
        plain,
        alterations=(
            MoveSeam("front", "front.side", 40.0),
            MoveSeam("back", "back.side", -40.0),
        ),
    )
    one, two = evaluate(plain), evaluate(over)
    assert {row.verdict for row in two.ledger} == {"match"}
    before = {row.name: row.finished for row in one.girths}
    after = {row.name: row.finished for row in two.girths}
    for name in ("hip", "thigh", "knee", "hem", "crotch seam"):
        assert after[name] == pytest.approx(before[name], abs=1e-6)
    assert after["top edge"] == pytest.approx(before["top edge"], abs=1.5)
    assert not [finding for finding in two.findings if finding.gravity == "grave"]


def test_an_edge_across_the_grain_or_too_far_is_refused():
    with pytest.raises(GeometryRefused, match="across the grain"):
        altered(front_panel(), (MoveSeam("front", "front.hem", 10.0),))
    with pytest.raises(GeometryRefused, match="long"):
        altered(front_panel(), (MoveSeam("front", "front.side", 250.0),))
