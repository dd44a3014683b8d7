"""Corners of the cut line: how two moved edges are joined.

With a and b the unit directions in and out, di and dj the two allowances and V the corner: the two
moved tangents cross at V + (dj a - di b) / (a x b). Where that lies beyond both moved edges the
corner is mitred; where it lies inside one, that one is trimmed; in a hollow corner both are trimmed
at their meeting. A hem's corners are folded: the neighbour's cut line is mirrored in the fold, so
that the hem lies flat when it is turned up; that of a turn-up in each of its three folds.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Literal, TypeAlias

import msgspec

from studio.curves import Affine, Chain, Cubic, Meeting, Point, Vector, meetings, tolerance
from studio.curves.cubics_meet import cubic_meetings
from studio.memo import remembered

LONGEST_MITRE = 4.0
"""A mitre longer than this many allowances is cut off straight."""

_STEP_BELOW = 0.02
"""Sine of a corner's turn under which two different allowances are joined by a step."""

_SMOOTH_BELOW = 1e-6

_SQUARED_FROM = 0.26
"""Sine of the least turn (15 degrees) at which an allowance can be cut off square."""

_SLIGHT = 0.5
"""Moved edges that overlap by less than this (mm) at a slight hollow are simply cut back by it:
the two cuts then lie within 0.01 of each other for any curve rounder than 12 mm."""

How: TypeAlias = Literal[
    "mitred", "squared-to-before", "squared-to-after", "to-hem", "from-hem", "hem-to-hem"
]
"""How a corner is to be made; one beside a hem is folded."""


class Joint(msgspec.Struct, frozen=True):
    """A corner made: the moved curves before and after it as they then are, where the one stops and
    the other starts (mm along; None at its end), what joins them, and whether the fold that was
    asked for, or any corner, could not be made.
    """

    one: Chain
    stop: float | None
    corner: tuple[Cubic, ...]
    two: Chain
    start: float
    is_unfolded: bool
    is_short: bool


class Run:
    """A moved cubic on its way to the cut line: trimmed at an end, perhaps followed by a corner."""

    __slots__ = ("chain", "corner", "distance", "source", "start", "stop")

    def __init__(self, source: Cubic, distance: float, chain: Chain) -> None:
        self.source = source
        self.distance = distance
        self.chain = chain
        self.start = 0.0
        self.stop: float | None = None
        self.corner: tuple[Cubic, ...] = ()


def _joint_of(
    one_source: Cubic,
    one_width: float,
    one_chain: Chain,
    two_source: Cubic,
    two_width: float,
    two_chain: Chain,
    how: How,
    turn_up: float = 0.0,
    beyond: tuple[Chain, ...] = (),
) -> Joint:
    """The corner where two cubics of an outline meet, both moved out by their allowance (mm); a hem
    may stand turned up by `turn_up` mm. `beyond` is how the cut line of a hem's neighbour goes on
    away from the hem, nearest first: what lies beside a hem may be shorter than that is deep.
    """
    one, two = Run(one_source, one_width, one_chain), Run(two_source, two_width, two_chain)
    is_made = _as_asked(one, two, how, turn_up, beyond)
    is_short = not is_made and not _plain(one, two)
    is_unfolded = not is_made and how in ("to-hem", "from-hem", "hem-to-hem")
    return Joint(one.chain, one.stop, one.corner, two.chain, two.start, is_unfolded, is_short)


def _as_asked(one: Run, two: Run, how: How, turn_up: float, beyond: tuple[Chain, ...]) -> bool:
    """Make a corner that is not a mitre; False when it is one, or cannot be made."""
    if how in ("to-hem", "from-hem"):
        return _fold(one, two, turn_up, beyond, to_hem=how == "to-hem")
    if how in ("squared-to-before", "squared-to-after"):
        return _squared(one, two, to_before=how == "squared-to-before")
    return False


def _plain(one: Run, two: Run) -> bool:
    """Mitre or trim a corner; False when the moved edges do not meet."""
    a, b = one.source.tangent(1.0), two.source.tangent(0.0)
    turn, along = a.cross(b), a.dot(b)
    is_same = abs(one.distance - two.distance) < 1e-12
    if abs(turn) < _SMOOTH_BELOW or (along > 0.0 and abs(turn) < _STEP_BELOW and not is_same):
        return True
    beyond_one = (two.distance - one.distance * along) / turn
    beyond_two = (one.distance - two.distance * along) / turn
    if beyond_one >= -1e-9 and beyond_two >= -1e-9:
        _mitre(one, two, a, b, turn)
        return True
    if max(abs(beyond_one), abs(beyond_two)) < _SLIGHT:
        one.stop = one.chain.length - max(0.0, -beyond_one)
        two.start = max(0.0, -beyond_two)
        return True
    return _trim(one, two) or _trim_to_tangent(one, two, a, b, beyond_one < 0.0)


