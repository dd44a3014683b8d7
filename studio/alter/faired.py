"""An edge redrawn smooth with its darts closed."""

from __future__ import annotations

import numpy as np

from studio import numbers
from studio.alter.closing import closed_stretches, darts_on, edge_of, reopened, with_edge
from studio.block.panel import Panel
from studio.curves import Chain, Point
from studio.curves.fair import faired
from studio.curves.fit import fitted
from studio.errors import GeometryRefused

_STEP_MM = 8.0
_CHORD_MM = 0.002
"""Accuracy of the line that distances from a curve are measured to."""


def faired_edge(panel: Panel, edge_name: str, within: float | None = None) -> Panel:
    """The panel with one edge smooth across its closed darts; ends and end directions are kept.

    One cubic where it strays no more than `within` mm (any distance when None), else as few as
    that takes; measured at points 8 mm apart.

    Raises:
        GeometryRefused: no such edge, no smooth curve lies that near, or it misses a dart's legs.
    """
    chain = edge_of(panel, edge_name).chain
    darts = darts_on(panel, edge_name)
    stretches = closed_stretches(chain, darts)
    curve = Chain((faired(stretches),))
    if within is not None:
        curve = _near(curve, stretches, within, edge_name)
    redrawn, placed = reopened(curve, darts, chain.start, chain.end)
    return with_edge(panel, edge_name, redrawn, placed)


def _near(curve: Chain, stretches: list[Chain], within: float, edge_name: str) -> Chain:
    """The curve where it strays no more from the stretches, else one of as few cubics as need be;
    raises GeometryRefused.
    """
    points = _samples(stretches)
    if _strays(curve, points) <= within:
        return curve
    curve = _fitted(points, stretches, within)
    strayed = _strays(curve, points)
    if strayed > within:
        raise GeometryRefused(
            f"No smooth {edge_name} lies within {numbers.length(within)} of what it is: the "
            f"nearest strays by {numbers.length(strayed)}.",
            where=edge_name,
            exact=(within, strayed),
        )
    return curve


def _samples(stretches: list[Chain]) -> np.ndarray:
    found: list[Point] = []
    for stretch in stretches:
        count = max(4, round(stretch.length / _STEP_MM))
        found += [stretch.at(stretch.length * k / count) for k in range(count)]
    return np.array([(point.x, point.y) for point in (*found, stretches[-1].end)])


def _strays(curve: Chain, samples: np.ndarray) -> float:
    """Greatest distance of the samples from the curve, mm, within `_CHORD_MM`."""
    line = np.array(curve.polyline(_CHORD_MM))
    points = samples[:, None]
    starts, runs = line[:-1], np.diff(line, axis=0)
    along = ((points - starts) * runs).sum(axis=2) / (runs * runs).sum(axis=1)
    feet = starts + np.clip(along, 0.0, 1.0)[:, :, None] * runs
    return float(np.hypot(*np.moveaxis(points - feet, 2, 0)).min(axis=1).max())


def _fitted(points: np.ndarray, stretches: list[Chain], within: float) -> Chain:
    cubics = list(fitted(points, within, stretches[0].start_tangent, stretches[-1].end_tangent))
    for index in range(1, len(cubics)):
        cubics[index] = cubics[index].with_ends(cubics[index - 1].p3, cubics[index].p3)
    return Chain(tuple(cubics)).with_ends(stretches[0].start, stretches[-1].end)
