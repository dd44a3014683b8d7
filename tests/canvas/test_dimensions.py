"""Numbers on the sheet: what they measure, and what typing another does."""

import pytest
from msgspec.structs import replace

from studio.canvas.dimensions import dimensions
from studio.canvas.hold_places import hold_places
from studio.canvas.selection import Selection
from studio.demo import demo_design
from studio.design import Hinge, OnEdge, holds
from studio.design.holds import LinePoint
from studio.pattern import evaluate

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)


def of(design, selection):
    pattern = evaluate(design)
    return {one.title: one for one in dimensions(pattern, selection)}


def line_in(design, name):
    return next(line for line in evaluate(design).lines if line.name == name)


def test_an_end_is_measured_from_its_corner_and_typed():
    found = of(DESIGN, Selection("line", "yoke"))
    start = found["Set the start of yoke"]
    assert start.value == pytest.approx(80.0, abs=1e-6)
    assert start.measured.length == pytest.approx(80.0, abs=1e-6)
    typed = start.change(DESIGN, 95.0)
    assert typed.line("yoke").path.start.mm == 95.0
    back = next(panel for panel in evaluate(typed).panels if panel.name == "back")
    top = back.outline.edge("back.rise").chain.end
    assert line_in(typed, "yoke").ends[0].distance == pytest.approx(
        back.outline.edge("back.rise").length - 95.0
    )
    assert top.distance_to(line_in(typed, "yoke").nodes[0].at) < 95.1


def test_a_length_typed_is_held():
    length = of(DESIGN, Selection("line", "yoke"))["Hold: Length, yoke"]
    typed = length.change(DESIGN, 260.0)
    assert line_in(typed, "yoke").chain.length == pytest.approx(260.0, abs=1e-9)
    again = length.change(typed, 255.0)
    assert again.holds == (holds.Length("yoke", 255.0),)
    assert "Hold: Length, yoke" not in of(typed, Selection("line", "yoke"))
    assert of(typed, Selection("line", "yoke"))["Set: Length, yoke"].value == 260.0


def test_each_hold_with_a_number_can_be_typed():
    asked = (
        holds.Distance(LinePoint("yoke", 0), LinePoint("yoke", 1), 125.0),
        holds.Angle(LinePoint("pocket-bag", 1), LinePoint("pocket-bag", 2), -60.0),
        holds.FromCorner(LinePoint("yoke", 0), "back.rise", "back.waist", share=0.25),
    )
    design = replace(DESIGN, holds=asked)
    yoke = [o for o in dimensions(evaluate(design), Selection("line", "yoke"))]
    share = next(one for one in yoke if one.measure == "share")
    assert share.change(design, 0.3).holds[2].share == 0.3
    assert not any(one.title == "Set the start of yoke" for one in yoke)
    bag = dimensions(evaluate(design), Selection("line", "pocket-bag"))
    angle = next(one for one in bag if one.measure == "degrees")
    assert angle.change(design, -50.0).holds[1].degrees == -50.0


def test_a_step_shows_its_lengths_and_places():
    at = next(k for k, step in enumerate(DESIGN.alterations) if isinstance(step, Hinge))
    found = {one.word: one for one in dimensions(PATTERN, Selection("step", str(at)))}
    assert {word: one.value for word, one in found.items()} == {
        "opens by": 20.0,
        "opens at": 190.0,
        "turns about": 190.0,
    }
    assert found["opens by"].change(DESIGN, 25.0).alterations[at].amount == 25.0
    turned = found["turns about"].change(DESIGN, 180.0).alterations[at]
    assert turned.pivot == OnEdge("back.side", "back.waist", mm=180.0)


def test_a_patch_shows_how_far_along_its_edge_it_lies():
    found = of(DESIGN, Selection("line", "back-pocket"))
    place = found["Set the place of back-pocket"]
    assert place.value == pytest.approx(112.0, abs=1e-6)
    assert place.change(DESIGN, 120.0).line("back-pocket").path.at.mm == 120.0


def test_nothing_picked_shows_no_numbers():
    assert dimensions(PATTERN, Selection("join", "inseam")) == ()


def test_every_kind_of_hold_has_a_place_and_those_of_one_place_are_stacked():
    a, b = LinePoint("pocket-bag", 1), LinePoint("pocket-bag", 2)
    asked = (
        holds.Fixed(a, PATTERN.lines[1].nodes[1].at, active=False),
        holds.Level(a, b, active=False),
        holds.Upright(a, b, active=False),
        holds.Slides(LinePoint("pocket-bag", 0), "front.waist"),
        holds.FromCorner(LinePoint("pocket-bag", 4), "front.side", "front.waist", mm=300.0),
        holds.Distance(a, b, 100.0, active=False),
        holds.Angle(a, b, 10.0, active=False),
        holds.Parallel(
            a, b, LinePoint("hand-pocket", 0), LinePoint("hand-pocket", 2), 9.0, active=False
        ),
        holds.Mirrored(a, b, active=False),
        holds.Square("pocket-bag", "start"),
        holds.Smooth("pocket-bag", 1),
        holds.Length("pocket-bag", 390.0, active=False),
        holds.SameLength("pocket-bag", "yoke", 100.0, active=False),
        holds.CornersAdd("pocket-bag", "end", "hand-pocket", "end", active=False),
    )
    assert len({type(hold) for hold in asked}) == 14
    places = hold_places(asked, PATTERN.lines)
    assert [place.index for place in places] == list(range(14))
    marks = {(round(place.at.x, 3), round(place.at.y, 3), place.nth) for place in places}
    assert len(marks) == 14


def test_a_hold_of_a_line_that_is_not_drawn_has_no_mark():
    assert hold_places((holds.Length("gone", 10.0),), PATTERN.lines) == []
