"""True a seam: an edge becomes as long as the one it is sewn to, at its waist end."""

from __future__ import annotations

from collections.abc import Mapping

from studio import numbers
from studio.alter.closing import darts_on, edge_of, waist_neighbours, with_waist_between
from studio.alter.kind import Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, tolerance
from studio.design.alterations import TrueSeam
from studio.errors import GeometryRefused

_MOST_MM = 60.0


class TrueSeamKind(Kind[TrueSeam]):
    """What is missing is drawn on straight at the waist, what is too much is cut off there, and
    the waist is redrawn square; the lengths, darts closed, then agree within 1e-6.
    """

    title = "True a seam"
    fields = (
        Field("edge", "Edge", "edge"),
        Field("other", "As long as", "any-edge"),
        Field("ease", "Longer by", least=-50.0),
    )

    def reads(self, step: TrueSeam) -> tuple[str, ...]:
        """The panel of the other edge."""
        return (step.other.partition(".")[0],)

    def do_beside(self, panel: Panel, step: TrueSeam, others: Mapping[str, Panel]) -> Panel:
        """Raises GeometryRefused when an edge is missing, does not end at the waist, or more than
        60 mm would have to go.
        """
        change = _change(panel, step, others)
        if abs(change) <= tolerance.NOTHING_MM:
            return panel
        before, after = waist_neighbours(panel)
        below = panel.outline.edge(before).chain
        above = panel.outline.edge(after).chain
        if step.edge == before:
            below = _ended(below, change)
        elif step.edge == after:
            above = _ended(above.reversed(), change).reversed()
        else:
            raise GeometryRefused(
                f"{step.edge} does not end at the waist: it cannot be trued there.",
                where=step.edge,
            )
        return with_waist_between(panel, below, above, darts_on(panel, f"{panel.name}.waist"))

    def do(self, panel: Panel, step: TrueSeam) -> Panel:
        """Alone, to an edge of its own panel; raises GeometryRefused for another's."""
        return self.do_beside(panel, step, {panel.name: panel})

    def sentence(self, step: TrueSeam, say: Say = numbers.length) -> str:
        """Which edge is made as long as which."""
        ease = f" and {say(step.ease)} more" if step.ease else ""
        return f"True {step.edge} to {step.other}{ease}, at the waist."

    def drafting(self, panel: Panel, step: TrueSeam, say: Say = numbers.length) -> Drafting:
        """Walk one along the other and mark the end."""
        chain = edge_of(panel, step.edge).chain
        ease = f" Let it be {say(step.ease)} longer." if step.ease else ""
        ends = sorted((chain.start, chain.end), key=lambda point: point.y)
        return Drafting(
            (ends[0], ends[1]),
            (
                f"Walk {step.other} along {step.edge} from {{0}} up, and mark where it ends near "
                f"{{1}}.{ease}",
                f"Draw {step.edge} on to that mark, or cut it off there, and redraw the waist "
                "from it, square to the seam.",
            ),
        )

    def fresh(self, panel: Panel) -> TrueSeam:
        """The side seam, to the other panel's."""
        other = "front" if panel.name == "back" else "back"
        edge = edge_of(panel, f"{panel.name}.side").name
        return TrueSeam(panel.name, edge, f"{other}.side")


def _change(panel: Panel, step: TrueSeam, others: Mapping[str, Panel]) -> float:
    name = step.other.partition(".")[0]
    if name not in others:
        raise GeometryRefused(f"There is no panel {name} to true it to.", where=step.other)
    wanted = others[name].sewn_length(edge_of(others[name], step.other).name) + step.ease
    change = wanted - panel.sewn_length(edge_of(panel, step.edge).name)
    if abs(change) > _MOST_MM:
        raise GeometryRefused(
            f"{step.edge} and {step.other} differ by {numbers.length(abs(change))}: that is more "
            "than trueing can mend.",
            where=step.edge,
            exact=(change,),
        )
    return change


def _ended(up: Chain, change: float) -> Chain:
    """An edge that ends at the waist, drawn on or cut off."""
    if change < 0.0:
        return up.between(0.0, up.length + change)
    return up.then(Chain((Cubic.straight(up.end, up.end + up.end_tangent * change),)))
