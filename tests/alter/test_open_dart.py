"""Darts opened where there were none: what they take in, and what stays as it was."""

import pytest
from msgspec.structs import replace

from studio.alter import altered, kind_of
from studio.design import OnEdge, OpenDart
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel

PANELS = [front_panel(), back_panel()]


def knee_dart(panel, **numbers):
    return replace(kind_of(OpenDart("", "", None, None, 0.0, 0.0)).fresh(panel), **numbers)


def legs(dart):
    return dart.point.distance_to(dart.first), dart.point.distance_to(dart.last)


@pytest.mark.parametrize("panel", PANELS, ids=["front", "back"])
@pytest.mark.parametrize("both", [False, True])
def test_a_dart_is_as_wide_and_long_as_asked_and_lies_inside(panel, both):
    step = knee_dart(panel, intake=18.0, length=66.0, both=both)
    made = altered(panel, (step,))
    added = [dart for dart in made.darts if dart.name.startswith(step.dart)]
    assert [dart.edge for dart in added] == [step.at.edge, step.across.edge][: 1 + both]
    box = made.outline.box
    for dart in added:
        assert dart.intake == pytest.approx(18.0, abs=1e-9)
        assert dart.point.distance_to(dart.first.toward(dart.last, 0.5)) == pytest.approx(66.0)
        assert legs(dart)[0] == pytest.approx(legs(dart)[1], abs=1e-9)
        assert box.left < dart.point.x < box.right
        # The leg beyond a dart met counter-clockwise is turned onto the one before: to the left.
        assert (dart.last - dart.first).cross(dart.point - dart.first) > 0.0


@pytest.mark.parametrize("panel", PANELS, ids=["front", "back"])
@pytest.mark.parametrize("both", [False, True])
def test_the_seams_sewn_with_the_darts_closed_are_as_long_as_before(panel, both):
    made = altered(panel, (knee_dart(panel, intake=18.0, both=both),))
    for edge in panel.outline:
        assert made.sewn_length(edge.name) == pytest.approx(panel.sewn_length(edge.name), abs=1e-6)


def test_a_dart_at_one_end_turns_what_is_above_about_the_other_by_the_chords_angle():
    panel = front_panel()
    step = knee_dart(panel, intake=18.0)
    made = altered(panel, (step,))
    for edge in ("front.waist", "front.rise"):
        assert made.outline.edge(edge).length == pytest.approx(panel.outline.edge(edge).length)
    # Everything below the cut stays where it is.
    assert made.outline.edge("front.hem") == panel.outline.edge("front.hem")
    assert made.levels["hem"] == panel.levels["hem"]


def test_a_dart_at_both_ends_lifts_what_is_above_by_its_width():
    panel = back_panel()
    level = [OnEdge(f"back.{edge}", "back.hem", mm=480.0) for edge in ("side", "inseam")]
    made = altered(panel, (OpenDart("back", "knee", *level, 20.0, 60.0, both=True),))
    one, two = (panel.outline.edge(f"back.{edge}").chain for edge in ("side", "inseam"))
    rise = (two.at(480.0) - one.at(one.length - 480.0)).unit().left().y
    assert made.levels["waist"] - panel.levels["waist"] == pytest.approx(20.0 * abs(rise))


def test_what_cannot_be_opened_is_refused_with_the_reason():
    panel = front_panel()
    step = knee_dart(panel)
    bad = {
        "needs a name": replace(step, dart=" "),
        "a dart front-dart already": replace(step, dart="front-dart"),
        "less than 1": replace(step, length=119.0, both=True),
        "needs a width": replace(step, intake=0.0),
        "does not meet": replace(step, at=OnEdge("front.side", "front.rise", mm=100.0)),
        "crosses the dart": replace(
            step,
            at=OnEdge("front.waist", "front.side", share=0.1),
            across=OnEdge("front.rise", "front.waist", mm=40.0),
        ),
    }
    for words, wrong in bad.items():
        with pytest.raises(GeometryRefused, match=words):
            altered(panel, (wrong,))


def test_a_second_fresh_dart_has_a_name_of_its_own():
    panel = front_panel()
    once = altered(panel, (knee_dart(panel),))
    assert knee_dart(once).dart == "front-knee-dart-2"
