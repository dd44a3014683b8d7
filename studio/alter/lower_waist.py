"""Lower the waist: the top edge moves down the grain and is redrawn as a gentle curve."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import darts_on, waist_neighbours, with_waist_between
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import UP, Chain, Point, level_meetings
from studio.design.alterations import LowerWaist
from studio.errors import GeometryRefused


class LowerWaistKind(Kind[LowerWaist]):
    """The new edge meets side and rise square; darts are cut where it crosses them, with their
    width at that height.
    """

    title = "Lower the waist"
    fields = (Field("at_rise", "At the rise"), Field("at_side", "At the side"))

    def do(self, panel: Panel, step: LowerWaist) -> Panel:
        """Raises GeometryRefused when the amount is larger than an edge is high."""
        before, after = waist_neighbours(panel)
        below = panel.outline.edge(before).chain
        above = panel.outline.edge(after).chain
        amounts = _amounts(panel, step)
        below = below.between(0.0, _lowered(below, below.end, amounts[before], before))
        above = above.between(_lowered(above, above.start, amounts[after], after), above.length)
        return with_waist_between(panel, below, above, darts_on(panel, f"{panel.name}.waist"))

    def sentence(self, step: LowerWaist, say: Say = numbers.length) -> str:
        """What is lowered by how much."""
        if step.at_rise == step.at_side:
            return f"Lower the {step.panel} waist by {say(step.at_rise)}."
        return (
            f"Lower the {step.panel} waist by {say(step.at_rise)} at the rise "
            f"and {say(step.at_side)} at the side."
        )

    def axes(self, panel: Panel, _step: LowerWaist) -> dict[str, Axis]:
        """Both ends are pulled down the grain."""
        rise, side = _ends(panel)
        return {"at_rise": Axis(rise, -UP), "at_side": Axis(side, -UP)}

    def drafting(self, panel: Panel, step: LowerWaist, say: Say = numbers.length) -> Drafting:
        """Four points and a curve."""
        rise, side = _ends(panel)
        made = self.do(panel, step)
        new_rise, new_side = _ends(made)
        return Drafting(
            (rise, new_rise, side, new_side),
            (
                f"{{0}} is the top of the rise: measure {say(step.at_rise)} straight down the "
                "grain, go level to the rise, and mark {1} there.",
                f"{{2}} is the top of the side seam: measure {say(step.at_side)} straight down "
                "the grain, go level to the side seam, and mark {3} there.",
                "Pin the darts shut and draw a gentle curve from {1} to {3} that leaves both "
                "seams square. It is the new waist; let the darts open again.",
            ),
        )

    def fresh(self, panel: Panel) -> LowerWaist:
        """Lowered by a finger's width."""
        waist_neighbours(panel)
        return LowerWaist(panel.name, 20.0, 20.0)


def _amounts(panel: Panel, step: LowerWaist) -> dict[str, float]:
    return {f"{panel.name}.side": step.at_side, f"{panel.name}.rise": step.at_rise}


def _ends(panel: Panel) -> tuple[Point, Point]:
    """The waist's ends at the rise and at the side."""
    before, _ = waist_neighbours(panel)
    chain = panel.outline.edge(f"{panel.name}.waist").chain
    rise_first = before == f"{panel.name}.rise"
    return (chain.start, chain.end) if rise_first else (chain.end, chain.start)


def _lowered(chain: Chain, top: Point, amount: float, edge: str) -> float:
    """Distance along the edge at which it lies `amount` mm below its top end."""
    if amount < 0.0:
        raise GeometryRefused(f"The waist can only be lowered by 0 or more at {edge}.", where=edge)
    if amount == 0.0:
        return chain.length if chain.end == top else 0.0
    hits = [meeting.first for meeting in level_meetings(chain, top.y - amount)]
    if not hits:
        raise GeometryRefused(
            f"The waist cannot be lowered by {numbers.length(amount)}: {edge} is only "
            f"{numbers.length(chain.box.height)} high.",
            where=edge,
            exact=(amount, chain.box.height),
        )
    return max(hits) if chain.end == top else min(hits)
