"""Cutting an outline along a line, with every edge's name and place kept."""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.block.places import EdgePlace
from studio.curves import Chain, Edge, Outline, Point, meetings, tolerance
from studio.cut.drawn import DrawnLine
from studio.errors import GeometryRefused
from studio.memo import remembered

Side: TypeAlias = Literal["left", "right"]

Place: TypeAlias = tuple[int, float]
"""Index of an edge in an outline and mm along it."""


def kept_side(outline: Outline, line: DrawnLine, keep: Side) -> Outline:
    """What lies left or right of a line that crosses an outline from edge to edge.

    Ends anchored on the outline are used as they are; an end that an earlier cut took away is
    replaced by where the line meets the outline. Areas and lengths are conserved within 1e-6.

    Raises:
        GeometryRefused: the line leaves the outline, touches it, or does not cut it in two.
    """
    edges, start, end = _clipped(outline, line)
    if keep == "left":
        inside = edges
        around = _run(outline, end, start)
    else:
        inside = tuple(edge.reversed() for edge in reversed(edges))
        around = _run(outline, start, end)
    face = Outline((*inside, *_pinned(around, inside[-1].chain.end, inside[0].chain.start)))
    if not 1e-3 < face.area_mm2 < outline.area_mm2:
        raise GeometryRefused(f"{line.name} runs outside the panel.", where=line.name)
    return face


def end_of(outline: Outline, line: DrawnLine, end: int) -> Place | None:
    """Where an end of a line (0 or 1) lies on an outline; None where it was cut away, or where
    the edge was redrawn elsewhere since.
    """
    place = place_of(outline, line.ends[end])
    if place is None:
        return None
    at = line.edges[-1].chain.end if end else line.edges[0].chain.start
    off = outline.edges[place[0]].chain.at(place[1]).distance_to(at)
    return place if off < tolerance.CORNER_MM else None


def place_of(outline: Outline, place: EdgePlace) -> Place | None:
    """Where a place on a panel's edge lies on an outline cut from that panel; None if cut away."""
    for index, edge in enumerate(outline.edges):
        if edge.name != place.edge:
            continue
        low, high = min(edge.start, edge.end), max(edge.start, edge.end)
        if low - tolerance.CORNER_MM <= place.distance <= high + tolerance.CORNER_MM:
            return index, min(edge.length, max(0.0, edge.along(place.distance)))
    return None


def _clipped(outline: Outline, line: DrawnLine) -> tuple[tuple[Edge, ...], Place, Place]:
    """The line's edges between two places on the outline."""
    if len(line.ends) != 2:
        raise GeometryRefused(
            f"{line.name} is a closed shape and cannot cut a panel.", where=line.name
        )
    chain = line.chain
    length = chain.length
    start, end = end_of(outline, line, 0), end_of(outline, line, 1)
    crossings = _crossings(outline, chain)
    inner = [
        (along, place)
        for along, place in crossings
        if (start is None or along > tolerance.CORNER_MM)
        and (end is None or along < length - tolerance.CORNER_MM)
    ]
    wanted = (start is None) + (end is None)
    if wanted == 2 and not inner:
        raise GeometryRefused(
            f"{line.name} runs beside the piece, not across it. Lines keep the distances that they "
            "are set at: on another body, or after a step, they may come to lie apart. Move it "
            "until it crosses the piece, or take it away.",
            where=line.name,
        )
    if len(inner) != wanted:
        raise GeometryRefused(
            f"{line.name} leaves the panel on its way: it should meet the edges only at its ends.",
            where=line.name,
        )
    first, last = 0.0, length
    if start is None:
        first, start = inner[0]
    if end is None:
        last, end = inner[-1]
    if first == 0.0 and last == length:
        return line.edges, start, end
    return _between(line, first, last), start, end


def _crossings(outline: Outline, chain: Chain) -> list[tuple[float, Place]]:
    return sorted(
        (meeting.first, (index, meeting.second))
        for index, edge in enumerate(outline.edges)
        for meeting in meetings(chain, edge.chain)
    )


def _between(line: DrawnLine, first: float, last: float) -> tuple[Edge, ...]:
    kept = []
    passed = 0.0
    for edge in line.edges:
        low, high = max(first - passed, 0.0), min(last - passed, edge.length)
        if high - low > tolerance.CORNER_MM:
            kept.append(edge if high - low >= edge.length else edge.between(low, high))
        passed += edge.length
    if not kept:
        raise GeometryRefused(f"{line.name} only touches the piece.", where=line.name)
    return tuple(kept)


def _run(outline: Outline, start: Place, end: Place) -> list[Edge]:
    """Edges walked counter-clockwise from one place to another; slivers at corners dropped."""
    count = len(outline.edges)
    (i, low), (j, high) = start, end
    if i == j and low < high:
        return [_part(outline.edges[i], low, high)]
    run: list[Edge] = []
    first, last = outline.edges[i], outline.edges[j]
    if first.length - low > tolerance.CORNER_MM:
        run.append(_part(first, low, first.length))
    k = (i + 1) % count
    while k != j:
        run.append(outline.edges[k])
        k = (k + 1) % count
    if high > tolerance.CORNER_MM:
        run.append(_part(last, 0.0, high))
    return run


def _pinned(run: list[Edge], start: Point, end: Point) -> list[Edge]:
    """The run with its two ends on the very points of the line, so that the outline closes."""
    if not run:
        raise GeometryRefused("A line runs along an edge.")
    run[0] = _starting_at(run[0], start.x, start.y)
    run[-1] = _ending_at(run[-1], end.x, end.y)
    return run


def _starting_at_of(edge: Edge, x: float, y: float) -> Edge:
    return edge.redrawn(edge.chain.with_ends(Point(x, y), edge.chain.end))


def _ending_at_of(edge: Edge, x: float, y: float) -> Edge:
    return edge.redrawn(edge.chain.with_ends(edge.chain.start, Point(x, y)))


# What a line cuts off is often the same edge as before, cut at the same place.
_part = remembered(Edge.between, 400)
_starting_at = remembered(_starting_at_of, 400)
_ending_at = remembered(_ending_at_of, 400)
