"""Style lines under holds: bound into one sketch, solved, and read back as the maker's lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import place_at, place_on_edge
from studio.constrain import (
    Asked,
    Drag,
    PointRef,
    Run,
    Sketch,
    SketchNode,
    solved,
    with_slides,
)
from studio.constrain import kinds as rules
from studio.constrain.limits import DRAG_MM
from studio.constrain.sketch import Part
from studio.constrain.system import System
from studio.curves import Affine, Chain, Point, Vector
from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.design import holds
from studio.design.holds import EndName, Hold, LinePoint
from studio.design.lines import AnchoredPath, Node, StyleLine
from studio.errors import BadInput, GeometryRefused


class Bound(msgspec.Struct, frozen=True):
    """Lines as one sketch: each line's nodes stand one after the other from `first`."""

    sketch: Sketch
    lines: tuple[StyleLine, ...]
    panels: tuple[Panel, ...]
    first: dict[str, int]
    drawn: tuple[DrawnLine, ...]


def linked(lines: Sequence[StyleLine], asked: Sequence[Hold]) -> list[list[str]]:
    """Names of lines that active holds tie together, group by group, in the lines' order."""
    known = {line.name for line in lines}
    group: dict[str, set[str]] = {}
    for hold in asked:
        if not hold.active:
            continue
        names = {name for name in holds.lines_in(hold) if name in known}
        merged = set(names).union(*(group.get(name, set()) for name in names))
        for name in merged:
            group[name] = merged
    found: list[list[str]] = []
    for line in lines:
        if line.name in group and not any(line.name in one for one in found):
            found.append([other.name for other in lines if other.name in group[line.name]])
    return found


def bound(lines: Sequence[StyleLine], panels: Mapping[str, Panel], asked: Sequence[Hold]) -> Bound:
    """The sketch of lines tied together by holds, drawn where their own paths lead.

    Raises:
        GeometryRefused: a line cannot be drawn, is a closed shape, or a hold names a line, node
            or edge that is not there.
    """
    builder = _Builder(lines, panels)
    for line in lines:
        builder.add_line(line, asked)
    for hold in asked:
        if hold.active:
            builder.add_hold(hold)
    return builder.made()


def held(
    lines: Sequence[StyleLine], panels: Mapping[str, Panel], asked: Sequence[Hold]
) -> tuple[StyleLine, ...]:
    """The lines moved as little as it takes to meet all active holds, within 1e-9 mm; lines that
    meet them within 1e-4 already, as in a drag, are given back as they are.

    Raises:
        GeometryRefused: as `bound`, or the holds cannot all be met; the sentence names them.
    """
    tied = bound(lines, panels, asked)
    try:
        system = System(tied.sketch)
        if system.worst(system.base) <= DRAG_MM:
            return tuple(lines)
        solution = solved(tied.sketch)
    except BadInput as problem:
        raise GeometryRefused(problem.message, where=problem.where or lines[0].name) from problem
    if not solution.met:
        names = "; ".join(solution.unmet)
        raise GeometryRefused(
            f"These cannot all hold: {names}. Switch one off or change its number.",
            where=lines[0].name,
        )
    return read_back(tied, solution.sketch)


def read_back(tied: Bound, sketch: Sketch) -> tuple[StyleLine, ...]:
    """The lines as the sketch has them, their nodes and handles set."""
    return tuple(
        _read(tied, sketch, line, panel)
        for line, panel in zip(tied.lines, tied.panels, strict=True)
    )


class HeldDrag:
    """A point of a line dragged while all holds on it, and on the lines tied to it, keep."""

    def __init__(
        self,
        lines: Sequence[StyleLine],
        panels: Mapping[str, Panel],
        asked: Sequence[Hold],
        point: LinePoint,
    ) -> None:
        """Take hold of a point; raises GeometryRefused as `held` does."""
        self._tied = bound(held(lines, panels, asked), panels, asked)
        ref = PointRef(self._tied.first[point.line] + point.node, point.part)
        try:
            self._drag = Drag(self._tied.sketch, ref)
        except BadInput as problem:
            raise GeometryRefused(problem.message, where=point.line) from problem

    @property
    def held_back(self) -> bool:
        """True when the holds keep the point from the mouse."""
        return self._drag.held_back

    def to(self, mouse: Point) -> tuple[StyleLine, ...]:
        """The lines with the point as near to a place on its panel as the holds allow."""
        return read_back(self._tied, self._drag.to(mouse))

    def release(self) -> tuple[StyleLine, ...]:
        """The lines with all holds met within 1e-9 mm."""
        return read_back(self._tied, self._drag.release())


