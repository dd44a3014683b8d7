"""Lines under holds while the hand moves them freely: a frame takes little work and never shows as
met what is not, and what is shown when the hand rests is what a fresh start gives.
"""

import msgspec
import pytest

from studio import pattern as road
from studio.curves import Vector
from studio.cut import draw_line, edit
from studio.demo import demo_design
from studio.design import holds
from studio.pattern import evaluate

DEMO = demo_design()
PLAIN = evaluate(DEMO)
YOKE = next(line for line in PLAIN.lines if line.name == "yoke")
PANEL = next(panel for panel in PLAIN.panels if panel.name == YOKE.panel)
STRAIGHT = YOKE.chain.start.distance_to(YOKE.chain.end)

SQUARES = (holds.Square("yoke", "start"), holds.Square("yoke", "end"))
CLASHING = {
    "two lengths": (holds.Length("yoke", 250.0), holds.Length("yoke", 280.0, name="as the belt")),
    "too short": (holds.Length("yoke", STRAIGHT - 40.0),),
    "too short and square": (*SQUARES, holds.Length("yoke", STRAIGHT - 40.0)),
}
MET = {
    "just met": (holds.Length("yoke", STRAIGHT + 0.01),),
    "just met and square": (*SQUARES, holds.Length("yoke", STRAIGHT + 0.5)),
    "ordinary": (*SQUARES, holds.Length("yoke", STRAIGHT + 10.0)),
}
MOST_OF_A_FRAME = 26
"""States of a sketch looked at: those that a frame has time for, and a few before and after."""


def dragged(asked, frames=8):
    """The yoke's node dragged freely, as a hand drags a line whose holds are not met."""
    grip, place = next(
        found for found in edit.grips(DEMO.line("yoke"), YOKE) if found[0].kind == "node"
    )
    design = msgspec.structs.replace(DEMO, holds=asked)
    for k in range(1, frames + 1):
        to = place + Vector(2.1 * k, 0.4 * k - 1.3 * (k % 3))
        yield edit.moved(design, YOKE, PANEL, grip, to)


def clashes(pattern):
    return [one.message for one in pattern.findings if one.rule == "hold"]


def length_of(pattern):
    return next(line for line in pattern.lines if line.name == "yoke").chain.length


@pytest.mark.parametrize("asked", [*CLASHING.values(), *MET.values()], ids=[*CLASHING, *MET])
def test_a_frame_takes_little_work_and_the_rest_gives_what_a_fresh_start_gives(asked, looked_at):
    road.forget()
    frames = list(dragged(asked))
    shown = evaluate(frames[0])
    for design in frames[1:]:
        looked_at.clear()
        shown = evaluate(design, shown)
        assert len(looked_at) <= MOST_OF_A_FRAME
    rested = evaluate(shown.design)
    road.forget()
    fresh = evaluate(frames[-1])
    assert rested == fresh
    assert not rested.draft


@pytest.mark.parametrize("asked", CLASHING.values(), ids=CLASHING)
def test_a_clash_is_told_in_every_frame_and_the_line_is_where_the_hand_has_it(asked):
    road.forget()
    frames = list(dragged(asked))
    shown = evaluate(frames[0])
    for design in frames[1:]:
        shown = evaluate(design, shown)
        [said] = clashes(shown)
        assert "Length, yoke" in said
        line = next(line for line in shown.lines if line.name == "yoke")
        assert line.chain == draw_line(design.line("yoke"), PANEL).chain
    assert clashes(evaluate(frames[-1])) == [said]


@pytest.mark.parametrize("asked", MET.values(), ids=MET)
def test_what_a_frame_shows_as_met_is_met_and_lies_near_where_it_comes_to_rest(asked):
    road.forget()
    frames = list(dragged(asked))
    shown = evaluate(frames[0])
    for design in frames[1:]:
        shown = evaluate(design, shown)
        assert shown.draft
        assert clashes(shown) == []
        assert length_of(shown) == pytest.approx(asked[-1].mm, abs=1e-6)
    rested = evaluate(frames[-1])
    assert length_of(rested) == pytest.approx(asked[-1].mm, abs=1e-6)
    under_hand, at_rest = (
        next(line for line in pattern.lines if line.name == "yoke") for pattern in (shown, rested)
    )
    for one, two in zip(under_hand.nodes, at_rest.nodes, strict=True):
        assert one.at.distance_to(two.at) < 0.5


def with_end_at(design, mm):
    line = design.line("yoke")
    end = msgspec.structs.replace(line.path.end, mm=mm)
    path = msgspec.structs.replace(line.path, end=end)
    return design.with_line(msgspec.structs.replace(line, path=path))


def test_a_clash_ends_under_the_hand_where_the_line_comes_to_be_long_enough():
    """A line is never shorter than the straight way between its ends (Euclid, Elements I.20)."""
    places = [30.0 + 6.0 * k for k in range(12)]
    straight = []
    for mm in places:
        chain = draw_line(with_end_at(DEMO, mm).line("yoke"), PANEL).chain
        straight.append(chain.start.distance_to(chain.end))
    asked = (holds.Length("yoke", (min(straight) + max(straight)) / 2.0),)
    road.forget()
    shown = evaluate(msgspec.structs.replace(with_end_at(DEMO, places[0]), holds=asked))
    told = []
    for mm in places[1:]:
        shown = evaluate(msgspec.structs.replace(with_end_at(DEMO, mm), holds=asked), shown)
        told.append(bool(clashes(shown)))
        if not told[-1]:
            assert length_of(shown) == pytest.approx(asked[0].mm, abs=1e-6)
    assert told == [far > asked[0].mm for far in straight[1:]]
    assert len(set(told)) == 2


def test_lines_that_are_held_lie_as_before_while_something_else_is_dragged(looked_at):
    road.forget()
    design = list(dragged(MET["just met"]))[-1]
    first = evaluate(design)
    pocket = design.line("hand-pocket")
    shown = first
    for k in range(4):
        end = msgspec.structs.replace(pocket.path.end, mm=170.0 + k)
        moved = msgspec.structs.replace(pocket, path=msgspec.structs.replace(pocket.path, end=end))
        looked_at.clear()
        shown = evaluate(design.with_line(moved), shown)
        assert looked_at == []
        assert length_of(shown) == length_of(first)
