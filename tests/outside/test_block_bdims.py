"""Every one of 507 measured bodies gets trousers that meet it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from studio.block import Block, draft
from studio.design.body import Body, Fit
from tests.block import rules
from tests.outside import bdims


@pytest.fixture(scope="module")
def drafted() -> list[tuple[Body, Fit, Block]]:
    fit = Fit(waist_ease=15.0, hip_ease=50.0, inseam_stretch=3.0)
    return [(body, fit, draft(body, fit)) for body in bdims.bodies()]


# Source: Heinz, Peterson, Johnson and Kerk, Journal of Statistics Education 11(2), 2003.
def test_the_data_are_those_published() -> None:
    bodies = bdims.bodies()
    assert len(bodies) == 507
    # The first man of the data set: waist 71.5 cm, hip 93.5 cm, height 174.0 cm.
    assert bodies[0].waist_girth == pytest.approx(715.0)
    assert bodies[0].hip_girth == pytest.approx(935.0)
    assert bodies[0].stature == pytest.approx(1740.0)


# Source: the same bodies; each rule names its own standing in tests/block/rules.py.
@pytest.mark.parametrize("rule", rules.RULES, ids=lambda rule: rule.__name__)
def test_on_every_measured_body(
    drafted: list[tuple[Body, Fit, Block]], rule: Callable[[Body, Fit, Block], None]
) -> None:
    for body, fit, block in drafted:
        rule(body, fit, block)


# Source: the same bodies, with a crotch length that was not measured there: twice the rise and
# 0.17 of the hip for the way between the legs (common practice, no source).
def test_every_measured_body_also_gets_its_crotch_seam() -> None:
    fit = Fit(crotch_ease=5.0)
    for body in bdims.bodies():
        crotch = 2.0 * (body.body_rise or 0.0) + 0.17 * body.hip_girth
        with_crotch = Body(
            waist_girth=body.waist_girth,
            hip_girth=body.hip_girth,
            inside_leg=body.inside_leg,
            body_rise=body.body_rise,
            thigh_girth=body.thigh_girth,
            crotch_length=crotch,
        )
        block = draft(with_crotch, fit)
        rules.crotch_seam_is_as_asked(with_crotch, fit, block)
        rules.thigh_and_knee_have_their_ease(with_crotch, fit, block)
        rules.joined_seams_agree(with_crotch, fit, block)
