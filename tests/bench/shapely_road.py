"""The demonstration pattern through shapely polylines: the peer the road is measured against.

Panels and lines are taken as given (no draft, no alteration, no dart closed), so the peer does
less than the road. Curves are polylines within 0.01 mm. A split loses the edges' names, so they are
found again by their nearness, as each edge needs its own allowance.
"""

from __future__ import annotations

import shapely
from shapely.ops import split

from studio.design import PanelPiece, ShapePiece
from studio.pattern import Pattern
from studio.sew import allowance_rules

CHORD_ERROR = 0.01
NEAR = 2 * CHORD_ERROR


def pieces_by_shapely(pattern: Pattern) -> dict[str, tuple[shapely.Polygon, float, bool]]:
    """For each piece its cut polygon, the length of its named edges and whether it is valid."""
    design = pattern.design
    rules = allowance_rules(design.joins, design.finishes, design.standard_allowance)
    panels = {panel.name: panel for panel in pattern.panels}
    lines = {line.name: line for line in pattern.lines}
    made = {}
    for recipe in design.pieces:
        if isinstance(recipe, PanelPiece):
            panel = panels[recipe.panel]
            shape = shapely.Polygon(panel.outline.polyline(CHORD_ERROR))
            edges = {
                e.name: shapely.LineString(e.chain.polyline(CHORD_ERROR)) for e in panel.outline
            }
            for bound in recipe.bounds:
                drawn = lines[bound.line]
                cutter = shapely.LineString(drawn.chain.polyline(CHORD_ERROR))
                shape = _kept(shape, cutter, bound.keep)
                edges |= {
                    e.name: shapely.LineString(e.chain.polyline(CHORD_ERROR)) for e in drawn.edges
                }
        elif isinstance(recipe, ShapePiece):
            drawn = lines[recipe.line]
            shape = shapely.Polygon(drawn.chain.polyline(CHORD_ERROR))
            edges = {e.name: shapely.LineString(e.chain.polyline(CHORD_ERROR)) for e in drawn.edges}
        else:
            continue
        made[recipe.name] = _with_allowance(recipe.name, shape, edges, rules)
    return made


def _kept(shape: shapely.Polygon, line: shapely.LineString, keep: str) -> shapely.Polygon:
    start, end = line.coords[0], line.coords[-1]
    reach = 0.05
    longer = shapely.LineString(
        [
            _beyond(line.coords[1], start, reach),
            *line.coords[1:-1],
            _beyond(line.coords[-2], end, reach),
        ]
    )
    parts = split(shape, longer).geoms
    side = longer.offset_curve(1.0 if keep == "left" else -1.0)
    probe = side.interpolate(0.5, normalized=True)
    return next(part for part in parts if part.contains(probe))


def _beyond(
    inner: tuple[float, ...], outer: tuple[float, ...], reach: float
) -> tuple[float, float]:
    x, y = outer[0] - inner[0], outer[1] - inner[1]
    size = (x * x + y * y) ** 0.5
    return outer[0] + x / size * reach, outer[1] + y / size * reach


def _with_allowance(name, shape, edges, rules):  # type: ignore[no-untyped-def]
    cut, length = shape, 0.0
    boundary = shape.boundary
    for edge_name, edge in edges.items():
        if not edge.intersects(boundary):
            continue
        stretch = boundary.intersection(edge.buffer(NEAR))
        if stretch.length < 1.0:
            continue
        length += stretch.length
        width = rules.widths.get((name, edge_name), rules.standard)
        if width > 0.0:
            cut = cut.union(stretch.buffer(width, join_style="mitre", cap_style="square"))
    return cut, length, cut.is_valid
