"""Fold a pleat: a dart that is folded at its edge and not sewn to its point."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import dart_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel, Pleat
from studio.design.alterations import FoldPleat
from studio.errors import GeometryRefused


class FoldPleatKind(Kind[FoldPleat]):
    """Nothing of the panel moves: the edge takes in as much as before, and the room it took in
    below is left to the wearer.
    """

    title = "Fold a pleat"
    fields = (
        Field("dart", "Dart", "dart"),
        Field("towards", "Pressed towards", "end"),
        Field("down", "Sewn down by"),
    )

    def do(self, panel: Panel, step: FoldPleat) -> Panel:
        """Raises GeometryRefused when there is no such dart, or it is to be sewn to its point."""
        dart = dart_of(panel, step.dart)
        room = numbers.AtMost(dart.point.distance_to(dart.first))
        if not 0.0 <= step.down < room:
            raise GeometryRefused(
                f"{dart.name} ends {numbers.length(room)} below its edge: sewn down so far it is a "
                "dart, no pleat.",
                where=dart.name,
                exact=(room,),
            )
        pleated = replace(dart, pleat=Pleat(step.towards, step.down))
        darts = tuple(pleated if known is dart else known for known in panel.darts)
        return replace(panel, darts=darts)

    def sentence(self, step: FoldPleat, say: Say = numbers.length) -> str:
        """Which dart, to which side, how far it is sewn."""
        sewn = f", sewn {say(step.down)} down" if step.down > 0.0 else ""
        return f"Fold {step.dart} as a pleat, pressed towards the {step.towards}{sewn}."

    def axes(self, panel: Panel, step: FoldPleat) -> dict[str, Axis]:
        """What is sewn is pulled down the dart's middle."""
        dart = dart_of(panel, step.dart)
        middle = dart.first.toward(dart.last, 0.5)
        return {"down": Axis(middle, (dart.point - middle).unit())}

    def drafting(self, panel: Panel, step: FoldPleat, say: Say = numbers.length) -> Drafting:
        """Both ends are marked; the point is not."""
        dart = dart_of(panel, step.dart)
        self.do(panel, step)
        sewn = (
            f"Draw its legs {say(step.down)} down from both: so far it is sewn."
            if step.down > 0.0
            else "Draw a short line down from each: it is only folded, and basted at the edge."
        )
        return Drafting(
            (dart.first, dart.last),
            (
                f"{{0}} and {{1}} are the ends of {dart.name}, which becomes a pleat: mark both, "
                "and leave out its point.",
                f"{sewn} Draw an arrow from one to the other, towards the {step.towards}.",
            ),
        )

    def fresh(self, panel: Panel) -> FoldPleat:
        """The first dart that is none yet."""
        for dart in panel.darts:
            if dart.pleat is None:
                return FoldPleat(panel.name, dart.name)
        raise GeometryRefused(
            f"{panel.name} has no dart to be folded: open one first.", where=panel.name
        )
