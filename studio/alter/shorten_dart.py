"""Shorten a dart: its point comes nearer to its edge, along its middle."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import dart_of
from studio.alter.faired import faired_edge
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Dart, Panel
from studio.curves import Point, Vector
from studio.design.alterations import ShortenDart
from studio.errors import GeometryRefused

_LEAST_DART_MM = 20.0


class ShortenDartKind(Kind[ShortenDart]):
    """The intake stays about as it was; the edge is redrawn fair over the dart closed about its
    new point.
    """

    title = "Shorten a dart"
    fields = (Field("dart", "Dart", "dart"), Field("amount", "By", least=-200.0))

    def do(self, panel: Panel, step: ShortenDart) -> Panel:
        """Raises GeometryRefused when no dart would be left, or there is none."""
        dart = dart_of(panel, step.dart)
        middle, away = _middle(dart)
        length = dart.point.distance_to(middle)
        if length - step.amount < _LEAST_DART_MM:
            raise GeometryRefused(
                f"{dart.name} is {numbers.length(length)} long and cannot be shortened by "
                f"{numbers.length(step.amount)}.",
                where=dart.name,
                exact=(length, step.amount),
            )
        shorter = replace(dart, point=dart.point + away * step.amount)
        darts = tuple(shorter if known is dart else known for known in panel.darts)
        return faired_edge(replace(panel, darts=darts), dart.edge)

    def sentence(self, step: ShortenDart, say: Say = numbers.length) -> str:
        """Which dart, by how much."""
        verb = "Shorten" if step.amount >= 0.0 else "Lengthen"
        return f"{verb} {step.dart} by {say(abs(step.amount))}."

    def axes(self, panel: Panel, step: ShortenDart) -> dict[str, Axis]:
        """The point is pulled along the dart's middle."""
        dart = dart_of(panel, step.dart)
        return {"amount": Axis(dart.point, _middle(dart)[1])}

    def drafting(self, panel: Panel, step: ShortenDart, say: Say = numbers.length) -> Drafting:
        """The new point and the legs to it."""
        dart = dart_of(panel, step.dart)
        self.do(panel, step)
        _, away = _middle(dart)
        way = "towards" if step.amount >= 0.0 else "away from"
        return Drafting(
            (dart.point, dart.point + away * step.amount, dart.first, dart.last),
            (
                f"From {{0}}, the point of {dart.name}, measure {say(abs(step.amount))} along the "
                f"dart's middle {way} the edge and mark {{1}}.",
                "Draw new legs from {1} to {2} and {3}; fold the dart shut and redraw the edge "
                "fair over it.",
            ),
        )

    def fresh(self, panel: Panel) -> ShortenDart:
        """The first dart, by a little."""
        if not panel.darts:
            raise GeometryRefused(f"{panel.name} has no dart.", where=panel.name)
        return ShortenDart(panel.name, panel.darts[0].name, 10.0)


def _middle(dart: Dart) -> tuple[Point, Vector]:
    """The middle of the mouth, and the unit direction from the point towards it."""
    middle = dart.first.toward(dart.last, 0.5)
    return middle, (middle - dart.point).unit()
