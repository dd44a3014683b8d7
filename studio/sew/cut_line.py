"""The cut line: each sewing edge moved out by its allowance, joined at the corners.

Corner by corner, with a and b the unit directions in and out, di and dj the two allowances and
V the corner: the two moved tangents cross at V + (dj a - di b) / (a x b). Where that lies beyond
both moved edges the corner is mitred; where it lies inside one, that one is trimmed; in a hollow
corner both are trimmed at their meeting. A hem's corners are folded: the neighbour's cut line is
mirrored in the fold, so that the hem lies flat when it is turned up.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from studio.curves import Affine, Chain, Cubic, Outline, Point, Vector, meetings, tolerance
from studio.curves.meet import cubic_meetings
from studio.curves.offset import offset_left
from studio.design.joins import CornerName
from studio.errors import GeometryRefused
from studio.sew.sewn import CutEdge

CORNER = "corner"

_BEVEL_BEYOND = 4.0
"""A mitre longer than this many allowances is cut off straight."""

_STEP_BELOW = 0.02
"""Sine of a corner's turn under which two different allowances are joined by a step."""

_SMOOTH_BELOW = 1e-6

_SQUARED_FROM = 0.26
"""Sine of the least turn (15 degrees) at which an allowance can be cut off square."""

_SLIGHT = 0.5
"""Moved edges that overlap by less than this (mm) at a slight hollow are simply cut back by it:
the two cuts then lie within 0.01 of each other for any curve rounder than 12 mm."""


class _Run:
    """A moved cubic on its way to the cut line: trimmed at both ends, followed by a corner."""

    __slots__ = ("chain", "corner", "distance", "edge", "name", "source", "start", "stop")

    def __init__(self, edge: int, name: str, source: Cubic, distance: float) -> None:
        self.edge = edge
        self.name = name
        self.source = source
        self.distance = distance
        self.chain = Chain((source,))
        self.start = 0.0
        self.stop: float | None = None
        self.corner: list[Cubic] = []


def cut_line(
    outline: Outline,
    allowances: Sequence[float],
    folded: Sequence[int] = (),
    corners: Sequence[CornerName] = (),
) -> tuple[tuple[CutEdge, ...], tuple[str, ...]]:
    """The closed cut line, counter-clockwise, and sentences on what could not be made as asked.

    `allowances` in mm, one an edge, 0 or more; `folded` are indices of hem edges; `corners` say
    for each edge how its corner with the next is made, left out for mitres everywhere. Each
    stretch lies within 0.01 mm of the true parallel; joins are exact to 1e-6.
    """
    trouble: list[str] = []
    runs = _moved(outline, allowances, trouble)
    hems = {index for index in folded if outline.edges[index].chain.is_straight}
    count = len(runs)
    for k in range(count):
        one, two = runs[k], runs[(k + 1) % count]
        if two.edge in hems or one.edge in hems:
            done = _fold(one, two, hems, allowances)
            if done:
                continue
            trouble.append(f"The hem at {one.name} could not be folded; its corner is mitred.")
        elif one.edge != two.edge and corners and corners[one.edge] != "mitred":
            to_before = corners[one.edge] == "squared-to-before"
            if _squared(one, two, to_before=to_before):
                continue
        _corner(one, two, trouble)
    return _assembled(runs, trouble), tuple(trouble)


def _moved(outline: Outline, allowances: Sequence[float], trouble: list[str]) -> list[_Run]:
    runs = []
    for index, (edge, distance) in enumerate(zip(outline.edges, allowances, strict=True)):
        for cubic in edge.chain.cubics:
            run = _Run(index, edge.name, cubic, distance)
            if distance > 0.0:
                parallel = offset_left(cubic, -distance)
                pieces = parallel.cubics
                if parallel.folds:
                    trimmed = _untailed(pieces)
                    if trimmed is None:
                        trouble.append(f"The allowance of {edge.name} is wider than it is round.")
                    else:
                        pieces = trimmed
                run.chain = Chain(pieces)
            runs.append(run)
    return runs


def _untailed(pieces: tuple[Cubic, ...]) -> tuple[Cubic, ...] | None:
    """A moved curve without the loop it makes where the curve is too round; None if none found."""
    for gap in range(len(pieces) - 1, 0, -1):
        for i in range(len(pieces) - gap):
            j = i + gap
            for t, u in cubic_meetings(pieces[i], pieces[j]):
                shared = gap == 1 and t > 1.0 - 1e-9 and u < 1e-9
                if not shared:
                    head, tail = pieces[i].part(0.0, t), pieces[j].part(u, 1.0)
                    tail = tail.with_ends(head.p3, tail.p3)
                    return (*pieces[:i], head, tail, *pieces[j + 1 :])
    return None


