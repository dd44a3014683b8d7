"""A block of panels as they were drawn."""

from __future__ import annotations

from collections.abc import Iterable

from studio.block.panel import Block, Dart, Panel
from studio.curves import Affine, Chain, Cubic, Edge, Outline
from studio.design.block import CubicPoints, DrawnDart, DrawnEdge, DrawnPanel, ImportedBlock
from studio.errors import GeometryRefused


def block_of_drawing(imported: ImportedBlock) -> Block:
    """The panels of a drawing as a block.

    Raises:
        GeometryRefused: an outline is open or inside out; `where` names the panel.
    """
    return Block(tuple(_panel(drawn) for drawn in imported.panels))


def drawn_panel(panel: Panel) -> DrawnPanel:
    """A panel as it would stand in a project file, exact."""
    return DrawnPanel(
        panel.name,
        tuple(drawn_edge(edge.name, edge.chain.cubics) for edge in panel.outline),
        tuple(DrawnDart(d.name, d.edge, d.first, d.last, d.point) for d in panel.darts),
        panel.levels,
    )


def drawn_edge(name: str, cubics: Iterable[Cubic]) -> DrawnEdge:
    """Curves end to end as an edge of a drawn panel, exact."""
    return DrawnEdge(name, tuple((c.p0, c.p1, c.p2, c.p3) for c in cubics))


def chain_of(edge: DrawnEdge) -> Chain:
    """An edge of a drawn panel as a chain; raises GeometryRefused where its curves do not meet."""
    return Chain.of(Cubic(*points) for points in edge.cubics)


def outline_of(edges: Iterable[DrawnEdge]) -> Outline:
    """The edges of a drawn panel as an outline.

    Raises:
        GeometryRefused: it is open or inside out.
    """
    return Outline.of(Edge.whole(edge.name, chain_of(edge)) for edge in edges)


def turned_panel(panel: DrawnPanel, degrees: float) -> DrawnPanel:
    """A drawn panel without levels turned counter-clockwise about the start of its first edge."""
    move = Affine.turn(degrees, panel.edges[0].cubics[0][0])
    edges = tuple(
        DrawnEdge(edge.name, tuple(_moved(points, move) for points in edge.cubics))
        for edge in panel.edges
    )
    darts = tuple(
        DrawnDart(d.name, d.edge, move(d.first), move(d.last), move(d.point)) for d in panel.darts
    )
    return DrawnPanel(panel.name, edges, darts)


def mirrored_panel(panel: DrawnPanel) -> DrawnPanel:
    """A drawn panel without levels as it looks from its other side, left for right."""
    move = Affine.mirror_x(panel.edges[0].cubics[0][0].x)
    edges = tuple(
        DrawnEdge(edge.name, tuple(_moved(points, move)[::-1] for points in reversed(edge.cubics)))
        for edge in reversed(panel.edges)
    )
    darts = tuple(
        DrawnDart(d.name, d.edge, move(d.last), move(d.first), move(d.point)) for d in panel.darts
    )
    return DrawnPanel(panel.name, edges, darts)


def _moved(points: CubicPoints, move: Affine) -> CubicPoints:
    one, two, three, four = points
    return move(one), move(two), move(three), move(four)


def _panel(drawn: DrawnPanel) -> Panel:
    try:
        outline = outline_of(drawn.edges)
    except GeometryRefused as refusal:
        raise GeometryRefused(refusal.message, where=drawn.name) from refusal
    darts = tuple(Dart(d.name, d.edge, d.first, d.last, d.point) for d in drawn.darts)
    return Panel(drawn.name, outline, darts, drawn.levels)
