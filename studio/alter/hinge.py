"""Hinge: the part above a line turns about one end of it, so that the other end opens."""

from __future__ import annotations

from studio import numbers
from studio.alter.along_line import opened_along
from studio.alter.closing import edge_of, level_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say, said_place
from studio.block.panel import Panel
from studio.block.places import point_at
from studio.curves import level_meetings
from studio.design.alterations import Hinge
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused


class HingeKind(Kind[Hinge]):
    """Lengthens the edge where it opens by about the amount, and leaves the pivot's edge as long
    as it was: room for sitting and bending in a back.
    """

    title = "Hinge open"
    fields = (
        Field("amount", "Opens by", least=-100.0),
        Field("opening", "Opens at", "place"),
        Field("pivot", "Turns about", "place"),
    )

    def do(self, panel: Panel, step: Hinge) -> Panel:
        """Raises GeometryRefused as `opened_along` does."""
        return opened_along(panel, step.pivot, step.opening, 0.0, step.amount)

    def sentence(self, step: Hinge, say: Say = numbers.length) -> str:
        """What opens, where, about what."""
        verb = "open" if step.amount >= 0.0 else "close"
        return (
            f"Hinge the {step.panel} {verb} by {say(abs(step.amount))} at {step.opening.edge}, "
            f"turning about {step.pivot.edge}."
        )

    def axes(self, panel: Panel, step: Hinge) -> dict[str, Axis]:
        """The opening is pulled square to the line, away from the foot of the panel."""
        opening = point_at(panel, step.opening)
        across = (opening - point_at(panel, step.pivot)).unit()
        away = across.left() if across.left().y >= 0.0 else across.right()
        return {"amount": Axis(opening, away)}

    def drafting(self, panel: Panel, step: Hinge, say: Say = numbers.length) -> Drafting:
        """The line, the cut, the turn."""
        self.do(panel, step)
        verb = "opens" if step.amount >= 0.0 else "overlaps"
        return Drafting(
            (point_at(panel, step.pivot), point_at(panel, step.opening)),
            (
                f"Mark {{0}}, {said_place(step.pivot, say)}, and {{1}}, "
                f"{said_place(step.opening, say)}. Draw a straight line from one to the other.",
                f"Cut along the line from {{1}} up to {{0}}, but not through it. Turn the upper "
                f"part about {{0}} until the cut {verb} by {say(abs(step.amount))} at {{1}}, "
                "and tape paper under it.",
                f"Redraw {step.opening.edge} fair over the gap.",
            ),
        )

    def fresh(self, panel: Panel) -> Hinge:
        """At the hip line, about the side seam."""
        side, rise = f"{panel.name}.side", f"{panel.name}.rise"
        return Hinge(panel.name, _at_hip(panel, side), _at_hip(panel, rise), 20.0)


def _at_hip(panel: Panel, edge: str) -> OnEdge:
    """The hip line's end on an edge, from the waist."""
    chain = edge_of(panel, edge).chain
    waist = edge_of(panel, f"{panel.name}.waist").chain
    hits = level_meetings(chain, level_of(panel, "hip"))
    if not hits:
        raise GeometryRefused(f"{edge} does not cross the hip line.", where=edge)
    from_start = chain.start in (waist.start, waist.end)
    along = hits[0].first if from_start else chain.length - hits[0].first
    return OnEdge(edge, f"{panel.name}.waist", mm=round(along, 1))
