"""Mirror an edge: its other side takes the same shape, mirrored in the crease line."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import darts_on, edge_of, level_of
from studio.alter.kind import Drafting, Field, Kind, Say
from studio.alter.opening import REACH_MM
from studio.block.panel import Panel
from studio.curves import Affine, Chain, Edge, Outline, level_meetings
from studio.curves.spline import between
from studio.design.alterations import MirrorEdge
from studio.errors import GeometryRefused


class MirrorEdgeKind(Kind[MirrorEdge]):
    """From the hem up to the level line the image is exact; above it the edge runs smooth into
    what it was. The hem is drawn to its new end.
    """

    title = "Mirror an edge"
    fields = (
        Field("edge", "Take the shape of", "edge"),
        Field("onto", "For", "edge"),
        Field("upper", "Up to", "level"),
    )

    def do(self, panel: Panel, step: MirrorEdge) -> Panel:
        """Raises GeometryRefused when an edge does not run from the hem past the level, or is to
        take its own shape.
        """
        if step.edge == step.onto:
            raise GeometryRefused(f"{step.onto} has its own shape already.", where=step.onto)
        image, rest = _image(panel, step), _rest(panel, step)
        above = between(image.end, image.end_tangent, rest.start, rest.start_tangent)
        upward = Chain((*image.cubics, above, *rest.cubics))
        old = edge_of(panel, step.onto).chain
        redrawn = upward if old.start.y < old.end.y else upward.reversed()
        foot = old.start if old.start.y < old.end.y else old.end
        hem = f"{panel.name}.hem"
        edges = []
        for edge in panel.outline:
            if edge.name == step.onto:
                edges.append(Edge.whole(edge.name, redrawn))
            elif edge.name == hem:
                start = image.start if edge.chain.start == foot else edge.chain.start
                end = image.start if edge.chain.end == foot else edge.chain.end
                edges.append(Edge.whole(hem, edge.chain.with_ends(start, end)))
            else:
                edges.append(edge)
        return replace(panel, outline=Outline.of(edges))

    def sentence(self, step: MirrorEdge, say: Say = numbers.length) -> str:
        """Which edge takes whose shape."""
        del say
        return (
            f"Give {step.onto} the shape of {step.edge} below the {step.upper} line, mirrored in "
            "the crease line."
        )

    def drafting(self, panel: Panel, step: MirrorEdge, say: Say = numbers.length) -> Drafting:
        """Fold and trace."""
        del say
        self.do(panel, step)
        image = _image(panel, step)
        return Drafting(
            (image.start, image.end),
            (
                f"Fold the panel along the crease line and trace {step.edge} through from the "
                f"hem to the {step.upper} line: from {{0}} to {{1}}. It is the new {step.onto}.",
                "Draw the hem out to {0}, and above {1} run the edge smooth into the old one.",
            ),
        )

    def fresh(self, panel: Panel) -> MirrorEdge:
        """The inseam takes the side seam's shape below the knee."""
        level_of(panel, "knee")
        side, inseam = (edge_of(panel, f"{panel.name}.{edge}").name for edge in ("side", "inseam"))
        return MirrorEdge(panel.name, side, inseam)


def _image(panel: Panel, step: MirrorEdge) -> Chain:
    """The mirrored stretch, from the hem up."""
    up, at = _upward(panel, step.edge, step)
    return up.between(0.0, at).transformed(Affine.mirror_x())


def _rest(panel: Panel, step: MirrorEdge) -> Chain:
    """What stays of the other edge, from a little above the level."""
    if darts_on(panel, step.onto):
        raise GeometryRefused(f"{step.onto} has darts.", where=step.onto)
    up, at = _upward(panel, step.onto, step)
    return up.between(at + min(REACH_MM, 0.5 * (up.length - at)), up.length)


def _upward(panel: Panel, name: str, step: MirrorEdge) -> tuple[Chain, float]:
    chain = edge_of(panel, name).chain
    up = chain if chain.start.y < chain.end.y else chain.reversed()
    hem = edge_of(panel, f"{panel.name}.hem").chain
    hits = level_meetings(up, level_of(panel, step.upper))
    if up.start not in (hem.start, hem.end) or not hits:
        raise GeometryRefused(
            f"{name} does not run from the hem past the {step.upper} line.", where=name
        )
    return up, hits[0].first
