"""Places on a panel's edges, from the way a maker says them to millimetres along the edge."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Panel
from studio.curves import Point
from studio.design.lines import OnEdge
from studio.errors import GeometryRefused


class EdgePlace(msgspec.Struct, frozen=True):
    """A place on a panel's edge: mm along it, counter-clockwise."""

    edge: str
    distance: float


def place_on_edge(panel: Panel, place: OnEdge) -> EdgePlace:
    """Where a maker's place lies along its edge.

    Raises:
        GeometryRefused: no such edge or corner, or further along than the edge is long.
    """
    edges = panel.outline.edges
    for index, edge in enumerate(edges):
        if edge.name != place.edge:
            continue
        length = edge.length
        wanted = place.mm if place.mm is not None else (place.share or 0.0) * length
        if not -1e-9 <= wanted <= length + 1e-9:
            raise GeometryRefused(
                f"{numbers.length(wanted)} from {place.corner} is past the end of {place.edge}, "
                f"which is {numbers.length(length)} long.",
                where=place.edge,
                exact=(wanted, length),
            )
        if edges[index - 1].name == place.corner:
            return EdgePlace(place.edge, wanted)
        if edges[(index + 1) % len(edges)].name == place.corner:
            return EdgePlace(place.edge, length - wanted)
        raise GeometryRefused(f"{place.edge} does not meet {place.corner}.", where=place.edge)
    raise GeometryRefused(f"{panel.name} has no edge {place.edge}.", where=place.edge)


def point_at(panel: Panel, place: OnEdge) -> Point:
    """The point of a maker's place; raises GeometryRefused as `place_on_edge` does."""
    found = place_on_edge(panel, place)
    return panel.outline.edge(found.edge).chain.at(found.distance)


def place_at(panel: Panel, place: OnEdge, along: float) -> OnEdge:
    """The same kind of place at `along` mm of its edge, counter-clockwise; clamped to the edge.

    Raises:
        GeometryRefused: the panel has no such edge or corner.
    """
    from_start = place_on_edge(panel, replace(place, mm=0.0, share=None)).distance == 0.0
    length = panel.outline.edge(place.edge).length
    distance = min(length, max(0.0, along if from_start else length - along))
    if place.share is not None:
        return replace(place, share=distance / length)
    return replace(place, mm=distance)


def place_near(panel: Panel, place: OnEdge, to: Point) -> OnEdge:
    """A place on an edge brought as near to a point as its edge allows; raises GeometryRefused."""
    if not panel.outline.has(place.edge):
        raise GeometryRefused(f"{panel.name} has no edge {place.edge}.", where=place.edge)
    return place_at(panel, place, panel.outline.edge(place.edge).chain.nearest(to)[0])
