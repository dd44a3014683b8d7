"""A panel cut in two along a line, one part moved as it is, and the gap drawn over.

The one engine behind hinges, spreads, lengthening and moved darts: names of edges survive, and
everything beyond the reach of the redrawn gap keeps its shape exactly.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from studio.block.panel import Dart, Panel
from studio.block.places import EdgePlace
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, Vector, tolerance
from studio.curves.spline import between
from studio.errors import GeometryRefused

REACH_MM = 60.0
"""How far to each side of a gap an edge is redrawn, so that it stays fair (practice)."""

_MOST_OF_A_STRETCH = 0.9

ALONG_MM = 0.5
"""A level line this near to a cut is the line that was cut along, whose places were rounded when
they were written down or typed; it stays with the part that stays.
"""

Bridge: TypeAlias = Literal["smooth", "mouth"]


class Cut(msgspec.Struct, frozen=True):
    """Where the line meets an edge: the part that stays ends at `stays`, the part that moves
    begins at `moves` (mm along, counter-clockwise); they differ where a strip is taken out. A
    `mouth` is bridged by a straight stretch, as a dart's is; else the gap is drawn over smooth.
    """

    edge: str
    stays: float
    moves: float
    bridge: Bridge = "smooth"

    @staticmethod
    def at(place: EdgePlace, bridge: Bridge = "smooth") -> Cut:
        """A cut that takes nothing out."""
        return Cut(place.edge, place.distance, place.distance, bridge)


class _Stretch(msgspec.Struct, frozen=True):
    """A stretch of an edge after the move, and how much of it at its start and its end may be
    redrawn: no dart's mouth.
    """

    chain: Chain | None
    start: Point
    end: Point
    leaving: Vector
    arriving: Vector
    clear_start: float = 0.0
    clear_end: float = 0.0


def moving_part_first(panel: Panel, one: Cut, two: Cut) -> tuple[Cut, Cut]:
    """The two cuts in the order in which the part between them, counter-clockwise, moves: the
    part with the foot of the crease line stays.
    """
    edge, along = _foot(panel)
    index = _index_of(panel, edge)
    for low, high, moved in _intervals(panel, one, two)[index]:
        if low <= along <= high:
            return (two, one) if moved else (one, two)
    return one, two


def part_moved(panel: Panel, start: Cut, end: Cut, move: Affine) -> Panel:
    """The panel with the part between two cuts, counter-clockwise, moved rigidly.

    Darts and level lines on that part move along; a level line that was cut along stays. Beyond
    `REACH_MM` of a gap all stretches are exact images of what they were.

    Raises:
        GeometryRefused: a cut runs through a dart's mouth, or the outline turned inside out.
    """
    table = _intervals(panel, start, end)
    edges = []
    for index, edge in enumerate(panel.outline.edges):
        intervals = table[index]
        if len(intervals) == 1:
            chain = edge.chain.transformed(move) if intervals[0][2] else edge.chain
        else:
            bridges = [cut.bridge for cut in (start, end) if cut.edge == edge.name]
            if len(bridges) == 2 and start.stays > end.stays:
                bridges.reverse()
            mouths = [
                (edge.chain.distance_of(dart.first), edge.chain.distance_of(dart.last))
                for dart in panel.darts
                if dart.edge == edge.name
            ]
            stretches = [_stretch(edge.chain, one, mouths, move) for one in intervals]
            chain = _joined(stretches, bridges)
        edges.append((edge.name, chain))
    darts = tuple(_dart_moved(panel, dart, table, move) for dart in panel.darts)
    line_start = panel.outline.edge(start.edge).chain.at(start.stays)
    line = panel.outline.edge(end.edge).chain.at(end.stays) - line_start
    levels = {
        name: move(Point(0.0, height)).y
        if line.cross(Point(0.0, height) - line_start) < -ALONG_MM * line.length
        else height
        for name, height in panel.levels.items()
    }
    outline = Outline.of(rejoined([Edge.whole(name, chain) for name, chain in edges]))
    return Panel(panel.name, outline, darts, levels)


def rejoined(edges: list[Edge]) -> list[Edge]:
    """Neighbours share one stored point after a move's rounding."""
    return [
        edge.redrawn(edge.chain.with_ends(edge.chain.start, following.chain.start))
        for edge, following in zip(edges, (*edges[1:], edges[0]), strict=True)
    ]


def _foot(panel: Panel) -> tuple[str, float]:
    """Where the crease line meets the hem; on a panel without hem, its lowest corner."""
    hem = f"{panel.name}.hem"
    if panel.outline.has(hem):
        chain = panel.outline.edge(hem).chain
        return hem, chain.nearest(Point(0.0, chain.start.y))[0]
    lowest = min(panel.outline.edges, key=lambda edge: edge.chain.start.y)
    return lowest.name, 0.0


def _index_of(panel: Panel, name: str) -> int:
    for index, edge in enumerate(panel.outline.edges):
        if edge.name == name:
            return index
    raise GeometryRefused(f"{panel.name} has no edge {name}.", where=name)


_Interval: TypeAlias = tuple[float, float, bool]


