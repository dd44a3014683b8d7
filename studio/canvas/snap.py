"""Where a dragged point would like to lie: on ends and corners, level lines, the grain, squares.

A snap only proposes a place and says what it lies on; what is drawn there is the tool's work.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias

import msgspec

from studio.block.panel import Panel
from studio.curves import Chain, Point, Vector, level_meetings
from studio.cut.drawn import DrawnLine
from studio.cut.edit import Grip
from studio.pattern import Pattern

SHARE = 0.7
"""A point snaps from this share of the pointer's reach, so that it can be laid beside a line."""


_OnEdge: TypeAlias = tuple[float, str, tuple[tuple[Point, Point], ...]]
"""A place of an edge that a point snaps to: mm along it, its words, lines that show it."""


_Line: TypeAlias = tuple[float, str, Point | None]
"""A level by its height or an upright by its x, its words, and the point it runs through."""


class Snap(msgspec.Struct, frozen=True):
    """A place (mm on the panel), what it lies on, and lines that show it."""

    at: Point
    words: str
    guides: tuple[tuple[Point, Point], ...] = ()


class Marks(msgspec.Struct, frozen=True):
    """What points of a panel can snap to, each with its words: places, uprights by x, levels by
    height (with the place they come from, if from one), and rays by origin and unit direction.
    """

    points: tuple[tuple[Point, str], ...] = ()
    uprights: tuple[_Line, ...] = ()
    levels: tuple[_Line, ...] = ()
    rays: tuple[tuple[Point, Vector, str], ...] = ()


def snapped(pattern: Pattern, drawn: DrawnLine, grip: Grip, to: Point, reach: float) -> Snap | None:
    """What a grip brought to a place (mm on its panel) snaps to within `reach` mm; None for
    nothing.
    """
    if grip.kind == "shape":
        return None
    panel = pattern.panel_of(drawn)
    if grip.kind in ("start", "end"):
        end = drawn.ends[0 if grip.kind == "start" else 1]
        beside = drawn.nodes[1 if grip.kind == "start" else -2].at
        others = _others(pattern, panel, drawn)
        return snap_on_edge(panel, end.edge, to, reach, others, beside)
    if grip.kind == "node":
        return snap_free(marks_of(pattern, panel, drawn, node=grip.index), to, reach)
    return _snapped_handle(panel, drawn, grip, to, reach)


def marks_of(
    pattern: Pattern,
    panel: Panel,
    drawn: DrawnLine | None,
    passed: Sequence[Point] = (),
    node: int = -1,
) -> Marks:
    """What a node of a line can snap to, or a new point of a line that has `passed` others."""
    others = [
        (other.at, _node_words(drawn, k))
        for k, other in enumerate(drawn.nodes if drawn else ())
        if k != node
    ]
    others += [
        (point, "the start" if k == 0 else f"node {k + 1}") for k, point in enumerate(passed)
    ]
    points = [(edge.chain.start, f"the corner at {edge.name}") for edge in panel.outline]
    points += [(dart.point, f"the point of {dart.name}") for dart in panel.darts]
    for line in _others(pattern, panel, drawn):
        points += [(other.at, f"a node of {line.name}") for other in line.nodes]
    uprights: list[_Line] = [(0.0, "on the crease line", None)]
    uprights += [(at.x, f"along the grain with {words}", at) for at, words in others]
    levels: list[_Line] = [(up, f"on the {name} line", None) for name, up in panel.levels.items()]
    levels += [(at.y, f"level with {words}", at) for at, words in others]
    return Marks(tuple(points), tuple(uprights), tuple(levels), _squares(panel, drawn))


def snap_free(marks: Marks, to: Point, reach: float) -> Snap | None:
    """The nearest place; else the crossing of an upright and a level; else the nearest line."""
    near = reach * SHARE
    places = [(to.distance_to(at), at, words) for at, words in marks.points]
    close = [found for found in places if found[0] <= near]
    if close:
        _, at, words = min(close, key=lambda found: found[0])
        return Snap(at, f"on {words}")
    upright = _nearest(marks.uprights, to.x, near)
    level = _nearest(marks.levels, to.y, near)
    if upright and level:
        at = Point(upright[0], level[0])
        return Snap(at, f"{level[1]}, {upright[1]}", (*_guide(at, level), *_guide(at, upright)))
    ray = _nearest_ray(marks.rays, to, near)
    only = upright or level
    if ray is not None:
        gap = abs(upright[0] - to.x) if upright else abs(level[0] - to.y) if level else near
        if to.distance_to(ray.at) <= gap:
            return ray
    if only is None:
        return None
    at = Point(only[0], to.y) if upright else Point(to.x, only[0])
    return Snap(at, only[1], _guide(at, only))