def _corner(one: _Run, two: _Run, trouble: list[str]) -> None:
    a, b = one.source.tangent(1.0), two.source.tangent(0.0)
    turn, along = a.cross(b), a.dot(b)
    same = abs(one.distance - two.distance) < 1e-12
    if same and along > 0.0 and abs(turn) < _SMOOTH_BELOW:
        return
    if along > 0.0 and abs(turn) < _STEP_BELOW and not same:
        return
    if abs(turn) < _SMOOTH_BELOW:
        return
    beyond_one = (two.distance - one.distance * along) / turn
    beyond_two = (one.distance - two.distance * along) / turn
    if beyond_one >= -1e-9 and beyond_two >= -1e-9:
        _mitre(one, two, a, b, turn)
    elif max(abs(beyond_one), abs(beyond_two)) < _SLIGHT:
        one.stop = one.chain.length - max(0.0, -beyond_one)
        two.start = max(0.0, -beyond_two)
    elif not (_trim(one, two) or _trim_to_tangent(one, two, a, b, beyond_one < 0.0)):
        trouble.append(
            f"The allowances of {one.name} and {two.name} do not meet at their corner: "
            "one of the edges is shorter than the allowance."
        )


def _squared(one: _Run, two: _Run, *, to_before: bool) -> bool:
    """Cut the allowance of one edge off square to it, where its sewing line, prolonged, meets the
    other's cut line; False in a hollow corner and where the edges almost run on.
    """
    a, b = one.source.tangent(1.0), two.source.tangent(0.0)
    turn = a.cross(b)
    if turn < _SQUARED_FROM:
        return False
    corner = one.source.p3
    other = two.distance if to_before else one.distance
    reach = other / turn
    if reach > _BEVEL_BEYOND * max(one.distance, two.distance):
        return False
    way = a if to_before else -b
    chain = two.chain if to_before else one.chain
    end = chain.start if to_before else chain.end
    tangent = b * -1.0 if to_before else a
    prolonged = Chain.straight(end, end + tangent * (2.0 * reach + other + 1.0))
    ray = Chain.straight(corner, corner + way * (2.0 * reach + 1.0))
    inside = meetings(chain, ray)
    beyond = [] if inside else meetings(prolonged, ray)
    if not inside and not beyond:
        return False
    if to_before:
        foot = inside[0].point if inside else beyond[0].point
        two.start = inside[0].first if inside else 0.0
        outer = foot + a.right() * one.distance
        path = [one.chain.end, outer, foot, *([] if inside else [two.chain.start])]
    else:
        foot = inside[-1].point if inside else beyond[0].point
        if inside:
            one.stop = inside[-1].first
        outer = foot + b.right() * two.distance
        path = [*([] if inside else [one.chain.end]), foot, outer, two.chain.start]
    one.corner = [
        Cubic.straight(p, q)
        for p, q in itertools.pairwise(path)
        if p.distance_to(q) > tolerance.NOTHING_MM
    ]
    return True


def _mitre(one: _Run, two: _Run, a: Vector, b: Vector, turn: float) -> None:
    corner = one.source.p3
    tip = corner + (a * two.distance - b * one.distance) * (1.0 / turn)
    start, end = one.chain.end, two.chain.start
    if tip.distance_to(corner) > _BEVEL_BEYOND * max(one.distance, two.distance):
        return
    one.corner = [
        Cubic.straight(p, q)
        for p, q in ((start, tip), (tip, end))
        if p.distance_to(q) > tolerance.NOTHING_MM
    ]


def _trim(one: _Run, two: _Run) -> bool:
    """Cut both moved edges at their meeting nearest the corner."""
    found = meetings(one.chain, two.chain)
    if not found:
        return False
    corner = one.source.p3
    best = min(found, key=lambda meeting: meeting.point.distance_to(corner))
    one.stop, two.start = best.first, best.second
    return True


