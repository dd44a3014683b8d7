"""Swing in a rise: its top moves towards the side, and with it goes dart or pleat width."""

from __future__ import annotations

from studio import numbers
from studio.alter.closing import darts_on, level_of, waist_neighbours, with_waist_between
from studio.alter.kind import Axis, Drafting, Field, Kind, Say
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, Vector, level_meetings
from studio.design.alterations import SwingRise
from studio.errors import GeometryRefused

_LEAST_WAIST_MM = 10.0


class SwingRiseKind(Kind[SwingRise]):
    """The new rise runs straight from its new top to the hip line and smooth into what is below;
    the waist is redrawn square to it. Darts on the waist are given up or kept.
    """

    title = "Swing in the rise"
    fields = (Field("amount", "By"), Field("releases_darts", "Give up the waist darts", "yes"))

    def do(self, panel: Panel, step: SwingRise) -> Panel:
        """Raises GeometryRefused when the rise does not cross the hip line, or the waist is
        shorter than that.
        """
        waist, rise = f"{panel.name}.waist", f"{panel.name}.rise"
        before, after = waist_neighbours(panel)
        rise_first = before == rise
        rise_chain = panel.outline.edge(rise).chain
        waist_chain = panel.outline.edge(waist).chain
        if not 0.0 <= step.amount < waist_chain.length - _LEAST_WAIST_MM:
            raise GeometryRefused(
                f"The rise cannot swing in by {numbers.length(step.amount)}: of the waist, which "
                f"is {numbers.length(waist_chain.length)} long with its darts, more than "
                f"{numbers.length(_LEAST_WAIST_MM)} have to be left.",
                where=rise,
                exact=(step.amount, waist_chain.length, _LEAST_WAIST_MM),
            )
        down = rise_chain.reversed() if rise_first else rise_chain
        top = waist_chain.at(step.amount if rise_first else waist_chain.length - step.amount)
        lower = down.between(_hip_crossing(panel, down, rise), down.length)
        chord = lower.start - top
        upper = Cubic(
            top,
            top + chord * (1.0 / 3.0),
            lower.start + lower.start_tangent * (-chord.length / 3.0),
            lower.start,
        )
        swung = Chain((upper, *lower.cubics))
        darts = () if step.releases_darts else darts_on(panel, waist)
        if rise_first:
            other = panel.outline.edge(after).chain
            return with_waist_between(panel, swung.reversed(), other, darts)
        return with_waist_between(panel, panel.outline.edge(before).chain, swung, darts)

    def sentence(self, step: SwingRise, say: Say = numbers.length) -> str:
        """What swings in by how much."""
        end = "; its waist darts are given up" if step.releases_darts else ""
        return f"Swing the top of the {step.panel} rise in by {say(step.amount)}{end}."

    def axes(self, panel: Panel, _step: SwingRise) -> dict[str, Axis]:
        """The top of the rise is pulled along the waist."""
        chain, inward = _waist_from_rise(panel)
        return {"amount": Axis(chain.start, inward)}

    def drafting(self, panel: Panel, step: SwingRise, say: Say = numbers.length) -> Drafting:
        """The new top, the hip line, the new rise."""
        chain, _ = _waist_from_rise(panel)
        rise = panel.outline.edge(f"{panel.name}.rise").chain
        down = rise if rise.start == chain.start else rise.reversed()
        hip = down.at(_hip_crossing(panel, down, f"{panel.name}.rise"))
        sentences = [
            f"From {{0}}, the top of the rise, measure {say(step.amount)} in along the waist and "
            "mark {1}.",
            "Mark {2} where the rise crosses the hip line.",
            "Draw the new rise straight from {1} to {2}, running smooth into the curve below; "
            "redraw the waist so that it leaves the new rise square.",
        ]
        if step.releases_darts:
            sentences.append(
                "Leave the waist darts of this panel out: the swing has taken their width."
            )
        return Drafting((chain.start, chain.at(step.amount), hip), tuple(sentences))

    def fresh(self, panel: Panel) -> SwingRise:
        """Swung in by a little."""
        waist_neighbours(panel)
        return SwingRise(panel.name, 10.0)


def _waist_from_rise(panel: Panel) -> tuple[Chain, Vector]:
    """The waist walked from the rise, and its direction there."""
    before, _ = waist_neighbours(panel)
    chain = panel.outline.edge(f"{panel.name}.waist").chain
    if before != f"{panel.name}.rise":
        chain = chain.reversed()
    return chain, chain.start_tangent


def _hip_crossing(panel: Panel, down: Chain, rise: str) -> float:
    hits = level_meetings(down, level_of(panel, "hip"))
    if not hits:
        raise GeometryRefused(f"{rise} does not cross the hip line.", where=rise)
    return hits[0].first
