"""Where two chains meet."""

from __future__ import annotations

import msgspec

from studio.curves import tolerance
from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.cubics_meet import cubic_meetings
from studio.curves.point import Point
from studio.errors import GeometryRefused
from studio.memo import remembered


class Meeting(msgspec.Struct, frozen=True, gc=False):
    """A crossing: mm along the first chain, mm along the second, and the point."""

    first: float
    second: float
    point: Point


def meetings(first: Chain, second: Chain) -> list[Meeting]:
    """All crossings of two chains, sorted along the first; points within 1e-6 mm on both.

    Raises:
        GeometryRefused: two of their curves lie on each other over a stretch.
    """
    found: list[Meeting] = []
    near = second.curves_near(first.box, tolerance.MEET_MM)
    if not near:
        return found
    for i, one in enumerate(first.cubics):
        for j, two in near:
            for t, u in cubic_meetings(one, two):
                found.append(Meeting(first.distance_at(i, t), second.distance_at(j, u), one.at(t)))
    return _distinct(found)


def _distinct(found: list[Meeting]) -> list[Meeting]:
    """Meetings in order, each once: where two curves of a chain join, both are met."""
    if len(found) < 2:
        return found
    found.sort(key=lambda meeting: meeting.first)
    distinct: list[Meeting] = []
    for meeting in found:
        if not any(
            meeting.point.distance_to(other.point) < tolerance.CORNER_MM
            and abs(meeting.first - other.first) < tolerance.CORNER_MM
            for other in distinct
        ):
            distinct.append(meeting)
    return distinct


def crossings(chain: Chain, other: Chain) -> list[float]:
    """Where a chain meets another, mm along it; nowhere when it runs along that."""
    try:
        return [meeting.first for meeting in meetings(chain, other)]
    except GeometryRefused:
        return []


def level_meetings(chain: Chain, height: float) -> list[Meeting]:
    """Where a chain crosses the level line at a height (mm), sorted along it; mm along the level
    are counted from x = 0. Raises as `meetings`.
    """
    found: list[Meeting] = []
    for index, cubic in enumerate(chain.cubics):
        box = cubic.box
        if box.bottom - tolerance.MEET_MM <= height <= box.top + tolerance.MEET_MM:
            for t in _on_level(cubic, height):
                point = cubic.at(t)
                found.append(Meeting(chain.distance_at(index, t), point.x, point))
    return _distinct(found)


def _on_level_of(cubic: Cubic, height: float) -> tuple[float, ...]:
    """Parameters at which a curve crosses a level line, mm."""
    box = cubic.box
    level = Cubic.straight(Point(box.left - 10.0, height), Point(box.right + 10.0, height))
    return tuple([t for t, _ in cubic_meetings(cubic, level)])


_on_level = remembered(_on_level_of, 400)
"""A chain that is cut at one end crosses the level on the very curve it did before."""
