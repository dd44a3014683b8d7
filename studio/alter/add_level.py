"""Add a level line across a panel, square to the grain."""

from __future__ import annotations

from msgspec.structs import replace

from studio import numbers
from studio.alter.closing import level_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import UP, Point
from studio.design.alterations import AddLevel
from studio.errors import GeometryRefused


class AddLevelKind(Kind[AddLevel]):
    """For later steps and lines to hold on to."""

    title = "Add a level line"
    fields = (
        Field("level", "Level", "word"),
        Field("of", "From", "level"),
        Field("up", "Up by", least=-1500.0),
    )

    def do(self, panel: Panel, step: AddLevel) -> Panel:
        """Raises GeometryRefused when the name is taken or empty, or the line misses the panel."""
        if not step.level.strip():
            raise GeometryRefused("A level line needs a name.", where=panel.name)
        if step.level in panel.levels:
            raise GeometryRefused(
                f"{panel.name} has a {step.level} line already.", where=step.level
            )
        height = level_of(panel, step.of) + step.up
        box = panel.outline.box
        if not box.bottom < height < box.top:
            raise GeometryRefused(
                f"The {step.level} line would lie at {numbers.length(height)}, outside "
                f"{panel.name}.",
                where=step.level,
                exact=(height,),
            )
        return replace(panel, levels=panel.levels | {step.level: height})

    def sentence(self, step: AddLevel, say: Say = numbers.length) -> str:
        """Which line, how far from which."""
        way = "above" if step.up >= 0.0 else "below"
        return (
            f"Add a {step.level} line to the {step.panel}, {say(abs(step.up))} {way} the "
            f"{step.of} line."
        )

    def axes(self, panel: Panel, step: AddLevel) -> dict[str, Axis]:
        """Pulled along the crease line."""
        return {"up": Axis(Point(0.0, level_of(panel, step.of)), UP)}

    def drafting(self, panel: Panel, step: AddLevel, say: Say = numbers.length) -> Drafting:
        """One line square to the grain."""
        self.do(panel, step)
        base = Point(0.0, level_of(panel, step.of))
        way = "up" if step.up >= 0.0 else "down"
        return Drafting(
            (base, base + UP * step.up),
            (
                f"On the crease line measure {say(abs(step.up))} {way} from {{0}} on the "
                f"{step.of} line, mark {{1}}, and draw the {step.level} line across, square to "
                "the grain.",
            ),
        )

    def fresh(self, panel: Panel) -> AddLevel:
        """Between hip and crotch."""
        level_of(panel, "hip")
        return AddLevel(panel.name, "low hip", "hip", -30.0)