class _Builder:
    """Collects nodes, runs and requests."""

    def __init__(self, lines: Sequence[StyleLine], panels: Mapping[str, Panel]) -> None:
        self._lines = {line.name: line for line in lines}
        self._panels = panels
        self._nodes: list[SketchNode] = []
        self._runs: dict[str, Run] = {}
        self._asked: list[Asked] = []
        self._first: dict[str, int] = {}
        self._drawn: dict[str, DrawnLine] = {}
        self._edges_of_ends: dict[tuple[str, EndName], str] = {}

    def made(self) -> Bound:
        """The sketch of all that was added, slides set to where the points lie."""
        sketch = Sketch(
            tuple(self._nodes),
            tuple(self._runs.values()),
            tuple(self._asked),
            tuple(0.0 for asked in self._asked if asked.slides),
        )
        lines = tuple(self._lines.values())
        return Bound(
            with_slides(sketch),
            lines,
            tuple(self._panels[line.panel] for line in lines),
            self._first,
            tuple(self._drawn.values()),
        )

    def add_line(self, line: StyleLine, asked: Sequence[Hold]) -> None:
        """A line's nodes, its ends on their edges, its smooth nodes."""
        if not isinstance(line.path, AnchoredPath):
            raise GeometryRefused(
                f"{line.name} is a closed shape, on which nothing can be held.", where=line.name
            )
        if line.panel not in self._panels:
            raise GeometryRefused(f"There is no panel {line.panel}.", where=line.name)
        panel = self._panels[line.panel]
        drawn = self._drawn[line.name] = draw_line(line, panel)
        first = self._first[line.name] = len(self._nodes)
        for node in drawn.nodes:
            self._nodes.append(
                SketchNode(
                    node.at,
                    None if node.handle_in is None else node.handle_in - node.at,
                    None if node.handle_out is None else node.handle_out - node.at,
                )
            )
        last = len(drawn.nodes) - 1
        self._runs[line.name] = Run(line.name, tuple(range(first, first + last + 1)))
        free = {
            hold.point.node
            for hold in asked
            if isinstance(hold, holds.Slides | holds.FromCorner)
            and hold.active
            and hold.point.line == line.name
        }
        ends: tuple[tuple[EndName, int], ...] = (("start", 0), ("end", last))
        for which, index in ends:
            place = line.path.start if which == "start" else line.path.end
            self._edges_of_ends[line.name, which] = place.edge
            self._add_edge(panel, place.edge)
            if index not in free:
                self._keep_end(line, which, first + index)
        for index, node in enumerate(drawn.nodes):
            if 0 < index < last and node.smooth:
                name = f"node {index} of {line.name} is smooth"
                self._asked.append(rules.Smooth(name=name, node=first + index))

    def add_hold(self, hold: Hold) -> None:
        """What a hold asks for."""
        asked = _WRITERS[type(hold)](self, hold)
        taken = {known.name for known in self._asked}
        name, count = asked.name, 1
        while name in taken:
            count += 1
            name = f"{asked.name} ({count})"
        self._asked.append(replace(asked, name=name))

    def point(self, point: LinePoint) -> PointRef:
        """A point of a line in the sketch."""
        line = self._lines.get(point.line)
        if line is None:
            raise GeometryRefused(f"There is no line {point.line}.", where=point.line)
        count = len(self._drawn[point.line].nodes)
        if not 0 <= point.node < count:
            raise GeometryRefused(
                f"{point.line} has {count} nodes and no node {point.node}.", where=point.line
            )
        part: Part = point.part
        return PointRef(self._first[point.line] + point.node, part)

    def end(self, line: str, which: EndName) -> tuple[str, bool, str]:
        """A line's end: its run, whether it is the run's end, and the run it lies on."""
        self.run(line)
        panel = self._lines[line].panel
        return line, which == "end", f"{panel}/{self._edges_of_ends[line, which]}"

    def run(self, name: str) -> str:
        """A line's run, or the run of an edge of any panel."""
        if name in self._lines:
            return name
        for panel in self._panels.values():
            if panel.outline.has(name):
                return self._add_edge(panel, name)
        raise GeometryRefused(f"There is no line or edge {name}.", where=name)

    def edge(self, line: str, name: str) -> str:
        """The run of an edge of a line's panel."""
        return self._add_edge(self._panels[self._lines[line].panel], name)

    def from_start(self, line: str, edge: str, corner: str) -> bool:
        """True when a corner is where an edge of the line's panel starts."""
        panel = self._panels[self._lines[line].panel]
        edges = panel.outline.edges
        for index, known in enumerate(edges):
            if known.name == edge and edges[index - 1].name == corner:
                return True
            if known.name == edge and edges[(index + 1) % len(edges)].name == corner:
                return False
        raise GeometryRefused(f"{edge} does not meet {corner}.", where=edge)

    def crease(self) -> tuple[PointRef, PointRef]:
        """Two held points on the crease line."""
        at = len(self._nodes)
        self._nodes += [SketchNode(Point(0.0, y), held=True) for y in (0.0, 1000.0)]
        return PointRef(at), PointRef(at + 1)

    def smooth_node(self, line: str, node: int) -> int:
        """The node's number in the sketch."""
        return self.point(LinePoint(line, node)).node

    def _keep_end(self, line: StyleLine, which: EndName, node: int) -> None:
        assert isinstance(line.path, AnchoredPath)
        place = line.path.start if which == "start" else line.path.end
        starts = self.from_start(line.name, place.edge, place.corner)
        self._asked.append(
            rules.FromEnd(
                name=f"the {which} of {line.name} on {place.edge}",
                point=PointRef(node),
                run=f"{line.panel}/{place.edge}",
                from_end=not starts,
                mm=place.mm,
                share=place.share,
            )
        )

    def _add_edge(self, panel: Panel, name: str) -> str:
        """A panel's edge as a held run; its key."""
        key = f"{panel.name}/{name}"
        if key in self._runs:
            return key
        if not panel.outline.has(name):
            raise GeometryRefused(f"{panel.name} has no edge {name}.", where=name)
        chain: Chain = panel.outline.edge(name).chain
        first = len(self._nodes)
        into: Vector | None = None
        for cubic in chain.cubics:
            self._nodes.append(SketchNode(cubic.p0, into, cubic.p1 - cubic.p0, True))
            into = cubic.p2 - cubic.p3
        self._nodes.append(SketchNode(chain.end, into, None, True))
        self._runs[key] = Run(key, tuple(range(first, len(self._nodes))))
        return key


