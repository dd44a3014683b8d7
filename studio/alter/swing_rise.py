"""Swing in a rise: its top moves towards the side, and with it goes dart or pleat width."""

from __future__ import annotations

from studio.alter.closing import darts_on, fair_edge, with_edges
from studio.block.panel import Panel
from studio.curves import Chain, Cubic, Point, meetings
from studio.design.alterations import SwingRise
from studio.errors import GeometryRefused


def swing_rise(panel: Panel, step: SwingRise) -> Panel:
    """The panel with the top of its rise moved `amount` mm along the waist towards the side.

    The new rise runs straight from there to the hip line and smooth into what is below; darts on
    the waist are given up (`releases_darts`) or kept. The waist is redrawn square to the new rise.

    Raises:
        GeometryRefused: the rise does not cross the hip line, or the waist is shorter than that.
    """
    name = panel.name
    waist, side, rise = f"{name}.waist", f"{name}.side", f"{name}.rise"
    rise_first = _comes_before(panel, rise, waist)
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
    new_rise = swung.reversed() if rise_first else swung
    darts = () if step.releases_darts else darts_on(panel, waist)
    side_chain = panel.outline.edge(side).chain
    if rise_first:
        leaving, arriving = new_rise.end_tangent.left(), side_chain.start_tangent.right()
        start, end = new_rise.end, side_chain.start
    else:
        leaving, arriving = side_chain.end_tangent.left(), new_rise.start_tangent.right()
        start, end = side_chain.end, new_rise.start
    chain, kept = fair_edge(start, end, leaving, arriving, darts)
    others = tuple(dart for dart in panel.darts if dart.edge != waist)
    return with_edges(panel, {waist: chain, rise: new_rise}, (*others, *kept))


def _comes_before(panel: Panel, first: str, second: str) -> bool:
    """True when `first` is the edge that leads into `second`."""
    order = [edge.name for edge in panel.outline.edges]
    return order[order.index(second) - 1] == first


def _hip_crossing(panel: Panel, down: Chain, rise: str) -> float:
    height = panel.levels.get("hip")
    if height is None:
        raise GeometryRefused(f"{panel.name} has no hip line.", where=panel.name)
    box = down.box
    level = Chain.straight(Point(box.left - 10.0, height), Point(box.right + 10.0, height))
    hits = meetings(down, level)
    if not hits:
        raise GeometryRefused(f"{rise} does not cross the hip line.", where=rise)
    return hits[0].first