def _squared(one: Run, two: Run, *, to_before: bool) -> bool:
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
    if reach > LONGEST_MITRE * max(one.distance, two.distance):
        return False
    way = a if to_before else -b
    chain = two.chain if to_before else one.chain
    end = chain.start if to_before else chain.end
    tangent = b * -1.0 if to_before else a
    ray = Chain.straight(corner, corner.off(way, 2.0 * reach + 1.0))
    inside = meetings(chain, ray)
    beyond: list[Meeting] = []
    if not inside:
        beyond = meetings(Chain.straight(end, end.off(tangent, 2.0 * reach + other + 1.0)), ray)
        if not beyond:
            return False
    if to_before:
        foot = inside[0].point if inside else beyond[0].point
        two.start = inside[0].first if inside else 0.0
        outer = foot.off(a.right(), one.distance)
        path = [one.chain.end, outer, foot, *([] if inside else [two.chain.start])]
    else:
        foot = inside[-1].point if inside else beyond[0].point
        if inside:
            one.stop = inside[-1].first
        outer = foot.off(b.right(), two.distance)
        path = [*([] if inside else [one.chain.end]), foot, outer, two.chain.start]
    one.corner = _straights(path)
    return True


def _mitre(one: Run, two: Run, a: Vector, b: Vector, turn: float) -> None:
    corner = one.source.p3
    tip = corner.off(a, two.distance / turn).off(b, -one.distance / turn)
    start, end = one.chain.end, two.chain.start
    if tip.distance_to(corner) > LONGEST_MITRE * max(one.distance, two.distance):
        return
    one.corner = _straights((start, tip, end))


def _straights(path: Sequence[Point]) -> tuple[Cubic, ...]:
    return tuple(
        Cubic.straight(p, q)
        for p, q in itertools.pairwise(path)
        if p.distance_to(q) > tolerance.NOTHING_MM
    )


def _trim(one: Run, two: Run) -> bool:
    """Cut both moved edges at their meeting nearest the corner."""
    found = meetings(one.chain, two.chain)
    if not found:
        return False
    corner = one.source.p3
    best = min(found, key=lambda meeting: meeting.point.distance_to(corner))
    one.stop, two.start = best.first, best.second
    return True


def _trim_to_tangent(one: Run, two: Run, a: Vector, b: Vector, trims_one: bool) -> bool:
    """Cut one moved edge where the other's tangent, prolonged, meets it."""
    reach = 6.0 * max(one.distance, two.distance)
    if trims_one:
        tangent = Chain.straight(two.chain.start.off(b, -reach), two.chain.start)
        found = meetings(one.chain, tangent)
        if not found:
            return False
        one.stop = max(found, key=lambda meeting: meeting.second).first
        one.corner = (Cubic.straight(one.chain.at(one.stop), two.chain.start),)
        return True
    tangent = Chain.straight(one.chain.end, one.chain.end.off(a, reach))
    found = meetings(two.chain, tangent)
    if not found:
        return False
    two.start = min(found, key=lambda meeting: meeting.second).first
    one.corner = (Cubic.straight(one.chain.end, two.chain.at(two.start)),)
    return True


def _fold(one: Run, two: Run, turn_up: float, beyond: tuple[Chain, ...], *, to_hem: bool) -> bool:
    """Fold the corner between a hem and its neighbour; False when the lines do not meet."""
    hem, neighbour = (two, one) if to_hem else (one, two)
    toward = neighbour.chain if to_hem else neighbour.chain.reversed()
    reach = toward.end_tangent * (2.0 * (hem.distance + neighbour.distance))
    toward = Chain((*toward.cubics, Cubic.straight(toward.end, toward.end + reach)))
    farther = [chain if to_hem else chain.reversed() for chain in reversed(beyond)]
    whole = _end_to_end((*farther, toward))
    corner = one.source.p3
    along = hem.source.tangent(0.0 if to_hem else 1.0)
    before = whole.length - toward.length
    fold = _at_height(whole, corner, along, 0.0)
    if fold is None or fold - before <= tolerance.NOTHING_MM:
        return False
    turned = _folded(whole, fold, corner, along, hem.distance, turn_up)
    if turned is None:
        return False
    kept = toward.between(0.0, fold - before)
    neighbour.chain = kept if to_hem else kept.reversed()
    corner_line, hem.chain = _on_to_hem(turned, hem, from_start=to_hem)
    one.corner = (corner_line if to_hem else corner_line.reversed()).cubics
    return True