def _fixed(build: _Builder, hold: holds.Fixed) -> Asked:
    return rules.Fixed(name=holds.title_of(hold), point=build.point(hold.point), at=hold.at)


def _level(build: _Builder, hold: holds.Level) -> Asked:
    return rules.Level(name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b))


def _upright(build: _Builder, hold: holds.Upright) -> Asked:
    return rules.Upright(name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b))


def _slides(build: _Builder, hold: holds.Slides) -> Asked:
    point = build.point(hold.point)
    return rules.OnRun(
        name=holds.title_of(hold), point=point, run=build.edge(hold.point.line, hold.edge)
    )


def _from_corner(build: _Builder, hold: holds.FromCorner) -> Asked:
    point = build.point(hold.point)
    return rules.FromEnd(
        name=holds.title_of(hold),
        point=point,
        run=build.edge(hold.point.line, hold.edge),
        from_end=not build.from_start(hold.point.line, hold.edge, hold.corner),
        mm=hold.mm,
        share=hold.share,
    )


def _distance(build: _Builder, hold: holds.Distance) -> Asked:
    return rules.Distance(
        name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b), mm=hold.mm
    )


def _angle(build: _Builder, hold: holds.Angle) -> Asked:
    return rules.Angle(
        name=holds.title_of(hold),
        a=build.point(hold.a),
        b=build.point(hold.b),
        c=None if hold.c is None else build.point(hold.c),
        d=None if hold.d is None else build.point(hold.d),
        degrees=hold.degrees,
    )


