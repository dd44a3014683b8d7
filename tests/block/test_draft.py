"""A drafted block meets the body and goes together, on bodies of every kind."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio import numbers
from studio.block import Block, draft
from studio.design.body import Body, Fit
from tests.block import rules
from tests.block.bodies import BODIES, MIDDLE

Rule = Callable[[Body, Fit, Block], None]


def changed(body: Body, **measures: float | None) -> Body:
    return msgspec.structs.replace(body, **measures)


@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.__name__)
@pytest.mark.parametrize(("body", "fit"), BODIES, ids=lambda value: getattr(value, "name", ""))
def test_every_rule_holds_for(body: Body, fit: Fit, rule: Rule) -> None:
    rule(body, fit, draft(body, fit))


@st.composite
def bodies(choose: st.DrawFn) -> Body:
    """Bodies whose measures stand in plausible shares of each other (practice)."""
    share = choose
    stature = share(st.floats(900.0, 2100.0))
    inside_leg = stature * share(st.floats(0.40, 0.48))
    rise = stature * share(st.floats(0.13, 0.19))
    hip = min(stature * share(st.floats(0.45, 0.85)), rise / 0.16)

    def maybe(value: float) -> float | None:
        return value if share(st.booleans()) else None

    return Body(
        waist_girth=hip * share(st.floats(0.6, 1.25)),
        hip_girth=hip,
        inside_leg=inside_leg,
        body_rise=rise,
        stature=stature,
        waist_to_hip=maybe(rise * share(st.floats(0.55, 0.85))),
        knee_girth=maybe(hip * share(st.floats(0.33, 0.42))),
        heel_girth=maybe(hip * share(st.floats(0.3, 0.36))),
        **(
            {"thigh_girth": hip * share(st.floats(0.5, 0.68))}
            if share(st.booleans())
            else {"crotch_length": 2.0 * rise + hip * share(st.floats(0.12, 0.21))}
        ),
    )


fits = st.builds(
    Fit,
    waist_ease=st.floats(0.0, 40.0),
    hip_ease=st.floats(10.0, 80.0),
    inseam_stretch=st.floats(0.0, 6.0),
)


@given(bodies(), fits)
def test_every_rule_holds_for_plausible_bodies_of_any_shape(body: Body, fit: Fit) -> None:
    block = draft(body, fit)
    for rule in rules.RULES:
        rule(body, fit, block)


@given(bodies(), fits)
def test_the_same_body_gives_the_same_block(body: Body, fit: Fit) -> None:
    assert draft(body, fit) == draft(body, fit)


def test_a_middle_body_has_one_front_dart_and_two_back_darts() -> None:
    block = draft(MIDDLE, Fit())
    assert [dart.name for dart in block.panel("front").darts] == ["front-dart"]
    assert [dart.name for dart in block.panel("back").darts] == ["back-dart-1", "back-dart-2"]


def test_a_waist_over_the_hip_has_no_darts_and_a_side_seam_that_leans_out() -> None:
    block = draft(changed(MIDDLE, waist_girth=1150.0), Fit())
    for panel in block.panels:
        assert panel.darts == ()
        levels = panel.levels
        hip = rules.crossings(panel, levels["hip"])
        side = panel.outline.edge(f"{panel.name}.side").chain
        if panel.name == "front":
            assert side.end.x > hip[-1]
        else:
            assert side.start.x < hip[0]


def test_no_dart_is_under_four_as_the_waist_grows_towards_the_hip() -> None:
    counts = []
    for waist in range(700, 1000, 5):
        block = draft(changed(MIDDLE, waist_girth=float(waist)), Fit())
        rules.darts_close_true(MIDDLE, Fit(), block)
        counts.append(sum(len(panel.darts) for panel in block.panels))
    assert counts[0] == 3
    assert counts[-1] == 0
    assert counts == sorted(counts, reverse=True)


def test_the_rise_falls_back_on_the_height_of_the_waist() -> None:
    seated = draft(MIDDLE, Fit())
    standing = draft(changed(MIDDLE, body_rise=None, waist_height=740.0 + 275.0), Fit())
    assert standing == seated


def test_the_hip_line_is_two_thirds_of_the_rise_down_when_it_was_not_measured() -> None:
    levels = draft(MIDDLE, Fit()).panel("front").levels
    assert levels["waist"] - levels["hip"] == pytest.approx(275.0 * 2.0 / 3.0, abs=1e-9)


def test_the_hip_line_lies_where_it_was_measured() -> None:
    levels = draft(changed(MIDDLE, waist_to_hip=200.0), Fit()).panel("back").levels
    assert levels["waist"] - levels["hip"] == pytest.approx(200.0, abs=1e-9)


def test_the_knee_line_is_half_way_and_fifty_up() -> None:
    levels = draft(MIDDLE, Fit()).panel("front").levels
    assert levels["knee"] == pytest.approx(740.0 / 2.0 + 50.0, abs=1e-9)


def test_the_back_is_longer_in_the_rise_and_wider_in_the_fork_than_the_front() -> None:
    for body, fit in BODIES:
        block = draft(body, fit)
        assert rules.length(block, "back.rise") > rules.length(block, "front.rise")
        front = block.panel("front").outline.edge("front.rise").chain
        back = block.panel("back").outline.edge("back.rise").chain
        front_fork = front.cubics[0].p3.x - front.end.x
        back_fork = back.start.x - back.cubics[-1].p0.x
        assert back_fork > front_fork > 0.0


def test_a_longer_crotch_length_moves_the_whole_crotch_seam_by_that_much() -> None:
    seams = []
    for crotch in (640.0, 680.0, 720.0):
        block = draft(changed(MIDDLE, crotch_length=crotch), Fit(crotch_ease=5.0))
        seams.append(rules.length(block, "front.rise") + rules.length(block, "back.rise"))
    assert seams == pytest.approx([645.0, 685.0, 725.0], abs=1e-6)


def test_a_thigh_that_fits_already_changes_nothing() -> None:
    assert draft(changed(MIDDLE, thigh_girth=500.0), Fit()) == draft(MIDDLE, Fit())


def test_a_strong_thigh_gets_just_its_ease() -> None:
    block = draft(changed(MIDDLE, thigh_girth=640.0), Fit(thigh_ease=45.0))
    assert rules.thigh_width(block) == pytest.approx(685.0, abs=1e-6)


def test_a_hem_under_the_heel_is_widened_and_said() -> None:
    body = changed(MIDDLE, heel_girth=340.0)
    block = draft(body, Fit(hem_girth=300.0))
    hem = rules.length(block, "front.hem") + rules.length(block, "back.hem")
    assert hem == pytest.approx(350.0, abs=1e-9)
    assert block.remarks == (
        "The hem was widened from 300.0 mm to 350.0 mm round so that the heel passes.",
    )


def test_a_widened_hem_is_told_as_the_ledger_tells_it() -> None:
    """In whole mm it was told as 467, or as 18.39 inch, beside a hem of 467.2 mm, 18.394 inch."""
    body = changed(MIDDLE, heel_girth=18.0 * 25.4)
    block = draft(body, Fit(hem_girth=440.8))
    hem = rules.length(block, "front.hem") + rules.length(block, "back.hem")
    (told,) = block.remarks
    assert f"from 440.8 mm to {numbers.length(hem)} round" in told
    assert f"to {numbers.length(hem, 'inch', 3)} round" in numbers.retold(told, "inch")


def test_a_hem_over_the_heel_is_kept_without_a_word() -> None:
    block = draft(changed(MIDDLE, heel_girth=340.0), Fit(hem_girth=380.0))
    hem = rules.length(block, "front.hem") + rules.length(block, "back.hem")
    assert hem == pytest.approx(380.0, abs=1e-9)
    assert block.remarks == ()


def test_two_rises_that_disagree_are_both_named() -> None:
    block = draft(changed(MIDDLE, waist_height=1100.0), Fit())
    assert len(block.remarks) == 1
    assert "275.0 mm" in block.remarks[0]
    assert "360.0 mm" in block.remarks[0]


@pytest.mark.parametrize("measure", ["waist_girth", "hip_girth", "inside_leg", "body_rise"])
def test_a_small_change_of_the_body_is_a_small_change_of_the_block(measure: str) -> None:
    body = changed(MIDDLE, crotch_length=690.0, thigh_girth=600.0)
    before = draft(body, Fit())
    after = draft(changed(body, **{measure: getattr(body, measure) + 0.1}), Fit())
    for one, two in zip(before.panels, after.panels, strict=True):
        for edge, other in zip(one.outline, two.outline, strict=True):
            for distance in (0.0, 0.3, 0.7, 1.0):
                here = edge.chain.at(distance * edge.length)
                there = other.chain.at(distance * other.length)
                assert here.distance_to(there) < 1.0


def test_a_body_at_the_edge_of_what_can_be_drawn_is_still_drawn_true() -> None:
    # A short crotch and a strong thigh: several ranges are used up at once.
    body = Body(
        waist_girth=1408.0,
        hip_girth=1134.2,
        inside_leg=603.6,
        body_rise=256.0,
        waist_to_hip=153.4,
        thigh_girth=769.7,
        crotch_length=650.0,
        stature=1414.2,
    )
    fit = Fit(waist_ease=24.3, hip_ease=22.3)
    block = draft(body, fit)
    for rule in rules.RULES:
        rule(body, fit, block)
