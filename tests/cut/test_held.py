"""Style lines under holds, on the demonstration's panels and on other bodies."""

import msgspec
import pytest

from studio.curves import Point, Vector, turn_between
from studio.cut import HeldDrag, draw_line, held, linked
from studio.demo import demo_design
from studio.design import holds
from studio.design.holds import LinePoint
from studio.pattern import evaluate

DESIGN = demo_design()
PANELS = {panel.name: panel for panel in evaluate(DESIGN).panels}
YOKE, MOUTH, BAG = (DESIGN.line(name) for name in ("yoke", "hand-pocket", "pocket-bag"))

SQUARE = holds.Square("yoke", "start")
SQUARE_AT_SIDE = holds.Square("yoke", "end")
LONGER = holds.Length("yoke", 265.0)

ONE_OF_EACH = [
    holds.Fixed(LinePoint("yoke", 1), Point(-30.0, 960.0)),
    holds.Level(LinePoint("yoke", 1), LinePoint("yoke", 2)),
    holds.Upright(LinePoint("pocket-bag", 1), LinePoint("pocket-bag", 2)),
    holds.Slides(LinePoint("yoke", 0), "back.rise"),
    holds.FromCorner(LinePoint("yoke", 2), "back.side", "back.waist", mm=44.0),
    holds.Distance(LinePoint("yoke", 0), LinePoint("yoke", 1), 140.0),
    holds.Angle(LinePoint("hand-pocket", 0), LinePoint("hand-pocket", 1), -70.0),
    holds.Mirrored(
        LinePoint("pocket-bag", 1),
        LinePoint("pocket-bag", 3),
        LinePoint("pocket-bag", 0),
        LinePoint("pocket-bag", 2),
    ),
    SQUARE,
    holds.Smooth("yoke", 1),
    LONGER,
    holds.SameLength("yoke", "hand-pocket", 100.0),
    holds.CornersAdd("yoke", "end", "hand-pocket", "end"),
]


def drawn(lines):
    return {line.name: draw_line(line, PANELS[line.panel]) for line in lines}


def group_of(*asked):
    lines = {line.name: line for line in DESIGN.lines}
    names = {name for hold in asked for name in holds.lines_in(hold)}
    return tuple(line for name, line in lines.items() if name in names)


@pytest.mark.parametrize("hold", ONE_OF_EACH, ids=lambda hold: type(hold).__name__)
def test_each_hold_is_met_and_stays_met_when_solved_again(hold):
    lines = held(group_of(hold), PANELS, (hold,))
    assert held(lines, PANELS, (hold,)) == lines
    moved = [one != two for one, two in zip(lines, group_of(hold), strict=True)]
    assert any(moved) or isinstance(hold, holds.Slides | holds.Smooth)


def test_a_line_square_to_both_edges_with_a_length_keeps_all_of_it():
    asked = (SQUARE, SQUARE_AT_SIDE, LONGER)
    line = drawn(held((YOKE,), PANELS, asked))["yoke"]
    assert line.chain.length == pytest.approx(265.0, abs=1e-6)
    for place, direction in zip(
        line.ends, (line.chain.start_tangent, line.chain.end_tangent), strict=True
    ):
        edge = PANELS["back"].outline.edge(place.edge).chain.tangent(place.distance)
        assert abs(turn_between(edge, direction)) == pytest.approx(90.0, abs=1e-6)


def test_ends_keep_their_distances_unless_they_slide():
    line = held((YOKE,), PANELS, (LONGER,))[0]
    assert (line.path.start.mm, line.path.end.mm) == pytest.approx((80.0, 30.0), abs=1e-6)
    free = holds.Slides(LinePoint("yoke", 2), "back.side")
    slid = held((YOKE,), PANELS, (holds.Length("yoke", 300.0), free))[0]
    assert slid.path.start.mm == pytest.approx(80.0, abs=1e-6)
    assert abs(slid.path.end.mm - 30.0) > 1.0


def test_lines_tied_by_a_hold_are_one_group():
    asked = [holds.SameLength("yoke", "hand-pocket"), holds.Square("pocket-bag", "end")]
    assert linked(DESIGN.lines, asked) == [["hand-pocket", "yoke"], ["pocket-bag"]]
    off = [msgspec.structs.replace(hold, active=False) for hold in asked]
    assert linked(DESIGN.lines, off) == []


def test_holds_that_clash_are_told_by_name_and_the_line_stays():
    clash = (holds.Length("yoke", 250.0), holds.Length("yoke", 280.0, name="as the belt"))
    pattern = evaluate(msgspec.structs.replace(DESIGN, holds=clash))
    told = [finding.message for finding in pattern.findings if finding.rule == "hold"]
    assert len(told) == 1
    assert "as the belt" in told[0]
    assert "Length, yoke" in told[0]
    plain = next(line for line in evaluate(DESIGN).lines if line.name == "yoke")
    assert next(line for line in pattern.lines if line.name == "yoke").chain == plain.chain


def test_a_hold_on_a_line_that_is_gone_is_told():
    lost = holds.SameLength("yoke", "braces")
    pattern = evaluate(msgspec.structs.replace(DESIGN, holds=(lost,)))
    assert any("braces" in finding.message for finding in pattern.findings)


def test_holds_hold_on_another_body():
    wider = msgspec.structs.replace(DESIGN.body, hip_girth=1090.0, waist_girth=880.0)
    asked = (SQUARE, SQUARE_AT_SIDE)
    pattern = evaluate(msgspec.structs.replace(DESIGN, body=wider, holds=asked))
    line = next(line for line in pattern.lines if line.name == "yoke")
    back = next(panel for panel in pattern.panels if panel.name == "back")
    edge = back.outline.edge("back.side").chain.tangent(line.ends[1].distance)
    assert abs(turn_between(edge, line.chain.end_tangent)) == pytest.approx(90.0, abs=1e-6)


def test_a_drag_keeps_the_holds_and_moves_the_line():
    asked = (SQUARE, LONGER)
    drag = HeldDrag((YOKE,), PANELS, asked, LinePoint("yoke", 1))
    start = drawn(held((YOKE,), PANELS, asked))["yoke"].nodes[1].at
    for k in range(1, 16):
        drag.to(Point(start.x + 1.5 * k, start.y + 0.5 * k))
    line = drawn(drag.release())["yoke"]
    assert line.nodes[1].at.distance_to(start) > 5.0
    assert line.chain.length == pytest.approx(265.0, abs=1e-6)


def test_a_corner_made_smooth_turns_its_handles_and_keeps_their_lengths():
    node = msgspec.structs.replace(YOKE.path.nodes[0], at=Vector(0.4, 0.3), smooth=False)
    path = msgspec.structs.replace(YOKE.path, nodes=(node,))
    sharp = msgspec.structs.replace(YOKE, path=path)
    before = draw_line(sharp, PANELS["back"]).nodes[1]
    (line,) = held((sharp,), PANELS, (holds.Smooth("yoke", 1),))
    after = draw_line(line, PANELS["back"]).nodes[1]
    assert abs(turn_between(before.at - before.handle_in, before.handle_out - before.at)) > 40.0
    assert turn_between(after.at - after.handle_in, after.handle_out - after.at) == pytest.approx(
        0.0, abs=1e-6
    )
    for one, two in (("handle_in", "handle_in"), ("handle_out", "handle_out")):
        was = before.at.distance_to(getattr(before, one))
        now = after.at.distance_to(getattr(after, two))
        assert now == pytest.approx(was, rel=0.02)
