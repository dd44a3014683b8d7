"""The cut line: each sewing edge moved out by its allowance, joined at the corners.

What has not changed is the same object again, stretch by stretch, so that roofs, notches and
pictures made from it are known again when a line elsewhere is dragged.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

import msgspec

from studio.curves import Chain, Cubic, Outline, Point, tolerance
from studio.curves.cubics_meet import cubic_meetings
from studio.curves.offset import offset_left
from studio.design.joins import CornerName
from studio.errors import GeometryRefused
from studio.memo import remembered
from studio.sew.hollow import bridged, is_eaten
from studio.sew.joint import How, Run, joint
from studio.sew.sewn import CutEdge

CORNER = "corner"

_FOLDED: tuple[How, ...] = ("to-hem", "from-hem")


class _Parallel(msgspec.Struct, frozen=True):
    """A cubic moved out; `is_looped` when it is rounder than that and the loop is still in it."""

    chain: Chain
    is_looped: bool


class _Run(Run):
    """One of the cubics of an edge, by its index in the outline and its name."""

    __slots__ = ("edge", "is_looped", "name")

    def __init__(
        self, edge: int, name: str, source: Cubic, distance: float, moved: _Parallel
    ) -> None:
        super().__init__(source, distance, moved.chain)
        self.edge = edge
        self.name = name
        self.is_looped = moved.is_looped


def cut_line(
    outline: Outline,
    allowances: Sequence[float],
    folded: Sequence[int] = (),
    corners: Sequence[CornerName] = (),
    turn_ups: Mapping[int, float] | None = None,
) -> tuple[tuple[CutEdge, ...], tuple[str, ...]]:
    """The closed cut line, counter-clockwise, and sentences on what could not be made as asked.

    `allowances` in mm, one an edge, 0 or more; `folded` are indices of hem edges (a
    curved one, as a waist, is folded at each end along its direction there); `corners` say
    for each edge how its corner with the next is made, left out for mitres everywhere; `turn_ups`
    how high hems that are turned up again outside stand, mm, by their index. Each stretch lies
    within 0.01 mm of the true parallel; joins are exact to 1e-6.
    """
    trouble: list[str] = []
    runs, hems = _moved(outline, allowances), set(folded)
    # A hem mirrors what its neighbours come to be.
    for is_fold in (False, True) if hems else (False,):
        hows = [
            _how(one, two, hems, corners)
            for one, two in zip(runs, (*runs[1:], runs[0]), strict=True)
        ]
        for at, how in enumerate(hows):
            if (how in _FOLDED) == is_fold:
                _join(runs, at, how, turn_ups or {}, trouble)
        if any([run.is_looped or is_eaten(run) for run in runs]):
            runs = _without_loops(runs, trouble)
    return _assembled(runs, trouble), tuple(dict.fromkeys(trouble))


def _without_loops(runs: list[_Run], trouble: list[str]) -> list[_Run]:
    """The runs with what loops or was eaten between two of the same edge cut out; what cannot be
    is told.
    """
    kept: list[_Run] = []
    for edge, group in itertools.groupby(runs, key=lambda run: run.edge):
        of_edge = list(group)
        looped = {at for at, run in enumerate(of_edge) if run.is_looped}
        clear, unsolved = bridged(of_edge, looped)
        kept += clear
        if unsolved:
            name = next(run.name for run in clear if run.edge == edge)
            trouble.append(
                f"The allowance of {name} is wider than its hollow is round: make it smaller, or "
                "fair the edge."
            )
    return kept


def _moved(outline: Outline, allowances: Sequence[float]) -> list[_Run]:
    return [
        _Run(index, edge.name, cubic, distance, _parallel(cubic, distance))
        for index, (edge, distance) in enumerate(zip(outline.edges, allowances, strict=True))
        for cubic in edge.chain.cubics
    ]


def _parallel_of(cubic: Cubic, distance: float) -> _Parallel:
    if distance <= 0.0:
        return _Parallel(Chain((cubic,)), is_looped=False)
    offset = offset_left(cubic, -distance)
    if not offset.folds:
        return _Parallel(Chain(offset.cubics), is_looped=False)
    trimmed = _untailed(offset.cubics)
    return _Parallel(Chain(trimmed or offset.cubics), is_looped=trimmed is None)


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


def _how(one: _Run, two: _Run, hems: set[int], corners: Sequence[CornerName]) -> How:
    if one.edge == two.edge:
        return "mitred"
    if two.edge in hems:
        return "hem-to-hem" if one.edge in hems else "to-hem"
    if one.edge in hems:
        return "from-hem"
    return corners[one.edge] if corners else "mitred"


def _beyond(runs: Sequence[_Run], at: int, how: How, turn_up: float) -> tuple[Chain, ...]:
    """How the cut line of a hem's neighbour goes on away from the hem, nearest first, as far as it
    is mirrored in the fold; nothing where what lies beside the hem is long enough.
    """
    count, step = len(runs), -1 if how == "to-hem" else 1
    near = at if how == "to-hem" else (at + 1) % count
    depth = runs[(near - step) % count].distance
    # A seam that leans still rises by more than half of its length.
    needed = 2.0 * max(turn_up, depth - 2.0 * turn_up)
    beside = runs[near]
    if beside.chain.length >= needed:
        return ()
    beside.chain, beside.start, beside.stop = _trimmed(beside), 0.0, None
    found: list[Chain] = []
    reached = beside.chain.length
    for k in range(1, count):
        run = runs[(near + k * step) % count]
        if reached >= needed or run.edge != beside.edge or is_eaten(run):
            break
        corner = (run if step < 0 else runs[(near + k * step - 1) % count]).corner
        found += [Chain(corner)] if corner else []
        found.append(_trimmed(run))
        reached += run.chain.length
    return tuple(found)


def _trimmed(run: _Run) -> Chain:
    """What is left of a run between its corners; raises GeometryRefused where nothing is."""
    if run.start == 0.0 and run.stop is None:
        return run.chain
    return _between(run.chain, run.start, run.chain.length if run.stop is None else run.stop)


def _join(
    runs: Sequence[_Run], at: int, how: How, turn_ups: Mapping[int, float], trouble: list[str]
) -> None:
    """Make the corner after a run."""
    one, two = runs[at], runs[(at + 1) % len(runs)]
    turn_up = 0.0
    beyond: tuple[Chain, ...] = ()
    if how in _FOLDED:
        turn_up = turn_ups.get((two if how == "to-hem" else one).edge, 0.0)
        beyond = _beyond(runs, at, how, turn_up)
    made = joint(
        one.source,
        one.distance,
        one.chain,
        two.source,
        two.distance,
        two.chain,
        how,
        turn_up,
        beyond,
    )
    if two.stop is not None:
        # The last corner may move the start of the first run, whose end is trimmed already.
        two.stop += made.two.length - two.chain.length
    one.chain, one.stop, one.corner = made.one, made.stop, made.corner
    two.chain, two.start = made.two, made.start
    if made.is_unfolded:
        hem, beside = (two, one) if how == "to-hem" else (one, two)
        trouble.append(
            f"{hem.name} could not be folded at {beside.name}; its corner is mitred. Draw the two "
            "nearer to square there, or make the allowance smaller."
        )
    if made.is_short and one.edge == two.edge:
        # One is too short to reach: those beyond it meet.
        min(one, two, key=lambda run: run.chain.length).is_looped = True
    elif made.is_short:
        trouble.append(
            f"The allowances of {one.name} and {two.name} do not meet at their corner: "
            "one of the edges is shorter than the allowance."
        )


def _assembled(runs: list[_Run], trouble: list[str]) -> tuple[CutEdge, ...]:
    """Trimmed runs and corners end to end, gaps closed by straight steps, edge by edge."""
    stretches: list[tuple[str, tuple[Cubic, ...]]] = []
    for run in runs:
        try:
            stretches.append((run.name, _trimmed(run).cubics))
        except GeometryRefused:
            trouble.append(
                f"{run.name} is shorter than the allowances take away at its ends: make it longer, "
                "or the allowances smaller."
            )
            continue
        if run.corner:
            stretches.append((CORNER, run.corner))
    return _closed(stretches)


def _closed(stretches: list[tuple[str, tuple[Cubic, ...]]]) -> tuple[CutEdge, ...]:
    edges: list[tuple[str, tuple[Cubic, ...]]] = []
    for (name, cubics), (_, following) in zip(
        stretches, (*stretches[1:], stretches[0]), strict=True
    ):
        after = following[0].p0
        end = cubics[-1].p3
        gap = end.distance_to(after)
        if 0.0 < gap <= tolerance.OFFSET_MM:
            cubics = (*cubics[:-1], _ending_at(cubics[-1], after.x, after.y))
        if edges and edges[-1][0] == name:
            edges[-1] = (name, (*edges[-1][1], *cubics))
        else:
            edges.append((name, cubics))
        if gap > tolerance.OFFSET_MM:
            edges.append((CORNER, (_step(end.x, end.y, after.x, after.y),)))
    return tuple([_cut_edge(name, cubics) for name, cubics in edges])


def _ending_at_of(cubic: Cubic, x: float, y: float) -> Cubic:
    return cubic.with_ends(cubic.p0, Point(x, y))


def _step_of(x: float, y: float, after_x: float, after_y: float) -> Cubic:
    return Cubic.straight(Point(x, y), Point(after_x, after_y))


def _cut_edge_of(name: str, cubics: tuple[Cubic, ...]) -> CutEdge:
    return CutEdge(name, Chain(cubics))


def cut_outline_points(
    line: Sequence[CutEdge], accuracy: float = tolerance.FLAT_MM
) -> list[tuple[float, float]]:
    """Points round the cut line, the first not repeated."""
    points: list[tuple[float, float]] = []
    for edge in line:
        points.extend(edge.chain.polyline(accuracy)[:-1])
    return points


_parallel = remembered(_parallel_of, 3200)
_between = remembered(Chain.between, 3200)
_ending_at = remembered(_ending_at_of, 3200)
_step = remembered(_step_of, 800)
_cut_edge = remembered(_cut_edge_of, 1600)
