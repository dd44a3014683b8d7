"""Lower the waist: the top edge moves down the grain and is redrawn as a gentle curve."""

from __future__ import annotations

from studio.alter.closing import darts_on, fair_edge, with_edges
from studio.block.panel import Panel
from studio.curves import Chain, Point, meetings
from studio.design.alterations import LowerWaist
from studio.errors import GeometryRefused


def lower_waist(panel: Panel, step: LowerWaist) -> Panel:
    """The panel with its waist lowered; the new edge meets side and rise square.

    Darts are cut where the new edge crosses them, with their width at that height.

    Raises:
        GeometryRefused: the amount is larger than the edge is high.
    """
    name = panel.name
    waist, side, rise = f"{name}.waist", f"{name}.side", f"{name}.rise"
    amounts = {side: step.at_side, rise: step.at_rise}
    order = [edge.name for edge in panel.outline.edges]
    at = order.index(waist)
    before, after = order[at - 1], order[(at + 1) % len(order)]
    below = panel.outline.edge(before).chain
    above = panel.outline.edge(after).chain
    below = below.between(0.0, _lowered(below, below.end, amounts[before], before))
    above = above.between(_lowered(above, above.start, amounts[after], after), above.length)
    chain, darts = fair_edge(
        below.end,
        above.start,
        below.end_tangent.left(),
        above.start_tangent.right(),
        darts_on(panel, waist),
    )
    others = tuple(dart for dart in panel.darts if dart.edge != waist)
    return with_edges(panel, {before: below, waist: chain, after: above}, (*others, *darts))


def _lowered(chain: Chain, top: Point, amount: float, edge: str) -> float:
    """Distance along the edge at which it lies `amount` mm below its top end."""
    if amount < 0.0:
        raise GeometryRefused(f"{edge}: the waist can only be lowered by 0 or more.", where=edge)
    if amount == 0.0:
        return chain.length if chain.end == top else 0.0
    box = chain.box
    height = top.y - amount
    level = Chain.straight(Point(box.left - 10.0, height), Point(box.right + 10.0, height))
    hits = [meeting.first for meeting in meetings(chain, level)]
    if not hits:
        raise GeometryRefused(
            f"The waist cannot be lowered by {amount:.1f} mm: {edge} is only "
            f"{box.height:.1f} mm high.",
            where=edge,
        )
    return max(hits) if chain.end == top else min(hits)
