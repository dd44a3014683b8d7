"""Swing in a rise: its top moves towards the side, and with it goes dart or pleat width."""

from __future__ import annotations

from studio.alter.closing import darts_on, waist_neighbours, with_waist_between
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, level_meetings
from studio.design.alterations import SwingRise
from studio.errors import GeometryRefused


def swing_rise(panel: Panel, step: SwingRise) -> Panel:
    """The panel with the top of its rise moved `amount` mm along the waist towards the side.

    The new rise runs straight from there to the hip line and smooth into what is below; darts on
    the waist are given up (`releases_darts`) or kept. The waist is redrawn square to the new rise.

    Raises:
        GeometryRefused: the rise does not cross the hip line, or the waist is shorter than that.
    """
    waist, rise = f"{panel.name}.waist", f"{panel.name}.rise"
    before, after = waist_neighbours(panel)
    rise_first = before == rise
    rise_chain = panel.outline.edge(rise).chain
    waist_chain = panel.outline.edge(waist).chain
    if not 0.0 <= step.amount < waist_chain.length - 10.0:
        raise GeometryRefused(
            f"The rise cannot swing in by {step.amount:.1f} mm: the waist is "
            f"{waist_chain.length:.1f} mm long.",
            where=rise,
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
        return with_waist_between(panel, swung.reversed(), panel.outline.edge(after).chain, darts)
    return with_waist_between(panel, panel.outline.edge(before).chain, swung, darts)


def _hip_crossing(panel: Panel, down: Chain, rise: str) -> float:
    height = panel.levels.get("hip")
    if height is None:
        raise GeometryRefused(f"{panel.name} has no hip line.", where=panel.name)
    hits = level_meetings(down, height)
    if not hits:
        raise GeometryRefused(f"{rise} does not cross the hip line.", where=rise)
    return hits[0].first
