"""Edits of style lines by hand: what a maker drags, nudges, adds or takes away. Pure."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import place_at, place_near
from studio.curves import Affine, Chain, Cubic, Point, Vector
from studio.cut.beside import set_free
from studio.cut.drawn import DrawnLine
from studio.design.design import Design
from studio.design.holds import renumbered
from studio.design.lines import AnchoredPath, Node, PlacedPath, StyleLine

GripKind: TypeAlias = Literal["start", "end", "node", "handle-in", "handle-out", "shape"]


class Grip(msgspec.Struct, frozen=True):
    """Something of a line that can be taken hold of. `index` counts the drawn line's nodes."""

    line: str
    kind: GripKind
    index: int = 0


def grips(line: StyleLine, drawn: DrawnLine) -> list[tuple[Grip, Point]]:
    """All grips of a line with their places, mm on the panel; nodes before handles."""
    found: list[tuple[Grip, Point]] = []
    last = len(drawn.nodes) - 1
    anchored = isinstance(line.path, AnchoredPath)
    for index, node in enumerate(drawn.nodes):
        kind: GripKind = "node"
        if anchored and index in (0, last):
            kind = "start" if index == 0 else "end"
        found.append((Grip(line.name, kind, index), node.at))
    for index, node in enumerate(drawn.nodes):
        if node.handle_in is not None:
            found.append((Grip(line.name, "handle-in", index), node.handle_in))
        if node.handle_out is not None:
            found.append((Grip(line.name, "handle-out", index), node.handle_out))
    if not anchored:
        found.append((Grip(line.name, "shape"), _middle(drawn)))
    return found


def place_of_grip(line: StyleLine, drawn: DrawnLine, grip: Grip) -> Point:
    """Where a grip lies now; raises KeyError when the line no longer has it."""
    for known, place in grips(line, drawn):
        if known == grip:
            return place
    raise KeyError(grip)


def moved(design: Design, drawn: DrawnLine, panel: Panel, grip: Grip, to: Point) -> Design:
    """The design with a grip brought to a place, as near as its edge allows.

    An end slides along its own edge and stays the kind of distance it is (mm or share); a handle
    of a smooth node turns its partner; a shape keeps its size and its turn. A line that keeps its
    distance from an edge no longer does when its shape is changed by a handle or a node.
    """
    line = design.line(grip.line)
    path = line.path
    changed: AnchoredPath | PlacedPath
    if isinstance(path, AnchoredPath):
        changed = _anchored(path, drawn, panel, grip, to)
    elif grip.kind == "shape":
        changed = _shape(path, drawn, panel, to)
    else:
        nodes = _node_changed(path.nodes, grip.index, drawn, grip, to)
        changed = replace(path, nodes=nodes)
    return design if changed == path else design.with_line(replace(line, path=changed))


def with_node(design: Design, drawn: DrawnLine, near: Point) -> Design:
    """The design with a smooth node added where the line passes nearest to a place. Handles that
    were set beside it are shortened as the curve is divided, so that it runs as it did.
    """
    line = design.line(drawn.name)
    chain = drawn.chain
    along, _ = chain.nearest(near)
    index, t = chain.place(along)
    halves = (chain.cubics[index].part(0.0, t), chain.cubics[index].part(t, 1.0))
    path = line.path
    if isinstance(path, AnchoredPath):
        place = index
        changed: AnchoredPath | PlacedPath = _divided(set_free(path, drawn), drawn, place, halves)
    else:
        place = _closed_index(drawn, index) + 1
        nodes = _parted(path.nodes, place - 1, place % len(path.nodes), drawn, halves)
        changed = replace(path, nodes=(*nodes[:place], nodes[-1], *nodes[place:-1]))
    made = design.with_line(replace(line, path=changed))
    first = place + isinstance(path, AnchoredPath)
    return replace(made, holds=renumbered(design.holds, line.name, first, 1))


def _divided(
    path: AnchoredPath, drawn: DrawnLine, place: int, halves: tuple[Cubic, Cubic]
) -> AnchoredPath:
    """The path with a node more in its cubic `place`."""
    start = Node(Vector(0.0, 0.0), handle_out=path.start_handle)
    end = Node(Vector(1.0, 0.0), handle_in=path.end_handle)
    every = (start, *path.nodes, end)
    *nodes, node = _parted(every, place, place + 1, drawn, halves)
    return replace(
        path,
        nodes=(*nodes[1 : place + 1], node, *nodes[place + 1 : -1]),
        start_handle=nodes[0].handle_out,
        end_handle=nodes[-1].handle_in,
    )


