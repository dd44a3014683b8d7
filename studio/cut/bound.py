"""Style lines tied together by holds, bound into one sketch for the solver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.constrain import Asked, PointRef, Run, Sketch, SketchNode, with_slides
from studio.constrain import kinds as rules
from studio.constrain.sketch import NodePart
from studio.curves import Chain, Point, Vector
from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.cut.hold_writers import asked_by
from studio.design import holds
from studio.design.holds import EndName, Hold, LinePoint
from studio.design.lines import AnchoredPath, StyleLine
from studio.errors import GeometryRefused


class Bound(msgspec.Struct, frozen=True):
    """Lines as one sketch: each line's nodes stand one after the other from `first`."""

    sketch: Sketch
    lines: tuple[StyleLine, ...]
    panels: tuple[Panel, ...]
    first: dict[str, int]
    drawn: tuple[DrawnLine, ...]


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
        asked = asked_by(self, hold)
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
        part: NodePart = point.part
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
