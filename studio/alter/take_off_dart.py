"""Take a dart's rest off side seam or rise: what it took in, the waist loses at its end."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import dart_of, edge_of, level_of, waist_neighbours, with_edge
from studio.alter.corner import corner_moved_in
from studio.alter.faired import faired_edge
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, Point, Vector, level_meetings, tolerance
from studio.design.alterations import TakeOffDart
from studio.errors import GeometryRefused


class TakeOffDartKind(Kind[TakeOffDart]):
    """The sewn waist stays as long as it was, and so does the edge at its end, both within 1e-6."""

    title = "Take a dart off the seam"
    fields = (
        Field("dart", "Dart", "dart"),
        Field("amount", "Amount", optional=True),
        Field("at", "At", "end"),
        Field("level", "Runs back at", "level"),
    )

    def do(self, panel: Panel, step: TakeOffDart) -> Panel:
        """Raises GeometryRefused when the dart is not that wide, is not on the waist, or the seam
        does not reach the level.
        """
        dart = dart_of(panel, step.dart)
        waist = f"{panel.name}.waist"
        waist_neighbours(panel)
        if dart.edge != waist:
            raise GeometryRefused(f"{dart.name} does not lie on {waist}.", where=dart.name)
        amount = dart.intake if step.amount is None else step.amount
        if not 0.0 < amount <= dart.intake + tolerance.CORNER_MM:
            raise GeometryRefused(
                f"{dart.name} is {numbers.length(dart.intake)} wide: {numbers.length(amount)} "
                "cannot be taken off it.",
                where=dart.name,
                exact=(dart.intake, amount),
            )
        sewn = panel.sewn_length(waist)
        made = faired_edge(_narrowed(panel, step.dart, amount), waist)
        loses = made.sewn_length(waist) - sewn
        level = level_of(panel, step.level)
        return corner_moved_in(made, waist, f"{panel.name}.{step.at}", loses, level)

    def sentence(self, step: TakeOffDart, say: Say = numbers.length) -> str:
        """How much of which dart, where."""
        what = "All" if step.amount is None else say(step.amount)
        return (
            f"{what} of {step.dart} is taken off {step.panel}.{step.at} instead, "
            f"running back at the {step.level} line."
        )

    def axes(self, panel: Panel, step: TakeOffDart) -> dict[str, Axis]:
        """The waist's end is pulled in along it."""
        corner, inward = _corner(panel, step.at)
        return {} if step.amount is None else {"amount": Axis(corner, inward)}

    def drafting(self, panel: Panel, step: TakeOffDart, say: Say = numbers.length) -> Drafting:
        """The measure along the waist, the seam to the level, the dart left out."""
        dart = dart_of(panel, step.dart)
        self.do(panel, step)
        amount = dart.intake if step.amount is None else step.amount
        corner, inward = _corner(panel, step.at)
        edge = f"{panel.name}.{step.at}"
        hits = level_meetings(edge_of(panel, edge).chain, level_of(panel, step.level))
        left = dart.intake - amount
        rest = (
            f"Draw {dart.name} only {say(left)} wide."
            if left > tolerance.CORNER_MM
            else f"Leave {dart.name} out."
        )
        return Drafting(
            (corner, corner + inward * amount, hits[0].point),
            (
                f"From {{0}} measure {say(amount)} in along the waist and mark {{1}}.",
                f"Redraw {edge} from {{1}}, running smooth into the old seam at {{2}} on the "
                f"{step.level} line. Check that it is as long as it was.",
                rest,
            ),
        )

    def fresh(self, panel: Panel) -> TakeOffDart:
        """The first dart, off the side seam."""
        if not panel.darts:
            raise GeometryRefused(f"{panel.name} has no dart.", where=panel.name)
        return TakeOffDart(panel.name, panel.darts[0].name, "side")


def _narrowed(panel: Panel, name: str, amount: float) -> Panel:
    """The panel with a dart narrowed from both legs, or without it."""
    dart = dart_of(panel, name)
    left = dart.intake - amount
    if left <= tolerance.CORNER_MM:
        return replace(panel, darts=tuple(known for known in panel.darts if known is not dart))
    share = amount / 2.0 / dart.intake
    first, last = dart.first.toward(dart.last, share), dart.first.toward(dart.last, 1.0 - share)
    chain = panel.outline.edge(dart.edge).chain
    cubics: list[Cubic] = []
    for cubic in chain.cubics:
        if cubic.p0 == dart.first and cubic.p3 == dart.last:
            cubics += Chain.straight(dart.first, first, last, dart.last).cubics
        else:
            cubics.append(cubic)
    narrower = replace(dart, first=first, last=last)
    darts = [narrower if known is dart else known for known in panel.darts]
    return with_edge(
        panel, dart.edge, Chain(tuple(cubics)), [d for d in darts if d.edge == dart.edge]
    )


def _corner(panel: Panel, at: str) -> tuple[Point, Vector]:
    """The waist's corner at side or rise, and the direction in along the waist."""
    before, _ = waist_neighbours(panel)
    chain = panel.outline.edge(f"{panel.name}.waist").chain
    if before == f"{panel.name}.{at}":
        return chain.start, chain.start_tangent
    return chain.end, -chain.end_tangent