def _on_to_hem(turned: Chain, hem: Run, *, from_start: bool) -> tuple[Chain, Chain]:
    """The folded line, from the fold to where it reaches the hem's cut line, and that from there
    on. A curved hem is trimmed where the folded line crosses it, and goes on straight to where the
    line ends beyond it.
    """
    if hem.source.is_straight:
        ends = (turned.end, hem.chain.end) if from_start else (hem.chain.start, turned.end)
        return turned, Chain.straight(*ends)
    met = meetings(turned, hem.chain)
    if not met:
        near = hem.chain.start if from_start else hem.chain.end
        if turned.end.distance_to(near) <= tolerance.NOTHING_MM:
            return turned, hem.chain
        return turned.then(Chain.straight(turned.end, near)), hem.chain
    first = met[0] if from_start else met[-1]
    line = turned.between(0.0, first.first)
    ends_at = (first.second, hem.chain.length) if from_start else (0.0, first.second)
    left = hem.chain.between(*ends_at)
    start, end = (line.end, left.end) if from_start else (left.start, line.end)
    return line, left.with_ends(start, end)


def _end_to_end(chains: Sequence[Chain]) -> Chain:
    """Chains one after the other as one, with straight steps where they do not meet."""
    cubics: list[Cubic] = []
    for chain in chains:
        if cubics and cubics[-1].p3.distance_to(chain.start) > tolerance.NOTHING_MM:
            cubics.append(Cubic.straight(cubics[-1].p3, chain.start))
        cubics += chain.cubics
    return Chain(tuple(cubics))


def _folded(
    toward: Chain, fold: float, corner: Point, along: Vector, depth: float, turn_up: float
) -> Chain | None:
    """The neighbour's cut line from the fold on outwards, mirrored in it and, of a turn-up, in the
    folds at its height and at twice that: so far below the hem as the cloth lies above it when all
    is folded. None where the neighbour does not reach as high.
    """
    mirror = Affine.mirror(corner, corner + along)
    if turn_up <= 0.0:
        return _stretch(toward, fold, corner, along, (0.0, depth), mirror)
    lower = along.right() * (2.0 * turn_up)
    down = Affine(dx=lower.x, dy=lower.y)
    outer, inner = min(turn_up, depth), min(2.0 * turn_up, depth)
    parts = [_stretch(toward, fold, corner, along, (0.0, outer), mirror)]
    if inner > outer:
        back = (turn_up, 2.0 * turn_up - inner)
        parts.append(_stretch(toward, fold, corner, along, back, down))
    if depth > inner:
        inside = (0.0, depth - inner)
        parts.append(_stretch(toward, fold, corner, along, inside, mirror.then(down)))
    whole: Chain | None = None
    for part in parts:
        if part is None:
            return None
        whole = part if whole is None else whole.then(part.with_ends(whole.end, part.end))
    return whole


def _stretch(
    toward: Chain,
    fold: float,
    corner: Point,
    along: Vector,
    heights: tuple[float, float],
    move: Affine,
) -> Chain | None:
    """The neighbour's cut line from one height above the hem to another, moved."""
    places = [fold if high <= 0.0 else _at_height(toward, corner, along, high) for high in heights]
    start, end = places
    if start is None or end is None or abs(end - start) <= tolerance.NOTHING_MM:
        return None
    if start < end:
        return toward.between(start, end).transformed(move)
    return toward.between(end, start).reversed().transformed(move)


def _at_height(toward: Chain, corner: Point, along: Vector, high: float) -> float | None:
    """Distance along the neighbour's cut line at which it last lies so high above the hem."""
    return _last_crossing(toward, corner + along.left() * high, along * (toward.length + high))


def _last_crossing(chain: Chain, middle: Point, far: Vector) -> float | None:
    """Distance along a chain at which it last crosses a long straight line."""
    level = Cubic.straight(middle + far * -1.0, middle + far)
    for index in range(len(chain.cubics) - 1, -1, -1):
        found = cubic_meetings(chain.cubics[index], level)
        if found:
            return chain.distance_at(index, max(t for t, _ in found))
    return None


joint = remembered(_joint_of, 3200)
"""As `_joint_of`: most corners are as they were when a line elsewhere is dragged. What it is
remembered by it takes one by one: values that hold the three of a side would be new in every frame.
"""
