"""Reshape an edge by hand: nodes and handles between its two ends, which stay."""

from __future__ import annotations

import itertools
from typing import Any

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import (
    closed_stretches,
    closing_moves,
    darts_on,
    edge_of,
    reopened,
    with_edge,
)
from studio.alter.kind import Drafting, Field, Handle, Kind, Say
from studio.block.panel import Panel
from studio.curves import Affine, Chain, Cubic, Point, Vector
from studio.curves.path import PathNode, smooth_run
from studio.design.alterations import Reshape
from studio.design.lines import Node
from studio.errors import GeometryRefused


class ReshapeKind(Kind[Reshape]):
    """The edge is drawn with its darts closed, in the frame of its chord, so that it follows when
    the block changes.
    """

    title = "Reshape by hand"
    fields = (Field("edge", "Edge", "edge"),)

    def do(self, panel: Panel, step: Reshape) -> Panel:
        """Raises GeometryRefused when nodes fall together or the edge misses a dart's legs."""
        chain = edge_of(panel, step.edge).chain
        darts = darts_on(panel, step.edge)
        nodes = _nodes(panel, step)
        corners = [0, *(k for k in range(1, len(nodes) - 1) if not nodes[k].smooth), len(nodes) - 1]
        cubics: list[Cubic] = []
        for low, high in itertools.pairwise(corners):
            cubics += smooth_run(step.edge, nodes[low : high + 1])
        redrawn, placed = reopened(Chain(tuple(cubics)), darts, chain.start, chain.end)
        return with_edge(panel, step.edge, redrawn, placed)

    def sentence(self, step: Reshape, say: Say = numbers.length) -> str:
        """Which edge."""
        del say
        count = len(step.nodes)
        through = "" if count == 0 else f", through {count} point{'s' if count > 1 else ''}"
        return f"Redraw {step.edge} by hand{through}."

    def handles(self, panel: Panel, step: Reshape) -> tuple[Handle, ...]:
        """Every node, and the handles that are set."""
        try:
            nodes = _nodes(panel, step)
        except GeometryRefused:
            return ()
        found = [Handle(f"node {k}", node.at) for k, node in enumerate(nodes[1:-1])]
        for k, node in enumerate(nodes[1:-1]):
            if node.handle_in is not None:
                found.append(Handle(f"in {k}", node.handle_in))
            if node.handle_out is not None:
                found.append(Handle(f"out {k}", node.handle_out))
        if nodes[0].handle_out is not None:
            found.append(Handle("start_handle", nodes[0].handle_out))
        if nodes[-1].handle_in is not None:
            found.append(Handle("end_handle", nodes[-1].handle_in))
        return tuple(found)

    def dragged(self, panel: Panel, step: Reshape, field: str, to: Point) -> Reshape:
        """A node or a handle brought to a place; a smooth node's other handle turns along."""
        frame = _frame(panel, step.edge)
        back = frame.inverse()
        nodes = _nodes(panel, step)
        if field in ("start_handle", "end_handle"):
            foot = nodes[0].at if field == "start_handle" else nodes[-1].at
            return self._with(step, field, back.vector(to - foot))
        what, _, number = field.partition(" ")
        index = int(number)
        node = step.nodes[index]
        changes: dict[str, Any] = {}
        if what == "node":
            at = back(to)
            changes["at"] = Vector(at.x, at.y)
        else:
            handle = back.vector(to - nodes[index + 1].at)
            changes["handle_in" if what == "in" else "handle_out"] = handle
            other = node.handle_out if what == "in" else node.handle_in
            if node.smooth and other is not None and handle.length > 1e-9:
                turned = handle.unit() * -other.length
                changes["handle_out" if what == "in" else "handle_in"] = turned
        fresh: Node = replace(node, **changes)
        return replace(step, nodes=(*step.nodes[:index], fresh, *step.nodes[index + 1 :]))

    def drafting(self, panel: Panel, step: Reshape, say: Say = numbers.length) -> Drafting:
        """Each point by its distance along the chord and square to it."""
        self.do(panel, step)
        nodes = _nodes(panel, step)
        frame = _frame(panel, step.edge)
        length = frame.vector(Vector(1.0, 0.0)).length
        sentences = [f"Rule a thin line from {{0}} to {{1}}, the ends of {step.edge}."]
        for k, node in enumerate(step.nodes):
            side = "left" if node.at.y >= 0.0 else "right"
            sentences.append(
                f"On it measure {say(node.at.x * length)} from {{0}}, then "
                f"{say(abs(node.at.y) * length)} square to it, to its {side} seen from {{0}}, "
                f"and mark {{{k + 2}}}."
            )
        sentences.append(f"Draw {step.edge} in one smooth curve through these points.")
        points = (nodes[0].at, nodes[-1].at, *(node.at for node in nodes[1:-1]))
        return Drafting(points, tuple(sentences))

    def fresh(self, panel: Panel) -> Reshape:
        """The side seam, through one point of it."""
        return reshape_of(panel, f"{panel.name}.side", 1)


def reshape_of(panel: Panel, edge: str, count: int) -> Reshape:
    """A step that draws an edge through `count` of its own points, evenly spaced.

    Raises:
        GeometryRefused: the panel has no such edge.
    """
    frame = _frame(panel, edge)
    darts = darts_on(panel, edge)
    stretches = closed_stretches(panel.outline.edge(edge).chain, darts)
    closed = Chain(tuple(cubic for stretch in stretches for cubic in stretch.cubics))
    back = frame.inverse()
    nodes = []
    for k in range(1, count + 1):
        at = back(closed.at(closed.length * k / (count + 1)))
        nodes.append(Node(Vector(at.x, at.y)))
    third = closed.length / (count + 1) / 3.0
    return Reshape(
        panel.name,
        edge,
        tuple(nodes),
        back.vector(closed.start_tangent * third),
        back.vector(closed.end_tangent * -third),
    )


def _frame(panel: Panel, edge: str) -> Affine:
    """From shares of the chord of the closed edge to panel mm."""
    chain = edge_of(panel, edge).chain
    end = closing_moves(darts_on(panel, edge))[-1](chain.end)
    if end.distance_to(chain.start) < 1.0:
        raise GeometryRefused(f"The two ends of {edge} fall together.", where=edge)
    return Affine.frame(chain.start, end - chain.start)


def _nodes(panel: Panel, step: Reshape) -> tuple[PathNode, ...]:
    frame = _frame(panel, step.edge)
    start, end = frame(Point(0.0, 0.0)), frame(Point(1.0, 0.0))

    def handle(at: Point, step_: Vector | None) -> Point | None:
        return None if step_ is None else at + frame.vector(step_)

    inner = []
    for node in step.nodes:
        at = frame(Point(node.at.x, node.at.y))
        inner.append(
            PathNode(at, node.smooth, handle(at, node.handle_in), handle(at, node.handle_out))
        )
    return (
        PathNode(start, False, None, handle(start, step.start_handle)),
        *inner,
        PathNode(end, False, handle(end, step.end_handle), None),
    )