def _intervals(panel: Panel, start: Cut, end: Cut) -> list[list[_Interval]]:
    """For each edge its stretches as (from, to, moved)."""
    edges = panel.outline.edges
    first, last = _index_of(panel, start.edge), _index_of(panel, end.edge)
    wraps = first == last and start.stays > end.stays
    table: list[list[_Interval]] = []
    for index, edge in enumerate(edges):
        length = edge.length
        inside = (index - first) % len(edges) <= (last - first) % len(edges)
        intervals: list[_Interval] = [(0.0, length, wraps or (inside and first != last))]
        if first == last == index and wraps:
            intervals = [
                (0.0, end.moves, True),
                (end.stays, start.stays, False),
                (start.moves, length, True),
            ]
        elif first == last == index:
            intervals = [
                (0.0, start.stays, False),
                (start.moves, end.moves, True),
                (end.stays, length, False),
            ]
        elif index == first:
            intervals = [(0.0, start.stays, False), (start.moves, length, True)]
        elif index == last:
            intervals = [(0.0, end.moves, True), (end.stays, length, False)]
        table.append(intervals)
    return table


def _stretch(
    chain: Chain, interval: _Interval, mouths: list[tuple[float, float]], move: Affine
) -> _Stretch:
    low, high, moved = interval
    if high - low <= tolerance.CORNER_MM:
        at, along = chain.at(low), chain.tangent(low)
        if moved:
            at, along = move(at), move.vector(along)
        return _Stretch(None, at, at, along, along)
    part = chain.between(low, high)
    if moved:
        part = part.transformed(move)
    slack = tolerance.CORNER_MM
    within = [mouth for mouth in mouths if low - slack <= mouth[0] and mouth[1] <= high + slack]
    return _Stretch(
        part,
        part.start,
        part.end,
        part.start_tangent,
        part.end_tangent,
        min((first for first, _ in within), default=high) - low,
        high - max((last for _, last in within), default=low),
    )


def _joined(stretches: list[_Stretch], bridges: list[Bridge]) -> Chain:
    """The stretches and what lies between them as one chain."""
    cubics: list[Cubic] = []
    held = stretches[0]
    for following, bridge in zip(stretches[1:], bridges, strict=True):
        before, drawn, after = _bridged(held, following, bridge)
        cubics += [*(before.cubics if before else ()), *drawn]
        held = after
    if held.chain is not None:
        cubics += held.chain.cubics
    if not cubics:
        raise GeometryRefused("Nothing is left of an edge.")
    for index in range(1, len(cubics)):
        cubics[index] = cubics[index].with_ends(cubics[index - 1].p3, cubics[index].p3)
    return Chain(tuple(cubics))


def _bridged(
    before: _Stretch, after: _Stretch, bridge: Bridge
) -> tuple[Chain | None, tuple[Cubic, ...], _Stretch]:
    """What is left of the stretch before, what is drawn over the gap, and the stretch after."""
    gap = after.start - before.end
    if gap.length <= tolerance.MEET_MM:
        return before.chain, (), after
    if bridge == "mouth":
        return before.chain, (Cubic.straight(before.end, after.start),), after
    shorter, leaving_at, leaving = _without_end(before)
    landing = _without_start(after)
    if (landing.start - leaving_at).dot(leaving + landing.leaving) <= 0.0:
        raise GeometryRefused("The two parts overlap: less can be opened or closed there.")
    curve = between(leaving_at, leaving, landing.start, landing.leaving)
    return shorter, (curve,), landing


def _without_end(stretch: _Stretch) -> tuple[Chain | None, Point, Vector]:
    chain, reach = stretch.chain, _reach(stretch.clear_end)
    if chain is None or reach <= tolerance.CORNER_MM:
        return chain, stretch.end, stretch.arriving
    kept = chain.between(0.0, chain.length - reach)
    return kept, kept.end, kept.end_tangent


def _without_start(stretch: _Stretch) -> _Stretch:
    chain, reach = stretch.chain, _reach(stretch.clear_start)
    if chain is None or reach <= tolerance.CORNER_MM:
        return stretch
    kept = chain.between(reach, chain.length)
    return replace(
        stretch, chain=kept, start=kept.start, leaving=kept.start_tangent, clear_start=0.0
    )


def _reach(clear: float) -> float:
    return min(REACH_MM, _MOST_OF_A_STRETCH * clear)


def _dart_moved(panel: Panel, dart: Dart, table: Iterable[list[_Interval]], move: Affine) -> Dart:
    for edge, intervals in zip(panel.outline.edges, table, strict=True):
        if edge.name != dart.edge:
            continue
        first, last = edge.chain.distance_of(dart.first), edge.chain.distance_of(dart.last)
        for low, high, moved in intervals:
            slack = tolerance.CORNER_MM
            if low - slack <= first and last <= high + slack:
                if not moved:
                    return dart
                return replace(
                    dart, first=move(dart.first), last=move(dart.last), point=move(dart.point)
                )
    raise GeometryRefused(
        f"The line runs through the dart {dart.name}: close it, or lead the line past it.",
        where=dart.name,
    )
