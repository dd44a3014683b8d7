"""Style lines under holds, on the demonstration's panels and on other bodies."""

import msgspec
import numpy as np
import pytest
import shapely
from shapely import LineString

from studio.curves import Point, Vector, turn_between
from studio.cut import HeldDrag, draw_line, held, lines_held, linked
from studio.demo import demo_design
from studio.design import OnEdge, holds
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
    holds.Parallel(
        LinePoint("pocket-bag", 1),
        LinePoint("pocket-bag", 2),
        LinePoint("hand-pocket", 0),
        LinePoint("hand-pocket", 1),
        -60.0,
    ),
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


def test_there_is_one_of_each():
    assert {type(hold) for hold in ONE_OF_EACH} == set(holds.Hold.__args__)


def place(lines, point):
    node = lines[point.line].nodes[point.node]
    at = {"node": node.at, "in": node.handle_in, "out": node.handle_out}[point.part]
    return np.array([at.x, at.y])


def way(lines, a, b):
    return place(lines, b) - place(lines, a)


def unit(lines, a, b):
    return way(lines, a, b) / np.hypot(*way(lines, a, b))


def cross(u, v):
    return float(u[0] * v[1] - u[1] * v[0])


def chords(chain):
    """A chain as so short chords that shapely measures it, and along it, to 1e-5 mm."""
    return LineString([(p.x, p.y) for p in map(chain.at, np.linspace(0.0, chain.length, 20001))])


def on_edge(lines, point, name):
    """How far a point lies off an edge, and its distances along it from both ends, mm."""
    panel = next(panel for panel in PANELS.values() if panel.outline.has(name))
    edge, at = chords(panel.outline.edge(name).chain), shapely.Point(place(lines, point))
    return edge.distance(at), edge.project(at), edge.length - edge.project(at)


def off_corner(lines, hold):
    off, *along = on_edge(lines, hold.point, hold.edge)
    return off + min(abs(one - hold.mm) for one in along)


def off_mirror(lines, hold):
    axis = unit(lines, hold.c, hold.d)
    middle = (way(lines, hold.c, hold.a) + way(lines, hold.c, hold.b)) / 2.0
    return abs(cross(axis, middle)) + abs(float(axis @ way(lines, hold.a, hold.b)))


def off_parallel(lines, hold):
    along = unit(lines, hold.c, hold.d)
    return max(abs(cross(along, way(lines, hold.c, one)) - hold.mm) for one in (hold.a, hold.b))


def corner(lines, hold):
    """How a line turns at a node, mm2: nothing where its handles lie on one line and apart."""
    at, came, goes = (
        place(lines, LinePoint(hold.line, hold.node, part)) for part in ("node", "in", "out")
    )
    return abs(cross(at - came, goes - at)) + min(0.0, float((at - came) @ (goes - at)))


def leaves(line, at):
    """The angle between a line and the edge that it starts or ends on, degrees."""
    end = line.ends[0 if at == "start" else 1]
    edge = PANELS[line.panel].outline.edge(end.edge).chain.tangent(end.distance)
    into = line.chain.start_tangent if at == "start" else line.chain.end_tangent * -1.0
    return abs(turn_between(edge, into))


# Plane geometry of what the words of each hold say; lengths by shapely. Each in mm or degrees.
MISSED = {
    holds.Fixed: lambda on, h: np.hypot(*(place(on, h.point) - (h.at.x, h.at.y))),
    holds.Level: lambda on, h: way(on, h.a, h.b)[1],
    holds.Upright: lambda on, h: way(on, h.a, h.b)[0],
    holds.Slides: lambda on, h: on_edge(on, h.point, h.edge)[0],
    holds.FromCorner: off_corner,
    holds.Distance: lambda on, h: np.hypot(*way(on, h.a, h.b)) - h.mm,
    holds.Angle: lambda on, h: np.degrees(np.arctan2(*way(on, h.a, h.b)[::-1])) - h.degrees,
    holds.Parallel: off_parallel,
    holds.Mirrored: off_mirror,
    holds.Square: lambda on, h: leaves(on[h.line], h.at) - 90.0,
    holds.Smooth: corner,
    holds.Length: lambda on, h: chords(on[h.line].chain).length - h.mm,
    holds.SameLength: lambda on, h: (
        chords(on[h.line].chain).length - chords(on[h.other].chain).length - h.ease
    ),
    holds.CornersAdd: lambda on, h: (
        leaves(on[h.line], h.at) + leaves(on[h.other], h.other_at) - h.degrees
    ),
}


@pytest.mark.parametrize("hold", ONE_OF_EACH, ids=lambda hold: type(hold).__name__)
def test_each_hold_is_met_and_stays_met_when_solved_again(hold):
    lines = held(group_of(hold), PANELS, (hold,))
    assert MISSED[type(hold)](drawn(lines), hold) == pytest.approx(0.0, abs=1e-4)
    assert held(lines, PANELS, (hold,)) == lines
    if not isinstance(hold, holds.Slides | holds.Smooth):
        assert abs(MISSED[type(hold)](drawn(group_of(hold)), hold)) > 0.5


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


def test_a_line_whose_two_ends_are_held_in_one_place_is_told_and_not_read():
    # Both ends run along the rise, and are asked to stand at the same place of it.
    lower = OnEdge("back.rise", "back.waist", mm=90.0)
    line = msgspec.structs.replace(YOKE, path=msgspec.structs.replace(YOKE.path, end=lower))
    asked = tuple(
        holds.FromCorner(LinePoint("yoke", node), "back.rise", "back.waist", mm=60.0)
        for node in (0, len(line.path.nodes) + 1)
    )
    found = lines_held((line,), PANELS, asked)
    assert found.lines is None
    assert found.why_not == "The two ends of yoke fall together."
