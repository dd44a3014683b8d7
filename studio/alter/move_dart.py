"""Move a dart: its intake, or a share of it, travels to another place of the outline."""

from __future__ import annotations

import msgspec

from studio import numbers
from studio.alter.closing import dart_of
from studio.alter.dart_turn import dart_fields_place, turned_shut
from studio.alter.faired import faired_edge
from studio.alter.kind import Drafting, Field, Kind, Say, said_place
from studio.block.panel import Dart, Panel
from studio.block.places import point_at
from studio.design.alterations import MoveDart


class MoveDartKind(Kind[MoveDart]):
    """The new dart has the old one's point and takes the same angle, so that nothing is lost; a
    dart moved as a whole keeps its name, a part of one is called `<dart>-moved`.
    """

    title = "Move a dart"
    fields = (
        Field("dart", "Dart", "dart"),
        Field("to", "To", "place"),
        Field("share", "Share of it", "share"),
    )

    def do(self, panel: Panel, step: MoveDart) -> Panel:
        """Raises GeometryRefused as `turned_shut` does."""
        dart = dart_of(panel, step.dart)
        turned = turned_shut(panel, step.dart, step.to, step.share, "mouth")
        name = dart.name if turned.left is None else f"{dart.name}-moved"
        made = turned.panel
        if turned.left is None:
            made = faired_edge(made, dart.edge)
        moved = Dart(name, step.to.edge, turned.first, turned.last, dart.point, dart.pleat)
        kept = () if turned.left is None else (turned.left,)
        return msgspec.structs.replace(made, darts=(*made.darts, *kept, moved))

    def sentence(self, step: MoveDart, say: Say = numbers.length) -> str:
        """Which dart, how much of it, and where to."""
        part = "" if step.share == 1.0 else f"{numbers.percent(step.share)} of "
        return f"Move {part}{step.dart} to {said_place(step.to, say)}."

    def drafting(self, panel: Panel, step: MoveDart, say: Say = numbers.length) -> Drafting:
        """The cut, the turn, the new dart."""
        dart = dart_of(panel, step.dart)
        self.do(panel, step)
        how_far = (
            "lies on the leg from {0}"
            if step.share == 1.0
            else f"has come {numbers.percent(step.share)} of its way to the leg from {{0}}"
        )
        return Drafting(
            (dart.first, dart.last, dart.point, point_at(panel, step.to)),
            (
                f"Mark {{3}}, {said_place(step.to, say)}, and draw a line from it to {{2}}, the "
                "point of the dart.",
                "Cut along that line up to {2}, but not through it, and turn the part beside the "
                f"dart until the leg from {{1}} {how_far}.",
                "Tape both parts down on paper: the gap at {3} is the new dart, with its point "
                "at {2}. Redraw the old edge fair where the dart has closed.",
            ),
        )

    def fresh(self, panel: Panel) -> MoveDart:
        """The first dart, to the side seam."""
        name, place = dart_fields_place(panel)
        return MoveDart(panel.name, name, place)