def _parallel(build: _Builder, hold: holds.Parallel) -> Asked:
    a, b, c, d = (build.point(point) for point in (hold.a, hold.b, hold.c, hold.d))
    return rules.Parallel(name=holds.title_of(hold), a=a, b=b, c=c, d=d, mm=hold.mm)


def _mirrored(build: _Builder, hold: holds.Mirrored) -> Asked:
    if hold.c is not None and hold.d is not None:
        about = build.point(hold.c), build.point(hold.d)
    else:
        about = build.crease()
    return rules.Mirror(
        name=holds.title_of(hold),
        a=build.point(hold.a),
        b=build.point(hold.b),
        c=about[0],
        d=about[1],
    )


def _square(build: _Builder, hold: holds.Square) -> Asked:
    run, from_end, other = build.end(hold.line, hold.at)
    return rules.Square(
        name=holds.title_of(hold),
        run=run,
        from_end=from_end,
        other=other,
    )


def _smooth(build: _Builder, hold: holds.Smooth) -> Asked:
    return rules.Smooth(name=holds.title_of(hold), node=build.smooth_node(hold.line, hold.node))


def _length(build: _Builder, hold: holds.Length) -> Asked:
    return rules.RunLength(name=holds.title_of(hold), run=build.run(hold.line), mm=hold.mm)


def _same_length(build: _Builder, hold: holds.SameLength) -> Asked:
    return rules.SameLength(
        name=holds.title_of(hold),
        run=build.run(hold.line),
        other=build.run(hold.other),
        ease=hold.ease,
    )


def _corners_add(build: _Builder, hold: holds.CornersAdd) -> Asked:
    one = rules.Corner(*build.end(hold.line, hold.at))
    two = rules.Corner(*build.end(hold.other, hold.other_at))
    return rules.CornerSum(name=holds.title_of(hold), one=one, two=two, degrees=hold.degrees)


_WRITERS: dict[type[Hold], Callable[[_Builder, Any], Asked]] = {
    holds.Fixed: _fixed,
    holds.Level: _level,
    holds.Upright: _upright,
    holds.Slides: _slides,
    holds.FromCorner: _from_corner,
    holds.Distance: _distance,
    holds.Angle: _angle,
    holds.Parallel: _parallel,
    holds.Mirrored: _mirrored,
    holds.Square: _square,
    holds.Smooth: _smooth,
    holds.Length: _length,
    holds.SameLength: _same_length,
    holds.CornersAdd: _corners_add,
}


def _read(tied: Bound, sketch: Sketch, line: StyleLine, panel: Panel) -> StyleLine:
    path = line.path
    assert isinstance(path, AnchoredPath)
    first = tied.first[line.name]
    nodes = sketch.nodes[first : first + len(path.nodes) + 2]
    start = place_at(panel, path.start, _along(panel, path.start.edge, nodes[0].at))
    end = place_at(panel, path.end, _along(panel, path.end.edge, nodes[-1].at))
    feet = [
        panel.outline.edge(place.edge).chain.at(place_on_edge(panel, place).distance)
        for place in (start, end)
    ]
    back = Affine.frame(feet[0], feet[1] - feet[0]).inverse()

    def handle(step: Vector | None) -> Vector | None:
        return None if step is None else back.vector(step)

    inner = []
    for old, node in zip(path.nodes, nodes[1:-1], strict=True):
        at = back(node.at)
        inner.append(
            Node(Vector(at.x, at.y), old.smooth, handle(node.handle_in), handle(node.handle_out))
        )
    return replace(
        line,
        path=AnchoredPath(
            start, end, tuple(inner), handle(nodes[0].handle_out), handle(nodes[-1].handle_in)
        ),
    )


def _along(panel: Panel, edge: str, at: Point) -> float:
    return panel.outline.edge(edge).chain.nearest(at)[0]
