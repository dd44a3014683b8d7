"""Lengthen or shorten a panel at a level line."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import level_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.alter.opening import Cut, moving_part_first, part_moved
from studio.block.panel import Panel
from studio.curves import UP, Affine, Chain, Cubic, Meeting, level_meetings, meetings
from studio.design.alterations import Lengthen
from studio.errors import GeometryRefused


class LengthenKind(Kind[Lengthen]):
    """What lies above the line moves up the grain (or down), and the edges it crosses are redrawn
    fair; the hem stays where it is.
    """

    title = "Lengthen or shorten"
    fields = (
        Field("amount", "By", least=-500.0),
        Field("level", "At", "level"),
        Field("above", "Above it by", least=-1000.0),
    )

    def do(self, panel: Panel, step: Lengthen) -> Panel:
        """Raises GeometryRefused when the line does not cross two edges, or crosses a dart."""
        height = level_of(panel, step.level) + step.above
        crossed = _crossed(panel, height)
        cuts = [Cut(edge, hit.first, hit.first) for edge, hit in crossed]
        if step.amount < 0.0:
            above = dict(_crossed(panel, height - step.amount))
            if set(above) != {edge for edge, _ in crossed}:
                raise GeometryRefused(
                    f"{panel.name} cannot be shortened by {numbers.length(-step.amount)} there: a "
                    "corner lies in the strip.",
                    where=panel.name,
                    exact=(step.amount,),
                )
            cuts = [Cut(edge, hit.first, above[edge].first) for edge, hit in crossed]
        start, end = moving_part_first(panel, cuts[0], cuts[1])
        return part_moved(panel, start, end, Affine.shift(UP * step.amount))

    def sentence(self, step: Lengthen, say: Say = numbers.length) -> str:
        """What grows by how much, where."""
        verb = "Lengthen" if step.amount >= 0.0 else "Shorten"
        return f"{verb} the {step.panel} by {say(abs(step.amount))} {_where(step, say)}."

    def axes(self, panel: Panel, step: Lengthen) -> dict[str, Axis]:
        """Pulled up the grain from the crease line."""
        _, hit = _crossed(panel, level_of(panel, step.level) + step.above)[0]
        return {"amount": Axis(hit.point, UP)}

    def drafting(self, panel: Panel, step: Lengthen, say: Say = numbers.length) -> Drafting:
        """The cut across the grain, the gap or the fold."""
        self.do(panel, step)
        ends = [hit.point for _, hit in _crossed(panel, level_of(panel, step.level) + step.above)]
        how = (
            f"Cut along it and move the upper part up the grain by {say(step.amount)}, over paper"
            if step.amount >= 0.0
            else f"Fold the panel so that {say(-step.amount)} above the line is taken out"
        )
        return Drafting(
            (ends[0], ends[1]),
            (
                f"Draw a line across the grain from {{0}} to {{1}}, {_where(step, say)}.",
                f"{how}, with the grainline running on straight.",
                "Redraw the two edges it crosses fair.",
            ),
        )

    def fresh(self, panel: Panel) -> Lengthen:
        """By a little, half way down the shin."""
        level_of(panel, "knee")
        return Lengthen(panel.name, "knee", 10.0, -150.0)


def _where(step: Lengthen, say: Say) -> str:
    if step.above == 0.0:
        return f"at the {step.level} line"
    side = "above" if step.above > 0.0 else "below"
    return f"{say(abs(step.above))} {side} the {step.level} line"


def _crossed(panel: Panel, height: float) -> list[tuple[str, Meeting]]:
    """The two edges a level line crosses, with where."""
    found = [
        (edge.name, hit) for edge in panel.outline for hit in level_meetings(edge.chain, height)
    ]
    if len(found) != 2 or found[0][0] == found[1][0]:
        raise GeometryRefused(
            f"A level line at {numbers.length(height)} does not cross {panel.name} from edge to "
            "edge.",
            where=panel.name,
            exact=(height,),
        )
    line = Chain((Cubic.straight(found[0][1].point, found[1][1].point),))
    for dart in panel.darts:
        if meetings(line, Chain.straight(dart.first, dart.point, dart.last)):
            raise GeometryRefused(
                f"The line crosses the dart {dart.name}: close it, or choose another level.",
                where=dart.name,
            )
    return found