def _trim_to_tangent(one: _Run, two: _Run, a: Vector, b: Vector, trims_one: bool) -> bool:
    """Cut one moved edge where the other's tangent, prolonged, meets it."""
    reach = 6.0 * max(one.distance, two.distance)
    if trims_one:
        tangent = Chain.straight(two.chain.start + b * -reach, two.chain.start)
        found = meetings(one.chain, tangent)
        if not found:
            return False
        one.stop = max(found, key=lambda meeting: meeting.second).first
        one.corner = [Cubic.straight(one.chain.at(one.stop), two.chain.start)]
        return True
    tangent = Chain.straight(one.chain.end, one.chain.end + a * reach)
    found = meetings(two.chain, tangent)
    if not found:
        return False
    two.start = min(found, key=lambda meeting: meeting.second).first
    one.corner = [Cubic.straight(one.chain.end, two.chain.at(two.start))]
    return True


def _fold(one: _Run, two: _Run, hems: set[int], allowances: Sequence[float]) -> bool:
    """Fold the corner between a hem and its neighbour; False when the lines do not meet."""
    before = two.edge in hems
    hem, neighbour = (two, one) if before else (one, two)
    if neighbour.edge in hems:
        return False
    depth = allowances[hem.edge]
    toward = neighbour.chain if before else neighbour.chain.reversed()
    reach = toward.end_tangent * (2.0 * (depth + neighbour.distance))
    toward = Chain((*toward.cubics, Cubic.straight(toward.end, toward.end + reach)))
    corner = one.source.p3
    along = hem.source.tangent(0.0)
    far = along * (toward.length + depth)
    upper = _last_crossing(toward, corner + along.left() * depth, far)
    fold = _last_crossing(toward, corner, far)
    if upper is None or fold is None:
        return False
    if fold - upper <= tolerance.NOTHING_MM:
        return False
    turned = toward.between(upper, fold).transformed(Affine.mirror(corner, corner + along))
    kept = toward.between(0.0, fold)
    if before:
        one.chain, one.corner = kept, list(turned.reversed().cubics)
        hem.chain = Chain.straight(turned.start, hem.chain.end)
    else:
        neighbour.chain = kept.reversed()
        one.corner = list(turned.cubics)
        hem.chain = Chain.straight(hem.chain.start, turned.start)
    return True


def _last_crossing(chain: Chain, middle: Point, far: Vector) -> float | None:
    """Distance along a chain at which it last crosses a long straight line."""
    level = Cubic.straight(middle + far * -1.0, middle + far)
    for index in range(len(chain.cubics) - 1, -1, -1):
        found = cubic_meetings(chain.cubics[index], level)
        if found:
            return chain.distance_at(index, max(t for t, _ in found))
    return None


def _assembled(runs: list[_Run], trouble: list[str]) -> tuple[CutEdge, ...]:
    """Trimmed runs and corners end to end, gaps closed by straight steps, edge by edge."""
    stretches: list[tuple[str, list[Cubic]]] = []
    for run in runs:
        stop = run.chain.length if run.stop is None else run.stop
        try:
            chain = (
                run.chain
                if run.stop is None and run.start == 0.0
                else run.chain.between(run.start, stop)
            )
        except GeometryRefused:
            trouble.append(f"{run.name} is shorter than its allowances take away at its ends.")
            continue
        stretches.append((run.name, list(chain.cubics)))
        if run.corner:
            stretches.append((CORNER, list(run.corner)))
    return _closed(stretches)


def _closed(stretches: list[tuple[str, list[Cubic]]]) -> tuple[CutEdge, ...]:
    edges: list[CutEdge] = []
    count = len(stretches)
    for k, (name, cubics) in enumerate(stretches):
        after = stretches[(k + 1) % count][1][0].p0
        gap = cubics[-1].p3.distance_to(after)
        step: Cubic | None = None
        if gap > tolerance.OFFSET_MM:
            step = Cubic.straight(cubics[-1].p3, after)
        elif gap > 0.0:
            cubics[-1] = cubics[-1].with_ends(cubics[-1].p0, after)
        if edges and edges[-1].name == name:
            joined = (*edges[-1].chain.cubics, *cubics)
            edges[-1] = CutEdge(name, Chain(joined))
        else:
            edges.append(CutEdge(name, Chain(tuple(cubics))))
        if step is not None:
            edges.append(CutEdge(CORNER, Chain((step,))))
    return tuple(edges)


def cut_outline_points(
    line: Sequence[CutEdge], accuracy: float = tolerance.FLAT_MM
) -> list[tuple[float, float]]:
    """Points round the cut line, the first not repeated."""
    points: list[tuple[float, float]] = []
    for edge in line:
        points.extend(edge.chain.polyline(accuracy)[:-1])
    return points
