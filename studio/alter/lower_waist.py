"""Lower the waist: the top edge moves down the grain and is redrawn as a gentle curve."""

from __future__ import annotations

from studio.alter.closing import darts_on, waist_neighbours, with_waist_between
from studio.block.panel import Panel
from studio.curves import Chain, Point, level_meetings
from studio.design.alterations import LowerWaist
from studio.errors import GeometryRefused


def lower_waist(panel: Panel, step: LowerWaist) -> Panel:
    """The panel with its waist lowered; the new edge meets side and rise square.

    Darts are cut where the new edge crosses them, with their width at that height.

    Raises:
        GeometryRefused: the amount is larger than the edge is high.
    """
    amounts = {f"{panel.name}.side": step.at_side, f"{panel.name}.rise": step.at_rise}
    before, after = waist_neighbours(panel)
    below = panel.outline.edge(before).chain
    above = panel.outline.edge(after).chain
    below = below.between(0.0, _lowered(below, below.end, amounts[before], before))
    above = above.between(_lowered(above, above.start, amounts[after], after), above.length)
    return with_waist_between(panel, below, above, darts_on(panel, f"{panel.name}.waist"))


def _lowered(chain: Chain, top: Point, amount: float, edge: str) -> float:
    """Distance along the edge at which it lies `amount` mm below its top end."""
    if amount < 0.0:
        raise GeometryRefused(f"{edge}: the waist can only be lowered by 0 or more.", where=edge)
    if amount == 0.0:
        return chain.length if chain.end == top else 0.0
    hits = [meeting.first for meeting in level_meetings(chain, top.y - amount)]
    if not hits:
        raise GeometryRefused(
            f"The waist cannot be lowered by {amount:.1f} mm: {edge} is only "
            f"{chain.box.height:.1f} mm high.",
            where=edge,
        )
    return max(hits) if chain.end == top else min(hits)
