"""A line that keeps its distance from an edge once the darts that open there are closed: the lower
edge of a band of one width.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from msgspec.structs import replace

from studio.alter.closing import closing_moves, darts_on
from studio.block.panel import Dart, Panel
from studio.block.places import EdgePlace, place_on_edge
from studio.curves import Affine, Chain, Cubic, Edge, Point, Vector, meetings, tolerance
from studio.curves.fair import faired
from studio.curves.path import PathNode
from studio.cut.drawn import DrawnLine, Shut
from studio.cut.yoke import upper
from studio.design.lines import AnchoredPath, OnEdge, PlacedPath, StyleLine
from studio.errors import GeometryRefused

_STRAYS_MM = 0.003
"""How far from where it is asked to be a line may run: a third of what is promised, for it is asked
only half-way between places where it runs there exactly."""

_COUNTS = (1, 2, 4, 8, 16, 32)
"""How many cubics a line may have beside one curve."""

_WELD_MM = 0.02
"""Parallels to two curves that run on into one another are this near at their joint."""

_ROUNDS = 4


def draw_beside(line: StyleLine, path: AnchoredPath, panel: Panel) -> DrawnLine:
    """Lay a line that keeps its distance from an edge on a panel.

    With the darts closed it lies within 0.01 mm of where it was asked to be, measured square to the
    edge redrawn fair; its ends lie where it meets the edges beside. On the panel, whose darts are
    open, it is one fair curve, the closest to what it is with them closed.

    Raises:
        GeometryRefused: its ends do not lie on the two edges beside it, both measured from it, or
            past the end of these; it would cross itself, or pass beside a dart.
    """
    before, edge, after = _edges(line, path, panel)
    from_before = path.start if path.start.edge == before.name else path.end
    from_after = path.end if from_before is path.start else path.start
    near = before.length - place_on_edge(panel, from_before).distance
    far = place_on_edge(panel, from_after).distance
    if min(near, far) < 1.0:
        raise GeometryRefused(f"{line.name} lies on {edge.name}: move it down.", where=line.name)
    darts = tuple(_reaching(dart, edge, near, far) for dart in darts_on(panel, edge.name))
    moves = closing_moves(darts)
    top = upper(edge.chain, darts) if darts else edge.chain
    beyond = max(near, far)
    low = _parallel(line, top, near, far).prolonged(beyond, beyond)
    first, on_before = _meeting(line, low, before.chain, top.start)
    last, on_after = _meeting(line, low, after.chain.transformed(moves[-1]), top.end)
    start, end = before.chain.at(on_before), after.chain.at(on_after)
    low = low.between(first, last).with_ends(start, moves[-1](end))
    shut = Shut(top, low, moves, darts)
    curve = faired(_opened(line, shut)).with_ends(start, end)
    ends = (EdgePlace(before.name, on_before), EdgePlace(after.name, on_after))
    if from_before is not path.start:
        curve, ends = curve.reversed(), ends[::-1]
    name = f"{line.name}.{line.stretches[0]}" if line.stretches else line.name
    return DrawnLine(
        line.name,
        line.panel,
        (Edge.whole(name, Chain((curve,))),),
        (
            PathNode(curve.p0, False, None, curve.p1),
            PathNode(curve.p3, False, curve.p2, None),
        ),
        Affine.frame(curve.p0, curve.p3 - curve.p0),
        ends,
        shut,
    )


def set_free(path: AnchoredPath, drawn: DrawnLine) -> AnchoredPath:
    """The same curve, told by its own handles; a path that runs beside no edge as it is."""
    if not path.beside:
        return path
    curve, back = drawn.chain.cubics[0], drawn.frame.inverse()
    return replace(
        path,
        start_handle=back.vector(curve.p1 - curve.p0),
        end_handle=back.vector(curve.p2 - curve.p3),
        beside="",
    )


def edge_to_keep_off(path: AnchoredPath | PlacedPath, panel: Panel) -> str:
    """The edge that a line with a shape of its own could keep its distance from: both of its ends
    are measured from there, on the two edges beside it. "" when there is none.
    """
    if not isinstance(path, AnchoredPath) or path.beside:
        return ""
    edges = panel.outline.edges
    for at, edge in enumerate(edges):
        beside = {edges[at - 1].name, edges[(at + 1) % len(edges)].name}
        if path.start.corner == path.end.corner == edge.name:
            return edge.name if {path.start.edge, path.end.edge} == beside else ""
    return ""


def kept_off(path: AnchoredPath, edge: str) -> AnchoredPath:
    """A path between the same ends that keeps its distance from an edge, its own shape gone."""
    return AnchoredPath(path.start, path.end, beside=edge)


def _edges(line: StyleLine, path: AnchoredPath, panel: Panel) -> tuple[Edge, Edge, Edge]:
    """The edge before the one that a line runs beside, that one, and the one after it."""
    edges = panel.outline.edges
    for at, edge in enumerate(edges):
        before, after = edges[at - 1], edges[(at + 1) % len(edges)]
        if edge.name == path.beside:
            is_beside = {path.start.edge, path.end.edge} == {before.name, after.name}
            if is_beside and _from(path.start, edge) and _from(path.end, edge):
                return before, edge, after
            raise GeometryRefused(
                f"{line.name} runs beside {edge.name}: its ends are told from there, on "
                f"{before.name} and {after.name}.",
                where=line.name,
            )
    raise GeometryRefused(f"{panel.name} has no edge {path.beside}.", where=line.name)


def _from(place: OnEdge, edge: Edge) -> bool:
    return place.corner == edge.name


def _reaching(dart: Dart, edge: Edge, near: float, far: float) -> Dart:
    """A dart drawn on along its axis, when it ends before the line, until it reaches it: what lies
    above the line is then closed all the way down.
    """
    middle = dart.first.toward(dart.last, 0.5)
    share = edge.chain.distance_of(dart.first) / edge.length
    wanted, point = near + (far - near) * share, dart.point
    for _ in range(_ROUNDS):
        off = edge.chain.nearest(point)[1]
        if off >= wanted - tolerance.MEET_MM:
            # The very dart where it reaches: what is closed by it is remembered.
            return dart if point is dart.point else replace(dart, point=point)
        point = middle + (point - middle) * (wanted / max(off, 1e-3))
    return replace(dart, point=point)


def _parallel(line: StyleLine, top: Chain, near: float, far: float) -> Chain:
    """The curve to the left of another, `near` mm off its start, `far` off its end, and evenly
    between.
    """
    slope = (far - near) / top.length
    runs = []
    for start, curve in zip(top.starts, top.cubics, strict=True):
        run = _beside(curve, near + slope * start, slope)
        if run is None:
            raise GeometryRefused(
                f"{line.name} lies so far down that it would cross itself: move it up.",
                where=line.name,
            )
        runs.append(run)
    return _welded(runs)


def _beside(curve: Cubic, near: float, slope: float) -> tuple[Cubic, ...] | None:
    """What lies to the left of a curve, `near` mm off its start and `slope` more each mm along it:
    cubics that agree with that at their ends in place and direction, as few as it takes to stray no
    more than `_STRAYS_MM` half-way between them; None where it would fold.

    They are as smooth as the curve is. A parallel fitted to it by fewer has been seen to bend so
    sharply between two of them that its own allowance could not be drawn.
    """
    for count in _COUNTS:
        marks = [_mark(curve, k / (2 * count), near, slope) for k in range(2 * count + 1)]
        if any(ahead <= 0.0 for _, _, ahead in marks):
            return None
        ends = [(at, step * (1.0 / count)) for at, step, _ in marks[::2]]
        run = tuple(_hermite(*one, *two) for one, two in itertools.pairwise(ends))
        off = max(
            abs(step.unit().cross(cubic.at(0.5) - at))
            for cubic, (at, step, _) in zip(run, marks[1::2], strict=True)
        )
        if off <= _STRAYS_MM:
            break
    return run


def _mark(curve: Cubic, t: float, near: float, slope: float) -> tuple[Point, Vector, float]:
    """Where what lies beside a curve is at a parameter of it, and its derivative by that; and how
    far it goes on for each mm of the curve, but for the slope: nothing, or back, where it folds.
    """
    off = near + slope * curve.length_to(t)
    along = curve.tangent(t)
    ahead = 1.0 - off * curve.curvature(t)
    step = (along * ahead + along.left() * slope) * curve.derivative(t).length
    return curve.at(t) + along.left() * off, step, ahead


def _hermite(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    return Cubic(start, start + leaving * (1.0 / 3.0), end + arriving * (-1.0 / 3.0), end)


def _welded(runs: Sequence[tuple[Cubic, ...]]) -> Chain:
    """Parallels to the curves of one edge as one chain: as they are where the edge runs on, as one
    fair curve where it bends and they do not meet.
    """
    gaps = [one[-1].p3.distance_to(two[0].p0) for one, two in itertools.pairwise(runs)]
    if any(gap > _WELD_MM for gap in gaps):
        return Chain((faired([Chain(run) for run in runs]),))
    cubics: list[Cubic] = []
    for first, *others in runs:
        begins = cubics[-1].p3 if cubics else first.p0
        cubics += [first.with_ends(begins, first.p3), *others]
    return Chain(tuple(cubics))


def _meeting(line: StyleLine, low: Chain, edge: Chain, corner: Point) -> tuple[float, float]:
    """Where the line meets an edge beside it, mm along both: nearest to the corner above."""
    hits = meetings(low, edge)
    if not hits:
        raise GeometryRefused(
            f"{line.name} does not reach the edges beside it: move it up.", where=line.name
        )
    met = min(hits, key=lambda hit: hit.point.distance_to(corner))
    return met.first, met.second


def _opened(line: StyleLine, shut: Shut) -> list[Chain]:
    """The stretches of the line between the darts, each where it lies when they are open."""
    places = [0.0]
    for dart, move in zip(shut.darts, shut.moves, strict=False):
        point, end = move(dart.point), move(dart.first)
        hits = meetings(shut.low, Chain.straight(point + (point - end) * 0.5, end))
        if not hits or hits[0].first <= places[-1]:
            raise GeometryRefused(
                f"{line.name} passes beside {dart.name}: bring it under the dart, or across it.",
                where=line.name,
            )
        places.append(hits[0].first)
    places.append(shut.low.length)
    return [
        shut.low.between(one, two).transformed(move.inverse())
        for (one, two), move in zip(itertools.pairwise(places), shut.moves, strict=True)
    ]
