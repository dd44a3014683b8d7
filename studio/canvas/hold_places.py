"""Where the holds of a design lie on the sheet: one place each, for its mark and its number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from studio.curves import Point
from studio.cut.drawn import DrawnLine
from studio.design import holds
from studio.design.holds import Hold, LinePoint, lines_in


class HoldPlace(msgspec.Struct, frozen=True):
    """A hold by its index in the design, the panel and place (mm) it is marked at, how many marks
    stand at that place before it, and the lines it speaks of.
    """

    index: int
    hold: Hold
    panel: str
    at: Point
    nth: int
    lines: tuple[str, ...]


def hold_places(asked: Iterable[Hold], drawn: Iterable[DrawnLine]) -> list[HoldPlace]:
    """Each hold that speaks of lines that could be drawn, in the design's order."""
    known = {line.name: line for line in drawn}
    found: list[HoldPlace] = []
    for index, hold in enumerate(asked):
        first = known.get(lines_in(hold)[0])
        at = _place(hold, known)
        if first is None or at is None:
            continue
        nth = sum(other.panel == first.panel and other.at.distance_to(at) < 1.0 for other in found)
        found.append(HoldPlace(index, hold, first.panel, at, nth, lines_in(hold)))
    return found


def _place(hold: Hold, known: Mapping[str, DrawnLine]) -> Point | None:
    """At its point, between its two points, at its end, or at the middle of its line."""
    if isinstance(hold, holds.Fixed | holds.Slides | holds.FromCorner):
        return _point(hold.point, known)
    if isinstance(hold, holds.Smooth):
        return _point(LinePoint(hold.line, hold.node), known)
    if isinstance(hold, holds.Square | holds.CornersAdd):
        line = known.get(hold.line)
        return None if line is None else line.nodes[0 if hold.at == "start" else -1].at
    if isinstance(hold, holds.Length | holds.SameLength):
        line = known.get(hold.line)
        return None if line is None else line.chain.at(line.chain.length / 2.0)
    one, two = _point(hold.a, known), _point(hold.b, known)
    return None if one is None or two is None else one.toward(two, 0.5)


def _point(point: LinePoint, known: Mapping[str, DrawnLine]) -> Point | None:
    line = known.get(point.line)
    if line is None or not 0 <= point.node < len(line.nodes):
        return None
    node = line.nodes[point.node]
    return {"node": node.at, "in": node.handle_in, "out": node.handle_out}[point.part]
