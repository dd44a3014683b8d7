"""Parallels of chains: joined at corners, closed, prolonged, run out at their ends."""

from __future__ import annotations

from studio.curves import Chain, Cubic, meetings, tolerance
from studio.curves.offset import offset_left
from studio.memo import remembered

BEYOND = 30.0
"""A row is prolonged by so much, and by twice its distance, to find where it runs out, mm."""


def _moved_of(chain: Chain, distance: float) -> Chain:
    parts = [Chain(offset_left(cubic, distance).cubics) for cubic in chain.cubics]
    whole = parts[0]
    for part in parts[1:]:
        whole = joined(whole, part, distance)
    return whole


def joined(one: Chain, two: Chain, distance: float) -> Chain:
    """Two parallels as one: cut back where they cross, prolonged where they do not meet."""
    # Only the cubics beside the corner can meet there.
    corner = _corner(one.cubics[-2:], two.cubics[:2], distance)
    return Chain((*one.cubics[:-2], *corner, *two.cubics[2:]))


def _corner_of(
    before: tuple[Cubic, ...], after: tuple[Cubic, ...], distance: float
) -> tuple[Cubic, ...]:
    one, two = Chain(before), Chain(after)
    if one.end.distance_to(two.start) < tolerance.OFFSET_MM:
        return one.then(two.with_ends(one.end, two.end)).cubics
    reach = abs(distance) * 2.0 + BEYOND
    first, second = one.prolonged(0.0, reach), two.prolonged(reach, 0.0)
    middle = one.end.toward(two.start, 0.5)
    found = [m for m in meetings(first, second) if m.first > 0.0]
    if not found:
        return one.then(Chain.straight(one.end, two.start)).then(two).cubics
    best = min(found, key=lambda meeting: meeting.point.distance_to(middle))
    head, tail = first.between(0.0, best.first), second.between(best.second, second.length)
    return (*head.cubics, *tail.with_ends(head.end, tail.end).cubics)


def closed(chain: Chain, distance: float) -> Chain:
    """A row all round: opened at its middle, its two ends joined like any others."""
    cubics = chain.cubics
    if len(cubics) == 1 or chain.end.distance_to(chain.start) < tolerance.OFFSET_MM:
        return chain
    half = len(cubics) // 2
    turned = joined(Chain(cubics[half:]), Chain(cubics[:half]), distance)
    return turned.with_ends(turned.start, turned.start)


def _run_out_of(chain: Chain, before: Chain | None, after: Chain | None, distance: float) -> Chain:
    reach = abs(distance) * 2.0 + BEYOND
    long = chain.prolonged(reach, reach)
    low, high = reach, long.length - reach
    if before is not None:
        low += _off_start(covering(chain.cubics, reach), before, reach)
    if after is not None:
        high += _off_end(covering(chain.cubics[::-1], reach)[::-1], after, reach)
    return long.between(low, high) if high - low > 1.0 else chain


def covering(cubics: tuple[Cubic, ...], reach: float) -> tuple[Cubic, ...]:
    """As many cubics as are at least so long together, mm."""
    passed = 0.0
    for count, cubic in enumerate(cubics, 1):
        passed += cubic.length
        if passed >= reach:
            return cubics[:count]
    return cubics


def _off_start_of(cubics: tuple[Cubic, ...], edge: Chain, reach: float) -> float:
    """How far from its start (mm, negative before it) a row meets an edge; 0 when it does not."""
    return _nearest_meeting(Chain(cubics).prolonged(reach, 0.0), edge, reach, reach)


def _off_end_of(cubics: tuple[Cubic, ...], edge: Chain, reach: float) -> float:
    """How far from its end (mm, negative before it) a row meets an edge; 0 when it does not."""
    long = Chain(cubics).prolonged(0.0, reach)
    return _nearest_meeting(long, edge, long.length - reach, reach)


def _nearest_meeting(row: Chain, edge: Chain, place: float, reach: float) -> float:
    """How far behind a place of a row it meets an edge, nearest to that place; 0 when nowhere
    within `reach`.
    """
    found = [meeting.first - place for meeting in meetings(row, edge)]
    nearest = min(found, key=abs, default=0.0)
    return nearest if abs(nearest) <= reach else 0.0


_corner = remembered(_corner_of, 1600)
_off_start = remembered(_off_start_of, 800)
_off_end = remembered(_off_end_of, 800)

moved = remembered(_moved_of, 800)
"""The parallel of a chain, a distance to its left (mm; negative: right), its cubics joined."""

run_out = remembered(_run_out_of, 800)
"""A row (its chain, the chains before and after it, its distance in mm) run into the seams or lines
at its ends, where there are any.
"""