def _parted(
    nodes: tuple[Node, ...],
    before: int,
    after: int,
    drawn: DrawnLine,
    halves: tuple[Cubic, Cubic],
) -> tuple[Node, ...]:
    """Nodes with those on both sides of a divided cubic as it leaves them, and last of all the new
    one. Where no handle of the cubic was set, none is: they are found.
    """
    back = drawn.frame.inverse()
    one, two = halves
    at = back(one.p3)
    node, changed = Node(Vector(at.x, at.y)), list(nodes)
    if nodes[before].handle_out is not None or nodes[after].handle_in is not None:
        changed[before] = replace(nodes[before], handle_out=back.vector(one.p1 - one.p0))
        changed[after] = replace(changed[after], handle_in=back.vector(two.p2 - two.p3))
        node = replace(
            node,
            handle_in=back.vector(one.p2 - one.p3),
            handle_out=back.vector(two.p1 - two.p0),
        )
    return (*changed, node)


def without_node(design: Design, grip: Grip) -> Design:
    """The design without a node; ends stay, and a closed shape keeps three nodes."""
    line = design.line(grip.line)
    nodes = line.path.nodes
    anchored = isinstance(line.path, AnchoredPath)
    index = grip.index - 1 if anchored else grip.index
    if grip.kind != "node" or not 0 <= index < len(nodes) or (not anchored and len(nodes) <= 3):
        return design
    path = replace(line.path, nodes=(*nodes[:index], *nodes[index + 1 :]))
    made = design.with_line(replace(line, path=path))
    return replace(made, holds=renumbered(design.holds, line.name, grip.index, -1))


def toggled(design: Design, grip: Grip) -> Design:
    """The design with a node made smooth or a corner; its handles are found anew."""
    line = design.line(grip.line)
    index = grip.index - 1 if isinstance(line.path, AnchoredPath) else grip.index
    if grip.kind != "node" or not 0 <= index < len(line.path.nodes):
        return design
    node = line.path.nodes[index]
    fresh = Node(node.at, not node.smooth)
    nodes = (*line.path.nodes[:index], fresh, *line.path.nodes[index + 1 :])
    return design.with_line(replace(line, path=replace(line.path, nodes=nodes)))


def _anchored(
    path: AnchoredPath, drawn: DrawnLine, panel: Panel, grip: Grip, to: Point
) -> AnchoredPath:
    last = len(drawn.nodes) - 1
    if grip.kind == "start":
        return replace(path, start=place_near(panel, path.start, to))
    if grip.kind == "end":
        return replace(path, end=place_near(panel, path.end, to))
    step = drawn.frame.inverse().vector(to - drawn.nodes[grip.index].at)
    path = set_free(path, drawn)
    if grip.kind == "handle-out" and grip.index == 0:
        return replace(path, start_handle=step)
    if grip.kind == "handle-in" and grip.index == last:
        return replace(path, end_handle=step)
    return replace(path, nodes=_node_changed(path.nodes, grip.index - 1, drawn, grip, to))


def _node_changed(
    nodes: tuple[Node, ...], index: int, drawn: DrawnLine, grip: Grip, to: Point
) -> tuple[Node, ...]:
    node, back = nodes[index], drawn.frame.inverse()
    if grip.kind == "node":
        at = back(to)
        fresh = replace(node, at=Vector(at.x, at.y))
    else:
        fresh = _handle_changed(node, grip, back.vector(to - drawn.nodes[grip.index].at))
    return (*nodes[:index], fresh, *nodes[index + 1 :])


def _handle_changed(node: Node, grip: Grip, step: Vector) -> Node:
    """The node with one handle set; a smooth node's other handle, when set, turns along."""
    incoming = grip.kind == "handle-in"
    other = node.handle_out if incoming else node.handle_in
    if node.smooth and other is not None and step.length > 1e-9:
        other = step.unit() * -other.length
    return (
        replace(node, handle_in=step, handle_out=other)
        if incoming
        else replace(node, handle_in=other, handle_out=step)
    )


def _shape(path: PlacedPath, drawn: DrawnLine, panel: Panel, to: Point) -> PlacedPath:
    """The shape with its middle brought to a place: its origin's foot slides along its edge."""
    frame: Affine = drawn.frame
    origin = frame(Point(0.0, 0.0)) + (to - _middle(drawn))
    chain: Chain = panel.outline.edge(path.at.edge).chain
    along, _ = chain.nearest(origin)
    foot = chain.at(along)
    inward = (origin - foot).dot(chain.tangent(along).left())
    return replace(path, at=place_at(panel, path.at, along), inward=max(0.0, inward))


def _middle(drawn: DrawnLine) -> Point:
    count = len(drawn.nodes)
    return Point(
        sum(node.at.x for node in drawn.nodes) / count,
        sum(node.at.y for node in drawn.nodes) / count,
    )


def _closed_index(drawn: DrawnLine, cubic: int) -> int:
    """Index of the node a closed line's cubic starts from, in the maker's order."""
    start = drawn.chain.cubics[cubic].p0
    return min(range(len(drawn.nodes)), key=lambda index: drawn.nodes[index].at.distance_to(start))
