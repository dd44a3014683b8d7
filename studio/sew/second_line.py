"""A second cut line on one pattern: the narrower allowance of a seam of left with right.

Left and right are cut from one pattern, but a felled centre seam is double on the one and single
on the other. The pattern is cut double; the single line is drawn inside it, and one side is
trimmed to it.
"""

from __future__ import annotations

from collections.abc import Sequence

from studio.curves import Chain, Cubic, meetings
from studio.curves.outline import Edge
from studio.sew.sewn import CutEdge
from studio.sew.topstitch import moved

_BEYOND = 40.0


def second_line(edge: Edge, width: float, cut: Sequence[CutEdge]) -> Chain:
    """The line `width` mm outside an edge, from cut line to cut line at its ends."""
    line = moved(edge.chain, -width)
    start, end = line.start, line.end
    long = Chain(
        (
            Cubic.straight(start + line.start_tangent * -_BEYOND, start),
            *line.cubics,
            Cubic.straight(end, end + line.end_tangent * _BEYOND),
        )
    )
    places = [meeting.first for stretch in cut for meeting in meetings(long, stretch.chain)]
    low = [place for place in places if place <= _BEYOND + width]
    high = [place for place in places if place >= long.length - _BEYOND - width]
    first = max(low, default=_BEYOND)
    last = min(high, default=long.length - _BEYOND)
    return long.between(first, last) if last - first > 1.0 else line
