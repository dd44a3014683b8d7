"""Close a dart: one leg is turned onto the other, and its width opens elsewhere as fullness."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import dart_of
from studio.alter.dart_turn import dart_fields_place, turned_shut
from studio.alter.faired import faired_edge
from studio.alter.kind import Drafting, Field, Kind, Say, said_place
from studio.block.panel import Panel
from studio.block.places import point_at
from studio.design.alterations import CloseDart
from studio.design.lines import OnEdge


class CloseDartKind(Kind[CloseDart]):
    """The dart's edge is redrawn fair over the closed dart, and the opened edge over the gap."""

    title = "Close a dart"
    fields = (Field("dart", "Dart", "dart"), Field("into", "Opens at", "place"))

    def do(self, panel: Panel, step: CloseDart) -> Panel:
        """Raises GeometryRefused as `turned_shut` does."""
        edge = dart_of(panel, step.dart).edge
        return faired_edge(turned_shut(panel, step.dart, step.into, 1.0, "smooth").panel, edge)

    def sentence(self, step: CloseDart, say: Say = numbers.length) -> str:
        """Which dart, and where its width goes."""
        return f"Close {step.dart}: its width opens {said_place(step.into, say)}, as fullness."

    def drafting(self, panel: Panel, step: CloseDart, say: Say = numbers.length) -> Drafting:
        """The cut, the turn, the two redrawn edges."""
        dart = dart_of(panel, step.dart)
        self.do(panel, step)
        return Drafting(
            (dart.first, dart.last, dart.point, point_at(panel, step.into)),
            (
                f"Mark {{3}}, {said_place(step.into, say)}, and draw a line from it to {{2}}, the "
                "point of the dart.",
                "Cut along that line up to {2}, but not through it, and turn the part beside the "
                "dart until the leg from {1} lies on the leg from {0}.",
                f"Tape the dart shut and paper under the gap. Redraw {dart.edge} fair over the "
                f"closed dart, and {step.into.edge} fair over the gap.",
            ),
        )

    def fresh(self, panel: Panel) -> CloseDart:
        """The first dart, into the hem."""
        name, _ = dart_fields_place(panel)
        hem = OnEdge(f"{panel.name}.hem", f"{panel.name}.side", share=0.25)
        return CloseDart(panel.name, name, hem)
