"""Style lines from what the maker asked for to curves on a panel."""

from __future__ import annotations

import itertools

from studio.block.panel import Panel
from studio.block.places import place_on_edge
from studio.curves import Affine, Chain, Edge, Point, Vector
from studio.curves.path import PathNode, smooth_run
from studio.cut.beside import draw_beside
from studio.cut.drawn import DrawnLine
from studio.design.lines import AnchoredPath, Node, PlacedPath, StyleLine
from studio.errors import GeometryRefused


def draw_line(line: StyleLine, panel: Panel) -> DrawnLine:
    """Lay a style line on a panel; lengths within 1e-6 mm.

    Raises:
        GeometryRefused: an end lies on an edge the panel lacks, or past the end of that edge;
            the two ends fall together; nodes fall on each other; or as `draw_beside`.
    """
    if isinstance(line.path, PlacedPath):
        return _draw_placed(line, line.path, panel)
    if line.path.beside:
        return draw_beside(line, line.path, panel)
    return _draw_anchored(line, line.path, panel)


def _draw_anchored(line: StyleLine, path: AnchoredPath, panel: Panel) -> DrawnLine:
    start, end = place_on_edge(panel, path.start), place_on_edge(panel, path.end)
    start_point = panel.outline.edge(start.edge).chain.at(start.distance)
    end_point = panel.outline.edge(end.edge).chain.at(end.distance)
    chord = end_point - start_point
    if chord.length < 1.0:
        raise GeometryRefused(f"The two ends of {line.name} fall together.", where=line.name)
    frame = Affine.frame(start_point, chord)
    nodes = (
        PathNode(start_point, False, None, _step(frame, start_point, path.start_handle)),
        *(_drawn(frame, node) for node in path.nodes),
        PathNode(end_point, False, _step(frame, end_point, path.end_handle), None),
    )
    edges, nodes = _edges(line, nodes)
    return DrawnLine(line.name, line.panel, edges, nodes, frame, (start, end))


def _draw_placed(line: StyleLine, path: PlacedPath, panel: Panel) -> DrawnLine:
    if len(path.nodes) < 2:
        raise GeometryRefused(f"{line.name} needs at least two nodes.", where=line.name)
    place = place_on_edge(panel, path.at)
    chain = panel.outline.edge(place.edge).chain
    inward = chain.tangent(place.distance).left()
    origin = chain.at(place.distance) + inward * path.inward
    frame = Affine.frame(origin, Vector.at_angle(path.turn))
    nodes = tuple(_drawn(frame, node) for node in path.nodes)
    first_corner = next((k for k, node in enumerate(nodes) if not node.smooth), 0)
    turned = nodes[first_corner:] + nodes[:first_corner]
    edges, closed = _edges(line, (*turned, turned[0]))
    seam = closed[0]
    opened = (
        PathNode(seam.at, seam.smooth, closed[-1].handle_in, seam.handle_out),
        *closed[1:-1],
    )
    back = len(nodes) - first_corner
    return DrawnLine(line.name, line.panel, edges, opened[back:] + opened[:back], frame)


def _drawn(frame: Affine, node: Node) -> PathNode:
    at = frame(Point(node.at.x, node.at.y))
    return PathNode(
        at, node.smooth, _step(frame, at, node.handle_in), _step(frame, at, node.handle_out)
    )


def _step(frame: Affine, at: Point, handle: Vector | None) -> Point | None:
    return None if handle is None else at + frame.vector(handle)


def _edges(
    line: StyleLine, nodes: tuple[PathNode, ...]
) -> tuple[tuple[Edge, ...], tuple[PathNode, ...]]:
    """The stretches between corner nodes as edges, and the nodes with the handles in use."""
    corners = [0, *(k for k in range(1, len(nodes) - 1) if not nodes[k].smooth), len(nodes) - 1]
    edges: list[Edge] = []
    shown = list(nodes)
    for count, (first, last) in enumerate(itertools.pairwise(corners)):
        run = nodes[first : last + 1]
        cubics = smooth_run(line.name, run)
        for k, cubic in enumerate(cubics, start=first):
            before, after = shown[k], shown[k + 1]
            shown[k] = PathNode(before.at, before.smooth, before.handle_in, cubic.p1)
            shown[k + 1] = PathNode(after.at, after.smooth, cubic.p2, after.handle_out)
        edges.append(Edge.whole(_stretch_name(line, count, len(corners) - 1), Chain(cubics)))
    return tuple(edges), tuple(shown)


def _stretch_name(line: StyleLine, index: int, count: int) -> str:
    if index < len(line.stretches):
        return f"{line.name}.{line.stretches[index]}"
    return line.name if count == 1 else f"{line.name}.{index + 1}"
