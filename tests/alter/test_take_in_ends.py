"""Taking in at a hem that leans, down to a hem, and beside a straight edge that is folded."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from studio.alter.toile import proposed
from studio.design import (
    Body,
    FoldPleat,
    Lengthen,
    MoveSeam,
    Straighten,
    TakeIn,
)
from studio.design.plain import plain_design
from studio.design.toile import ToileNote
from studio.pattern import evaluate
from tests.shapes import deep_dart

# Invented measures of a tall and slim body.
BODY = Body(name="Tall", waist_girth=740.0, hip_girth=920.0, inside_leg=840.0, body_rise=270.0)

PLEATED = (
    deep_dart(70.0),
    Straighten("front", "front.hem"),
    FoldPleat("front", "deep"),
)
CROPPED = (
    MoveSeam("front", "front.side", -25.0),
    MoveSeam("back", "back.side", 25.0),
    Lengthen("front", "knee", -160.0, -150.0),
    Lengthen("back", "knee", -160.0, -150.0),
)


def with_turn_ups(steps):
    plain = plain_design(BODY)
    return replace(
        plain,
        alterations=steps,
        finishes=tuple(
            replace(one, how="turn-up", allowance=None) if one.edge.edge.endswith("hem") else one
            for one in plain.finishes
        ),
    )


def girths(pattern):
    return {row.name: row.finished for row in pattern.girths}


@pytest.mark.parametrize("steps", [(), PLEATED, CROPPED])
@pytest.mark.parametrize("misfit", ["large", "tight"])
@pytest.mark.parametrize("place", ["hem", "knee"])
def test_what_a_toile_says_of_a_leg_is_answered_to_the_mm_and_its_turn_ups_stay(
    steps, misfit, place
):
    design = with_turn_ups(steps)
    before = evaluate(design)
    answer = proposed(ToileNote(place, misfit, 16.0), before.panels).steps
    after = evaluate(replace(design, alterations=(*steps, *answer)))
    wanted = -16.0 if misfit == "large" else 16.0
    assert girths(after)[place] - girths(before)[place] == pytest.approx(wanted, abs=0.05)
    told = {(one.rule, one.where) for one in after.findings}
    assert not told - {(one.rule, one.where) for one in before.findings}
    assert {row.verdict for row in after.ledger} == {"match"}


def test_a_straight_hem_stays_straight_beside_a_leg_that_is_taken_in():
    design = replace(
        plain_design(BODY), alterations=(TakeIn("front", "front.side", 9.0, "hem", upper="knee"),)
    )
    hem = next(p for p in evaluate(design).panels if p.name == "front").outline.edge("front.hem")
    places = np.array([(p.x, p.y) for p in (hem.chain.at(hem.length * k / 40) for k in range(41))])
    run = (places[-1] - places[0]) / np.linalg.norm(places[-1] - places[0])
    off = (places - places[0]) @ np.array([-run[1], run[0]])
    assert np.abs(off).max() < 1e-9
