"""Straighten an edge, from end to end or between two level lines."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import darts_on, edge_of, level_of, with_edge
from studio.alter.kind import Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, level_meetings
from studio.design.alterations import Straighten
from studio.errors import GeometryRefused


class StraightenKind(Kind[Straighten]):
    """The stretch becomes one straight line; what lies beyond it stays as it was."""

    title = "Straighten an edge"
    fields = (
        Field("edge", "Edge", "edge"),
        Field("upper", "From", "level", optional=True),
        Field("lower", "To", "level", optional=True),
    )

    def do(self, panel: Panel, step: Straighten) -> Panel:
        """Raises GeometryRefused when the edge has darts or does not reach a level."""
        if darts_on(panel, step.edge):
            raise GeometryRefused(f"{step.edge} has darts and cannot be straight.", where=step.edge)
        chain = edge_of(panel, step.edge).chain
        low, high = _ends(panel, step)
        parts = [Cubic.straight(chain.at(low), chain.at(high))]
        if low > 0.0:
            parts = [*chain.between(0.0, low).cubics, *parts]
        if high < chain.length:
            parts += chain.between(high, chain.length).cubics
        for index in range(1, len(parts)):
            parts[index] = parts[index].with_ends(parts[index - 1].p3, parts[index].p3)
        return with_edge(panel, step.edge, Chain(tuple(parts)).with_ends(chain.start, chain.end))

    def sentence(self, step: Straighten, say: Say = numbers.length) -> str:
        """Which edge, from where to where."""
        del say
        return f"Draw {step.edge} straight{_stretch(step)}."

    def drafting(self, panel: Panel, step: Straighten, say: Say = numbers.length) -> Drafting:
        """One ruled line."""
        del say
        chain = edge_of(panel, step.edge).chain
        self.do(panel, step)
        low, high = _ends(panel, step)
        return Drafting(
            (chain.at(low), chain.at(high)),
            (f"Rule {step.edge} straight from {{0}} to {{1}}.",),
        )

    def fresh(self, panel: Panel) -> Straighten:
        """The side seam below the knee."""
        level_of(panel, "knee")
        return Straighten(panel.name, edge_of(panel, f"{panel.name}.side").name, upper="knee")


def _stretch(step: Straighten) -> str:
    if step.upper and step.lower:
        return f" from the {step.upper} line to the {step.lower} line"
    if step.upper:
        return f" below the {step.upper} line"
    return f" above the {step.lower} line" if step.lower else ""


def _ends(panel: Panel, step: Straighten) -> tuple[float, float]:
    """Where the straight stretch starts and ends along the edge, mm."""
    chain = edge_of(panel, step.edge).chain
    found = []
    for level, end_is_top in ((step.upper, True), (step.lower, False)):
        if not level:
            starts_there = (chain.start.y > chain.end.y) == end_is_top
            found.append(0.0 if starts_there else chain.length)
            continue
        hits = level_meetings(chain, level_of(panel, level))
        if not hits:
            raise GeometryRefused(f"{step.edge} does not cross the {level} line.", where=step.edge)
        found.append(hits[0].first)
    low, high = min(found), max(found)
    if high - low < 1.0:
        raise GeometryRefused(
            f"Nothing of {step.edge} lies between the two levels.", where=step.edge
        )
    return low, high
