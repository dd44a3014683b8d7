"""The small drawings of a draft-along sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from studio.block.panel import Panel
from studio.curves import Box, Chain, Point
from studio.exchange.along.stage import Figure, Stroke, Stroked
from studio.exchange.marks import dart_lines

_LEAST_VIEW = 260.0
"""A figure shows at least so much of the panel, mm, that the maker sees where it is."""

_ROUND = 0.25
"""Shown round what matters, as a share of its size."""


def panel_lines(panel: Panel, stroke: Stroke) -> list[Stroked]:
    """Outline and darts of a panel."""
    lines = [Stroked(edge.chain, stroke) for edge in panel.outline]
    darts: Stroke = "before" if stroke == "before" else "dashed"
    return lines + [Stroked(line, darts) for line in dart_lines(panel.darts)]


def level_lines(panel: Panel) -> list[Stroked]:
    """Level lines across a panel and its crease line, dashed."""
    box = grown(panel.outline.box, 20.0)
    lines = [
        Chain.straight(Point(box.left, height), Point(box.right, height))
        for height in panel.levels.values()
    ]
    if box.left < 0.0 < box.right:
        lines.append(Chain.straight(Point(0.0, box.bottom), Point(0.0, box.top)))
    return [Stroked(line, "dashed") for line in lines]


def changed_lines(before: Panel, after: Panel) -> list[Stroked]:
    """The panel after a step, and as it was where it is no longer so."""
    now = {edge.chain for edge in after.outline}
    was = [Stroked(edge.chain, "before") for edge in before.outline if edge.chain not in now]
    gone = [dart for dart in before.darts if dart not in after.darts]
    was += [Stroked(line, "before") for line in dart_lines(gone)]
    return was + panel_lines(after, "drawn")


def figure(
    lines: Sequence[Stroked],
    points: Sequence[tuple[str, Point]],
    about: Iterable[Point],
    whole: Box,
) -> Figure:
    """A figure that shows what lies about some points, not more than the whole; with no point
    it shows the whole.
    """
    view = whole
    near = list(about)
    if near:
        left, right = min(p.x for p in near), max(p.x for p in near)
        bottom, top = min(p.y for p in near), max(p.y for p in near)
        size = max(right - left, top - bottom, _LEAST_VIEW / (1.0 + 2.0 * _ROUND))
        side = size * (0.5 + _ROUND)
        x, y = (left + right) / 2.0, (bottom + top) / 2.0
        view = Box(
            max(whole.left, x - side),
            max(whole.bottom, y - side),
            min(whole.right, x + side),
            min(whole.top, y + side),
        )
    margin = 0.06 * max(view.width, view.height)
    return Figure(tuple(lines), tuple(points), grown(view, margin))


def grown(box: Box, margin: float) -> Box:
    """A box with a margin all round."""
    return Box(box.left - margin, box.bottom - margin, box.right + margin, box.top + margin)
