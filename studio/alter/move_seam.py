"""Move a seam over: an edge goes across the grain as it is.

Moved as far on the other panel, the seam of a pair lies further to the front, or to the back, and
the pair is as wide as before.
"""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import darts_on, edge_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Edge, Outline, Point, Vector
from studio.curves.affine import Affine
from studio.curves.bend import end_moved
from studio.design.alterations import MoveSeam
from studio.errors import GeometryRefused

_LEFT_MM = 10.0
"""The edges beside it keep at least so much."""


class MoveSeamKind(Kind[MoveSeam]):
    """The edge keeps its shape and its length, so it still fits what it is sewn to; its neighbours
    are bent to its new ends, beside their darts, and the panel is narrower by the amount at every
    height. Moved out by as much on the other panel, the girths stay.
    """

    title = "Move a seam over"
    fields = (Field("edge", "Edge", "edge"), Field("amount", "Inwards by", least=-300.0))

    def do(self, panel: Panel, step: MoveSeam) -> Panel:
        """Raises GeometryRefused: the edge runs across the grain, or one beside it is too short."""
        edges = list(panel.outline.edges)
        chain = edge_of(panel, step.edge).chain
        push = _inward(chain) * step.amount
        _refuse_level(step.edge, chain)
        at = next(k for k, edge in enumerate(edges) if edge.name == step.edge)
        before, after = (at - 1) % len(edges), (at + 1) % len(edges)
        moved = chain.transformed(Affine.shift(push))
        for k in (before, after):
            if edges[k].length - step.amount < _LEFT_MM:
                raise GeometryRefused(
                    f"{edges[k].name} is only {numbers.length(edges[k].length)} long.",
                    where=step.edge,
                    exact=(edges[k].length,),
                )
        leading = _beside(panel, edges[before], push, step.amount, at_end=True)
        following = _beside(panel, edges[after], push, step.amount, at_end=False)
        chains = {
            before: leading.with_ends(leading.start, moved.start),
            at: moved,
            after: following.with_ends(moved.end, following.end),
        }
        made = [
            Edge.whole(edge.name, chains[k]) if k in chains else edge
            for k, edge in enumerate(edges)
        ]
        return replace(panel, outline=Outline.of(made))

    def sentence(self, step: MoveSeam, say: Say = numbers.length) -> str:
        """Which edge, how far, which way."""
        way = "inwards" if step.amount >= 0.0 else "outwards"
        return f"Move {step.edge} {way} by {say(abs(step.amount))}, as it is."

    def axes(self, panel: Panel, step: MoveSeam) -> dict[str, Axis]:
        """Pulled across the grain from its middle."""
        chain = edge_of(panel, step.edge).chain
        return {"amount": Axis(chain.at(chain.length / 2.0), _inward(chain))}

    def drafting(self, panel: Panel, step: MoveSeam, say: Say = numbers.length) -> Drafting:
        """Both ends and the edge traced between them."""
        chain = edge_of(panel, step.edge).chain
        self.do(panel, step)
        push = _inward(chain) * step.amount
        way = "into the panel" if step.amount >= 0.0 else "out of the panel"
        return Drafting(
            (chain.start, chain.end, chain.start + push, chain.end + push),
            (
                f"From {{0}} and {{1}}, the ends of {step.edge}, measure "
                f"{say(abs(step.amount))} {way}, level, across the grain, and mark {{2}} and "
                "{3}.",
                f"Trace {step.edge}, push the tracing level to {{2}} and {{3}}, and draw it there; "
                "redraw the edges beside it to its new ends, no further than to a dart.",
            ),
        )

    def fresh(self, panel: Panel) -> MoveSeam:
        """The side seam, by a thumb's width."""
        return MoveSeam(panel.name, edge_of(panel, f"{panel.name}.side").name, 25.0)


def _beside(panel: Panel, edge: Edge, push: Vector, amount: float, *, at_end: bool) -> Chain:
    """An edge beside it with one end brought to where that goes. Its darts and pleats stay where
    they are: only what lies between the nearest and the end is redrawn, where that is long enough.
    """
    chain = edge.chain
    darts = darts_on(panel, edge.name)
    if not darts:
        return end_moved(chain, push, at_end=at_end)
    joint = chain.distance_of(darts[-1].last if at_end else darts[0].first)
    room = chain.length - joint if at_end else joint
    if min(room, room - amount) < _LEFT_MM:
        return end_moved(chain, push, at_end=at_end)
    one, two = chain.split(joint)
    if at_end:
        moved = end_moved(two, push, at_end=True)
        return one.then(moved.with_ends(one.end, moved.end))
    moved = end_moved(one, push, at_end=False)
    return moved.with_ends(moved.start, two.start).then(two)


def _refuse_level(name: str, chain: Chain) -> None:
    run: Vector = chain.end - chain.start
    if abs(run.x) >= abs(run.y):
        raise GeometryRefused(
            f"{name} runs across the grain: only a seam along the leg is moved over.", where=name
        )


def _inward(chain: Chain) -> Vector:
    """The unit direction into the panel, across the grain."""
    start: Point = chain.start
    return Vector(1.0 if (chain.end - start).left().x > 0.0 else -1.0, 0.0)
