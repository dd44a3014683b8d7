"""Spread: a panel is cut along a line and opened, parallel or hinged, for fullness."""

from __future__ import annotations

from studio import numbers
from studio.alter.along_line import opened_along
from studio.alter.closing import darts_on, edge_of
from studio.alter.kind import Axis, Drafting, Field, Kind, Say, said_place
from studio.block.panel import Panel
from studio.block.places import point_at
from studio.curves import Chain, Point
from studio.design.alterations import Spread
from studio.design.lines import OnEdge


class SpreadKind(Kind[Spread]):
    """The part with the foot of the crease line stays; the edges are redrawn over both gaps."""

    title = "Spread along a line"
    fields = (
        Field("at_start", "Opens at the start", least=-100.0),
        Field("at_end", "Opens at the end", least=-100.0),
        Field("start", "Start of the line", "place"),
        Field("end", "End of the line", "place"),
    )

    def do(self, panel: Panel, step: Spread) -> Panel:
        """Raises GeometryRefused as `opened_along` does."""
        return opened_along(panel, step.start, step.end, step.at_start, step.at_end)

    def sentence(self, step: Spread, say: Say = numbers.length) -> str:
        """What opens by how much, and how."""
        line = f"the line from {step.start.edge} to {step.end.edge}"
        if step.at_start == step.at_end:
            return f"Spread the {step.panel} by {say(step.at_start)} along {line}."
        return (
            f"Spread the {step.panel} along {line}: {say(step.at_start)} at its start, "
            f"{say(step.at_end)} at its end."
        )

    def axes(self, panel: Panel, step: Spread) -> dict[str, Axis]:
        """Both ends are pulled square to the line."""
        start, end = point_at(panel, step.start), point_at(panel, step.end)
        square = (end - start).unit().left()
        return {"at_start": Axis(start, square), "at_end": Axis(end, square)}

    def drafting(self, panel: Panel, step: Spread, say: Say = numbers.length) -> Drafting:
        """The line, the cut, the two gaps."""
        self.do(panel, step)
        return Drafting(
            (point_at(panel, step.start), point_at(panel, step.end)),
            (
                f"Mark {{0}}, {said_place(step.start, say)}, and {{1}}, "
                f"{said_place(step.end, say)}. Draw a straight line from one to the other.",
                f"Cut along the line and lay paper under it. Open it by {say(step.at_start)} at "
                f"{{0}} and by {say(step.at_end)} at {{1}}, and tape both parts down.",
                "Redraw the edges fair over both gaps.",
            ),
        )

    def fresh(self, panel: Panel) -> Spread:
        """Down the leg, from between the side seam and the nearest dart to the hem."""
        waist, hem, side = (f"{panel.name}.{edge}" for edge in ("waist", "hem", "side"))
        edge_of(panel, hem)
        chain = edge_of(panel, waist).chain
        darts = darts_on(panel, waist)
        from_side = chain.start in _ends(edge_of(panel, side).chain)
        if not darts:
            clear = chain.length
        elif from_side:
            clear = chain.distance_of(darts[0].first)
        else:
            clear = chain.length - chain.distance_of(darts[-1].last)
        start = OnEdge(waist, side, mm=round(clear / 2.0, 1))
        return Spread(panel.name, start, OnEdge(hem, side, share=0.25), 0.0, 20.0)


def _ends(chain: Chain) -> tuple[Point, Point]:
    return chain.start, chain.end
