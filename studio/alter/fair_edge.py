"""Fair an edge: redraw it smooth within a set distance, ends kept."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import edge_of
from studio.alter.faired import faired_edge
from studio.alter.kind import Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.design.alterations import FairEdge


class FairEdgeKind(Kind[FairEdge]):
    """For edges with kinks left by hinges, closed darts and lengthened panels."""

    title = "Fair an edge"
    fields = (Field("edge", "Edge", "edge"), Field("within", "Within", least=0.05))

    def do(self, panel: Panel, step: FairEdge) -> Panel:
        """Raises GeometryRefused as `faired_edge` does."""
        return faired_edge(panel, step.edge, step.within)

    def sentence(self, step: FairEdge, say: Say = numbers.length) -> str:
        """Which edge, how near to what it was."""
        return f"Redraw {step.edge} fair, straying no more than {say(step.within)}."

    def drafting(self, panel: Panel, step: FairEdge, say: Say = numbers.length) -> Drafting:
        """One curve, and by how much it changes the edge's length."""
        before = panel.sewn_length(step.edge) if panel.outline.has(step.edge) else 0.0
        made = self.do(panel, step)
        chain = edge_of(panel, step.edge).chain
        change = made.sewn_length(step.edge) - before
        becomes = f"{say(abs(change))} {'longer' if change > 0.0 else 'shorter'}"
        return Drafting(
            (chain.start, chain.end),
            (
                f"Redraw {step.edge} from end to end, {{0}} to {{1}}, in one smooth sweep with a "
                f"curve ruler, straying no more than {say(step.within)}. "
                f"It becomes {becomes}.",
            ),
        )

    def fresh(self, panel: Panel) -> FairEdge:
        """The side seam."""
        return FairEdge(panel.name, edge_of(panel, f"{panel.name}.side").name)
