"""An edge that bends where nobody means a corner is told, with how far from which end."""

import math

import pytest
from msgspec.structs import replace

from studio.block.places import point_at
from studio.check import judge_kinks
from studio.demo import demo_design
from studio.design.alterations import FairEdge, Hinge
from studio.pattern import evaluate

DEMO = demo_design()
HINGED = next(at for at, step in enumerate(DEMO.alterations) if isinstance(step, Hinge))


def kinks_after(amount, *more):
    """What is found after a hinge of so many mm in the back, and the panel before it."""
    hinge = replace(DEMO.alterations[HINGED], amount=amount)
    pattern = evaluate(replace(DEMO, alterations=(hinge, *more)))
    return [one for one in pattern.findings if one.rule == "kink"], pattern.steps[0].before


@pytest.mark.parametrize("amount", [15.0, 20.0, 40.0])
def test_a_hinge_leaves_a_bend_of_the_angle_it_turned_by(amount):
    found, before = kinks_after(amount)
    hinge = DEMO.alterations[HINGED]
    arm = point_at(before, hinge.opening).distance_to(point_at(before, hinge.pivot))
    turned = math.degrees(2.0 * math.asin(amount / 2.0 / arm))  # A chord of the circle it runs on.
    assert [one.where for one in found] == ["back.side"]
    assert found[0].measured == pytest.approx(turned, abs=0.01)
    assert found[0].exact == pytest.approx((hinge.pivot.mm,), abs=1e-6)
    assert f"{turned:.1f} degrees, 190.0 mm from back.waist" in found[0].message


def test_what_no_eye_takes_for_a_corner_and_what_was_drawn_as_one_are_not_told():
    assert kinks_after(5.0)[0] == []
    assert kinks_after(90.0)[0] == []


def test_a_fair_edge_is_not_told():
    assert kinks_after(20.0, FairEdge("back", "back.side", 3.0))[0] == []


def test_mouths_of_darts_lie_in_corners_and_are_not_told():
    panels = evaluate(DEMO).panels
    assert any(panel.darts for panel in panels)
    assert judge_kinks(panels) == []
    undarted = [replace(panel, darts=()) for panel in panels]
    assert {one.where for one in judge_kinks(undarted)} >= {"back.waist", "front.side"}