def snap_on_edge(
    panel: Panel,
    edge: str,
    to: Point,
    reach: float,
    lines: Iterable[DrawnLine] = (),
    beside: Point | None = None,
) -> Snap | None:
    """What a place that slides on an edge snaps to: level lines, ends of other lines, and where
    the edge lies square or level to the node beside it.
    """
    chain = panel.outline.edge(edge).chain
    along = chain.nearest(to)[0]
    found: list[_OnEdge] = [
        (meeting.first, f"on the {name} line", ())
        for name, height in panel.levels.items()
        for meeting in level_meetings(chain, height)
    ]
    for line in lines:
        found += [
            (end.distance, f"at the end of {line.name}", ())
            for end in line.ends
            if end.edge == edge
        ]
    if beside is not None:
        found += _square_places(chain, beside)
    close = [one for one in found if abs(one[0] - along) <= reach * SHARE]
    if not close:
        return None
    distance, words, guides = min(close, key=lambda one: abs(one[0] - along))
    return Snap(chain.at(distance), words, guides)


def _squares(panel: Panel, drawn: DrawnLine | None) -> tuple[tuple[Point, Vector, str], ...]:
    """The rays square to the edges a line ends on, from its ends."""
    if drawn is None:
        return ()
    return tuple(
        (
            node.at,
            panel.outline.edge(end.edge).chain.tangent(end.distance).left(),
            f"square to {end.edge}",
        )
        for end, node in zip(drawn.ends, (drawn.nodes[0], drawn.nodes[-1]), strict=False)
    )


def _others(pattern: Pattern, panel: Panel, drawn: DrawnLine | None) -> list[DrawnLine]:
    """The other lines of a panel."""
    own = None if drawn is None else drawn.name
    return [line for line in pattern.lines if line.panel == panel.name and line.name != own]


def _square_places(chain: Chain, beside: Point) -> list[_OnEdge]:
    """Where a straight run to a point would leave the edge square, and where it would be level."""
    found: list[_OnEdge] = []
    foot, _ = chain.nearest(beside)
    if 1e-6 < foot < chain.length - 1e-6:
        found.append((foot, "square to the edge", ((chain.at(foot), beside),)))
    found += [
        (meeting.first, "level with the next node", ((meeting.point, beside),))
        for meeting in level_meetings(chain, beside.y)
    ]
    return found


def _snapped_handle(
    panel: Panel, drawn: DrawnLine, grip: Grip, to: Point, reach: float
) -> Snap | None:
    """A handle snaps to level, to the grain, and at an end square to the edge."""
    node = drawn.nodes[grip.index].at
    rays = [
        (node, Vector(1.0, 0.0), "runs level"),
        (node, Vector(0.0, 1.0), "runs along the grain"),
    ]
    if drawn.ends and grip.index in (0, len(drawn.nodes) - 1):
        end = drawn.ends[0 if grip.index == 0 else 1]
        across = panel.outline.edge(end.edge).chain.tangent(end.distance).left()
        rays.append((node, across, f"leaves {end.edge} square"))
    found = _nearest_ray(rays, to, reach * SHARE)
    return found if found is not None and found.at.distance_to(node) > reach else None


def _nearest(known: Iterable[_Line], value: float, near: float) -> _Line | None:
    close = [mark for mark in known if abs(mark[0] - value) <= near]
    return min(close, key=lambda mark: abs(mark[0] - value)) if close else None


def _nearest_ray(rays: Sequence[tuple[Point, Vector, str]], to: Point, near: float) -> Snap | None:
    best: tuple[float, Snap] | None = None
    for origin, way, words in rays:
        step = to - origin
        gap = abs(way.cross(step))
        if gap <= near and (best is None or gap < best[0]):
            at = origin + way * way.dot(step)
            best = gap, Snap(at, words, ((origin, at),))
    return None if best is None else best[1]


def _guide(at: Point, mark: _Line) -> tuple[tuple[Point, Point], ...]:
    return () if mark[2] is None else ((mark[2], at),)


def _node_words(drawn: DrawnLine | None, index: int) -> str:
    if drawn is None or not drawn.ends:
        return f"node {index + 1}"
    if index == 0:
        return "the start"
    return "the end" if index == len(drawn.nodes) - 1 else f"node {index + 1}"
