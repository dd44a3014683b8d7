"""Style lines from what the maker asked for to curves on a panel."""

from __future__ import annotations

import itertools

from studio.block.panel import Panel
from studio.curves import Affine, Chain, Cubic, Edge, Point, Vector, through
from studio.cut.drawn import DrawnLine, DrawnNode, EdgePlace
from studio.design.lines import AnchoredPath, Node, OnEdge, PlacedPath, StyleLine
from studio.errors import GeometryRefused


def draw_line(line: StyleLine, panel: Panel) -> DrawnLine:
    """Lay a style line on a panel; lengths within 1e-6 mm.

    Raises:
        GeometryRefused: an end lies on an edge the panel lacks, or past the end of that edge;
            the two ends fall together; nodes fall on each other.
    """
    if isinstance(line.path, PlacedPath):
        return _draw_placed(line, line.path, panel)
    return _draw_anchored(line, line.path, panel)


def place_on_edge(panel: Panel, place: OnEdge) -> EdgePlace:
    """Where a maker's place lies along its edge.

    Raises:
        GeometryRefused: no such edge or corner, or further along than the edge is long.
    """
    edges = panel.outline.edges
    for index, edge in enumerate(edges):
        if edge.name != place.edge:
            continue
        length = edge.length
        wanted = place.mm if place.mm is not None else (place.share or 0.0) * length
        if not -1e-9 <= wanted <= length + 1e-9:
            raise GeometryRefused(
                f"{wanted:.1f} mm from {place.corner} is past the end of {place.edge}, "
                f"which is {length:.1f} mm long.",
                where=place.edge,
            )
        if edges[index - 1].name == place.corner:
            return EdgePlace(place.edge, wanted)
        if edges[(index + 1) % len(edges)].name == place.corner:
            return EdgePlace(place.edge, length - wanted)
        raise GeometryRefused(f"{place.edge} does not meet {place.corner}.", where=place.edge)
    raise GeometryRefused(f"{panel.name} has no edge {place.edge}.", where=place.edge)


def _draw_anchored(line: StyleLine, path: AnchoredPath, panel: Panel) -> DrawnLine:
    start, end = place_on_edge(panel, path.start), place_on_edge(panel, path.end)
    start_point = panel.outline.edge(start.edge).chain.at(start.distance)
    end_point = panel.outline.edge(end.edge).chain.at(end.distance)
    chord = end_point - start_point
    if chord.length < 1.0:
        raise GeometryRefused(f"The two ends of {line.name} fall together.", where=line.name)
    frame = Affine.frame(start_point, chord)
    nodes = (
        DrawnNode(start_point, False, None, _step(frame, start_point, path.start_handle)),
        *(_drawn(frame, node) for node in path.nodes),
        DrawnNode(end_point, False, _step(frame, end_point, path.end_handle), None),
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
        DrawnNode(seam.at, seam.smooth, closed[-1].handle_in, seam.handle_out),
        *closed[1:-1],
    )
    back = len(nodes) - first_corner
    return DrawnLine(line.name, line.panel, edges, opened[back:] + opened[:back], frame)


def _drawn(frame: Affine, node: Node) -> DrawnNode:
    at = frame(Point(node.at.x, node.at.y))
    return DrawnNode(
        at, node.smooth, _step(frame, at, node.handle_in), _step(frame, at, node.handle_out)
    )


def _step(frame: Affine, at: Point, handle: Vector | None) -> Point | None:
    return None if handle is None else at + frame.vector(handle)


def _edges(
    line: StyleLine, nodes: tuple[DrawnNode, ...]
) -> tuple[tuple[Edge, ...], tuple[DrawnNode, ...]]:
    """The stretches between corner nodes as edges, and the nodes with the handles in use."""
    corners = [0, *(k for k in range(1, len(nodes) - 1) if not nodes[k].smooth), len(nodes) - 1]
    edges: list[Edge] = []
    shown = list(nodes)
    for count, (first, last) in enumerate(itertools.pairwise(corners)):
        run = nodes[first : last + 1]
        cubics = _smooth_run(line, run)
        for k, cubic in enumerate(cubics, start=first):
            before, after = shown[k], shown[k + 1]
            shown[k] = DrawnNode(before.at, before.smooth, before.handle_in, cubic.p1)
            shown[k + 1] = DrawnNode(after.at, after.smooth, cubic.p2, after.handle_out)
        edges.append(Edge.whole(_stretch_name(line, count, len(corners) - 1), Chain(cubics)))
    return tuple(edges), tuple(shown)


def _stretch_name(line: StyleLine, index: int, count: int) -> str:
    if index < len(line.stretches):
        return f"{line.name}.{line.stretches[index]}"
    return line.name if count == 1 else f"{line.name}.{index + 1}"


def _smooth_run(line: StyleLine, run: tuple[DrawnNode, ...]) -> tuple[Cubic, ...]:
    points = [node.at for node in run]
    for one, two in itertools.pairwise(points):
        if one.distance_to(two) < 1e-3:
            raise GeometryRefused(f"Two nodes of {line.name} fall together.", where=line.name)
    drawn = through(points)
    cubics = []
    for k, cubic in enumerate(drawn):
        before, after = run[k], run[k + 1]
        inner_start, inner_end = k > 0, k + 1 < len(run) - 1
        one = before.handle_out or _opposite(before, before.handle_in, cubic.p1, inner_start)
        two = after.handle_in or _opposite(after, after.handle_out, cubic.p2, inner_end)
        if one is cubic.p1 and two is cubic.p2:
            cubics.append(cubic)
        else:
            cubics.append(Cubic(cubic.p0, one, two, cubic.p3))
    return tuple(cubics)


def _opposite(node: DrawnNode, other: Point | None, found: Point, inner: bool) -> Point:
    """A free handle of a smooth node points straight away from the one the maker set."""
    if other is None or not inner:
        return found
    away = node.at - other
    if away.length < 1e-9:
        return found
    return node.at + away.unit() * node.at.distance_to(found)
